"""Plans a motorcycle's electrics round one solid-state control unit."""
