"""The rules: one module each, walked alike by search, checker and explanation."""
