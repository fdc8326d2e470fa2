"""Pictures: the loom over the frame, the circuit diagram, the cases as bars, labels."""
