"""Words and quantities: the typed bike, the typed unit, and the units of measure."""
