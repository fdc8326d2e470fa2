"""What the wiring asks for beyond a plan: which wires lie together, and what may tell them apart."""
