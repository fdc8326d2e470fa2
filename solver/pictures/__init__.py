"""Pictures of a plan as self-contained SVG: the loom over the frame, the circuit diagram, the cases as bars."""
