"""The sheets as HTML pages for the screen and for A4."""
