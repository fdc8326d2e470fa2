"""Reading: from the text of a file, with positions, to a typed bike or unit, or to every mistake in it at once."""
