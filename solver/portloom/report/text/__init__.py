"""Plans, explanations, answers and lists as plain text to a fixed width."""
