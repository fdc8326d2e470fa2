"""How long the search takes, beside other programs in the same run. Run on demand, never by pytest."""
