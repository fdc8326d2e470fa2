"""Posted plans: read, matched with the bike's names, judged and answered."""
