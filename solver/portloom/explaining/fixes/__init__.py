"""Fixes: changes to a bike or a choice of unit that make a plan possible, each proved."""
