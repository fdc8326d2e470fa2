"""Each command that writes is killed, interrupted, or finds the disk full, at each thing it does to the disk."""
