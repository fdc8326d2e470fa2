"""A plan's wires as they are cut, and the lists that are made of them."""
