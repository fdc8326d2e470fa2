"""Why nothing fits, what would make it fit, and why not: conflicts, fixes, wishes."""
