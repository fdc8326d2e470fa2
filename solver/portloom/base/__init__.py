"""Quantities, sizes, the typed bike and unit, and the formulas and values of electrics, each with its source."""
