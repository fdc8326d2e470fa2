"""What goes with the bike once it is wired: the bench test, its readings judged, the next owner's record."""
