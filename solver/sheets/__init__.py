"""Sheets: plans and explanations as people read them."""
