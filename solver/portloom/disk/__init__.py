"""How what is written comes onto the disk: whole, or not at all, whatever ends the command in between."""
