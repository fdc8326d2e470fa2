"""A folder of sheets on disk: whole or untouched, and nothing in it overwritten that is not ours."""
