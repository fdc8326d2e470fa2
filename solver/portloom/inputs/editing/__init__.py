"""Changes to the text of a bike's file; all else stays as it stands."""
