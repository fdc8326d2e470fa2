"""Inputs and places: each is there for something."""

from collections.abc import Iterator

from solver.reading.amounts import several
from solver.reading.describing import misspelt
from solver.reading.problems import Flaw
from solver.reading.tree import Keyed, entries
from solver.words.bike import Place, Switch

DOES = ("operates", "tells")
FACES = ("front", "rear")


def input_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell inputs that do nothing, and places where no face of the unit meets a frame point."""
    for switch in entries(bike, "inputs"):
        if not several(switch, "operates") and not several(switch, "tells") and not misspelt(switch, Switch, DOES):
            yield Flaw.at(switch, "this input neither operates nor tells anything", "add 'operates' or 'tells'")
    for place in entries(bike, "places"):
        if not any(face in place.values for face in FACES) and not misspelt(place, Place, FACES):
            what = "this place has neither 'front' nor 'rear'"
            yield Flaw.at(place, what, "add the frame point that each face of the unit meets")
