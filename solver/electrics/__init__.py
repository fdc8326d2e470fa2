"""Electrics: one formula, one place, its source beside it."""
