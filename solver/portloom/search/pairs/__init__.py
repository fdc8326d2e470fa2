"""Two units in place of one: where both sit, with which main fuses, and who is on which."""
