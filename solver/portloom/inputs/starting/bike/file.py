"""The questions of a bike in their order, and the file that their answers make."""

from collections.abc import Iterator

from portloom.inputs.starting.answers import Answers, rows
from portloom.inputs.starting.bike.engine import OF_ENGINE
from portloom.inputs.starting.bike.extras import OF_EXTRAS
from portloom.inputs.starting.bike.frame import OF_FRAME, OPENINGS
from portloom.inputs.starting.bike.known import figure, frame_of, lamps_of, others_of
from portloom.inputs.starting.bike.lamps import OF_LAMPS
from portloom.inputs.starting.bike.more import OF_MORE
from portloom.inputs.starting.bike.sits import OF_SITES
from portloom.inputs.starting.bike.supply import OF_SUPPLY
from portloom.inputs.starting.commented import for_editors
from portloom.inputs.starting.lines import file_of
from portloom.inputs.starting.question import Questions, lines_of

OF_BIKE: Questions = (*OF_FRAME, *OF_LAMPS, *OF_ENGINE, *OF_EXTRAS, *OF_MORE, *OF_SITES, *OF_SUPPLY)
"""All that is asked of a bike, in this order: each hangs on answers before it alone."""
ORDER = (
    "bike", "supply", "frame", "places", "loads", "later", "inputs", "alongside", "stand", "clutch", "brakes",
    "ignition", "pump_by", "engine_stop", "reels",
)  # fmt: skip
HEAD = """\
# Made by 'portloom new bike' from its builder's answers. Every key that there is: portloom keys bike
"""


def bike_file(answers: Answers) -> str:
    """Return the bike's file that complete answers make."""
    first = "".join(f"#   {number}. {what}\n" for number, what in enumerate(measure_first(answers), 1))
    return f"{for_editors('bike')}{HEAD}# Measure first:\n{first}{file_of(lines_of(OF_BIKE, answers), ORDER)}"


def measure_first(answers: Answers) -> Iterator[str]:
    """Return what is to be measured before a wire is cut, the most important first."""
    legs = frame_of(answers).legs
    left = len(legs) - len(rows(answers, "lengths")) - sum(leg.said for leg in legs)
    if left:
        yield f"the lengths marked 'measure' ({left} of {len(legs)}), by a string along the way"
    drawn = [load.name for load in others_of(answers) if not figure(answers, load)[1]]
    if drawn:
        yield "what the loads marked 'measure' draw, with a clamp meter"
    if any(not figure(answers, lamp)[1] for lamp in lamps_of(answers)):
        yield "what stands on each lamp that is marked 'usual', or on its cap"
    if not rows(answers, OPENINGS):
        yield "each hole that the loom goes through: write 'opening: 20 mm' at its leg"
    yield "each 'made', with a meter across the contact: safety hangs on it"
