"""The search: circuits, columns, one model a place, and the proven best plan. Only this room loads ortools."""
