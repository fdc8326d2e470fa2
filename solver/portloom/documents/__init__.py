"""A plan as data: every figure that people and programs are told."""
