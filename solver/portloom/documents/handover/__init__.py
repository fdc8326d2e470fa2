"""What goes with the bike: the bench test, its readings judged, the next owner's record."""
