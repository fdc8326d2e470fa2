"""Rows kept in a file of comma-separated values, so that an interruption loses nothing."""
