"""Colours of wires as a question: which wires lie together, and what may tell them apart."""
