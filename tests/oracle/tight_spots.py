"""Where random bikes are too tight for their wires, or lose too much on the way."""

import math

from .cheapest import cheapest
from .drafts import Draft, tidy
from .fittings import draw_a, worst_case_a
from .fuses import largest_within_ma
from .fusing import ample
from .shortages import driven
from .tightening import needed_um


def openings(made: Draft) -> None:
    """Make openings smaller than what the cheapest plan leads through, or than what every plan does."""
    found = cheapest(made)
    if found is None:
        return
    passed = sorted({number for wire in found.all for number in wire.run})
    for number in made.rng.sample(passed, min(len(passed), made.rng.randint(1, 3))):
        room = needed_um(made.rng.choice([found.all, found.every]), number) or needed_um(found.all, number)
        room = max(room * made.rng.choice([0.6, 0.8, 0.9, 0.97]), 1.25 * found.site.job.thin.diameter_um)
        made.bike["frame"]["legs"][number]["opening"] = f"{math.ceil(room / 10) / 100 + 1:g} mm"


def drops(made: Draft) -> None:
    """Allow little drop over long legs of few sizes."""
    for leg in made.bike["frame"]["legs"]:
        leg["length"] = made.odd_mm(300, 1500)
    made.bike["reels"] = made.rng.choice([["0.5 mm2", "1 mm2", "2.5 mm2"], ["0.75 mm2", "1.5 mm2"]])
    made.unit["feed"].pop("wire_max", None)
    classes = made.rng.sample(["headlamp", "position lamps", "other"], made.rng.randint(1, 3))
    made.bike["limits"] = {"drop": {word: made.rng.choice(["180 mV", "260 mV", "340 mV", "3 %"]) for word in classes}}


def terminals(made: Draft) -> None:
    """Let few outputs take the wires that there are."""
    made.bike["reels"] = made.rng.choice([["1 mm2", "2.5 mm2", "6 mm2"], ["1.5 mm2", "4 mm2"], ["0.75 mm2", "4 mm2"]])
    for output in made.unit["outputs"]:
        output["wire_max"] = made.rng.choice(["0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2"])
    if made.chance(0.3):
        made.unit["feed"]["wire_max"] = made.rng.choice(["0.75 mm2", "1 mm2", "2.5 mm2"])


def cranking(made: Draft) -> None:
    """Let loads that are on while the engine is cranked, or the unit itself, want more voltage than is left."""
    for item in made.rng.sample(driven(made), 3):
        item["when"] = ["key on", "cranking", "day", "night"]
        if made.chance(0.7):
            item["lowest"] = made.rng.choice(["8.4 V", "8.6 V", "8.7 V", "8.76 V", "8.79 V"])
    if made.chance(0.4):
        made.unit["feed"]["lowest"] = made.rng.choice(["8.6 V", "8.7 V", "8.8 V", "8.84 V"])
    for output in made.unit["outputs"]:
        output["resistance"] = made.rng.choice(["5 mohm", "20 mohm", "60 mohm"])


def main_fuse(made: Draft) -> None:
    """Let the feed's terminal, its hot legs or the unit take no main fuse as large as all draw, or as one trips at."""
    match made.rng.randint(0, 3):
        case 0:
            made.unit["feed"]["wire_max"] = made.rng.choice(["0.5 mm2", "0.75 mm2", "1 mm2"])
        case 1:
            for leg in made.bike["frame"]["legs"]:
                leg["ambient"] = made.rng.choice(["90 C", "100 C", "104 C"])
            made.unit["feed"]["wire_max"] = made.rng.choice(["1 mm2", "2.5 mm2", "4 mm2"])
        case 2:
            made.unit["feed"]["fuse_max"] = tidy(largest_within_ma(round(worst_case_a(made) * 1250)) / 1000)
        case _:
            most = max(draw_a(item)[0] for item in made.bike["loads"])
            made.unit["feed"]["fuse_max"] = ample(most)
            for output in made.unit["outputs"]:
                output["trip"] = [output["limit"]]
