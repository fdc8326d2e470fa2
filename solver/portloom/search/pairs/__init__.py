"""Two units instead of one: where both sit, with which main fuses, and who is on which."""
