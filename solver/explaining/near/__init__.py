"""Near misses: where a plan has no slack, and what would break first."""
