"""One module a rule, and the book that lists them."""
