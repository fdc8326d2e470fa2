"""From text with positions to typed files, or every mistake in them at once; and changes to their text."""
