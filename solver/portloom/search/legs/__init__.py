"""Which legs of the frame a loom uses, where each is worth something: the search over sets of legs."""
