"""What is not broken off: an interrupted command ends once nobody holds this, so that no file is left half-way."""

from threading import RLock

WRITING = RLock()
"""Held while files are written and put in their places."""
