"""Colours for the wires: the best by the stated measure, proved, or the best found and the bound."""

from time import monotonic

from portloom.base.bike import Colour
from portloom.colours.count import measured
from portloom.colours.first import first_colours
from portloom.colours.question import COUNTS, Colouring, ColourMeasure, CountName, Question
from portloom.colours.swaps import swapped
from portloom.search.colour_model import ColourModel
from portloom.search.places import Disagreement

Colours = dict[str, Colour]


def coloured(question: Question, seconds: float | None = None) -> Colouring:
    """Return the best colours for the wires, or at a limit the best found.

    One count of the measure after the other is made least and kept. All together have a limit of effort that is the
    same on every machine; ``seconds`` is one more. From the first count that was not proved on, the bound is what
    was proved of it, and nought of what comes after it.
    Raises NoColour where the reels have none for a wire, and Disagreement if search and count differ.
    """
    ends = None if seconds is None else monotonic() + seconds
    colours = first_colours(question)
    model = ColourModel(question)
    bounds: list[int] = []
    for count in COUNTS:
        colours, bound = _improved(question, model, count, colours, ends)
        model.keep(_counted(question, count, colours))
        bounds.append(bound)
    return _answer(question, colours, bounds)


def _counted(question: Question, count: CountName, colours: Colours) -> int:
    return int(getattr(measured(question, colours), count))


def _improved(
    question: Question, model: ColourModel, count: CountName, colours: Colours, ends: float | None
) -> tuple[Colours, int]:
    """Return colours with the least of one count, and the bound on it; nothing is below nought."""
    reached = _counted(question, count, colours)
    model.aim(count, reached)
    if reached == 0:
        return colours, 0
    found, bound = model.least(colours, None if ends is None else ends - monotonic())
    best = min(colours, swapped(question, found), key=lambda each: measured(question, each))
    if bound > _counted(question, count, best):
        raise Disagreement(f"the search proves {bound} of {count}, and there are fewer")
    return best, bound


def _answer(question: Question, colours: Colours, bounds: list[int]) -> Colouring:
    measure = measured(question, colours)
    unproved = [at for at, reached in enumerate(measure.counts) if bounds[at] < reached]
    proved = unproved[0] + 1 if unproved else len(bounds)
    bound = ColourMeasure(*bounds[:proved], *[0] * (len(bounds) - proved))
    return Colouring(tuple((wire.key, colours[wire.key]) for wire in question.wires), measure, bound)
