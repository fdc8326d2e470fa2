"""A plan's wires as they are cut, and the lists made of them."""
