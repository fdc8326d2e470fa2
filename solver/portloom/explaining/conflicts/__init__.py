"""Finding conflicts: facts kept or dropped, the one question, the searches, the certificate."""
