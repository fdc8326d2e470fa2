"""Changing the text of a bike's file: all that is not changed stays as it stands."""
