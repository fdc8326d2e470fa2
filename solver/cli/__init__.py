"""The command line: a thin shell over the library."""
