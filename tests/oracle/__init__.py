"""A second, independent way to the cheapest plan: shares no code with `solver`."""
