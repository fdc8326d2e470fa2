"""Colours for the wires of a plan, chosen once it is known."""

from portloom.documents.wiring.colours import colour_notes, colour_question
from portloom.documents.wiring.lists import Lists, lists_of
from portloom.documents.wiring.pieces import wiring_of
from portloom.job.laid import Laid
from portloom.search.colouring import coloured


def coloured_lists(laid: Laid) -> Lists:
    """Return the lists of a plan with a colour for every wire that is cut, and how far the colours are proved best."""
    bike = laid.site.job.bike
    question = colour_question(bike, wiring_of(laid))
    found = coloured(question)
    return lists_of(laid, dict(found.colours), colour_notes(question, found, bike.frame.legs))
