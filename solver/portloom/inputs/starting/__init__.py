"""Files to start from: the commented ones, and those that are made of a builder's answers."""
