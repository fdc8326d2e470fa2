"""Putting conflicts into words."""
