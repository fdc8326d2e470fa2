"""One bike on its units over its frame, with every figure that is the same in each of its plans."""
