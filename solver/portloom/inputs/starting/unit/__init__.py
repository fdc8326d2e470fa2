"""What is asked of a unit's data sheet, and the lines of the unit's file that the answers write."""
