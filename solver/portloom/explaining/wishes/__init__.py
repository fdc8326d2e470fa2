"""Wishes: a load on another port, the unit at another place, and what comes of them."""
