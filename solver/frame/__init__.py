"""The frame: its points and legs, shortest wires and shortest trees over them."""
