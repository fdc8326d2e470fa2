"""Plans worked out once more as in a spreadsheet: a small module a table, and nothing of the project in it."""
