"""Comparing: several bikes on several units, a row each, ranked."""
