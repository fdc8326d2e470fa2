"""How near a plan is to its limits."""
