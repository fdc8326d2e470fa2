"""What no single field can tell: checks of one entry against another, each on the tree of a file.

Each check passes over what can't be read at all, so that nothing is told twice.
"""
