"""The fewest moves that make a posted plan sound, against every plan that there is.

The reference is ``oracle.mending``, which tries every load and switch on every port and shares no code with the
project. The bikes are random and small, with outputs of a kind and loads that are alike; they are made up.
"""

import random
from itertools import pairwise

import yaml

from oracle.job import Job as Reference
from oracle.mending import fewest
from oracle.profiles import read_unit
from oracle.reading import read_bike
from oracle.sites import every_site
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.review.check import check
from portloom.review.document import Repair
from portloom.review.matching import Posted
from portloom.review.posted import judge_post
from slices import first_of
from unasked import bike_from_text

POINTS = ("battery", "front", "middle", "rear")
LAMP = {"part": "position lamp", "power": "10 W", "kind": "led", "share": "small"}


def small_case(dice: random.Random) -> tuple[str, str]:
    """Throw a bike of five loads and two switches, and a unit with outputs of two kinds and inputs of two kinds."""
    legs = [{"between": pair, "length": f"{dice.randint(2, 9) * 100} mm"} for pair in pairwise(POINTS)]
    at = dice.choice(POINTS)
    loads = [
        {"name": "lamp one", "at": at, **LAMP},
        {"name": "lamp two", "at": dice.choice([at, dice.choice(POINTS)]), **LAMP},
        {"name": "heater", "at": dice.choice(POINTS), "current": f"{dice.choice([2, 5])} A", "kind": "heater"},
        {"name": "horn", "part": "horn", "at": dice.choice(POINTS), "current": "3 A", "kind": "horn"},
        {"name": "dash", "at": dice.choice(POINTS), "current": "1 A", **dice.choice([{}, {"share": "small"}])},
    ]
    bike = {
        "bike": "a small one",
        "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": "battery"}},
        "frame": {"legs": legs, "earth": ["middle"]},
        "places": [{"name": "here", "front": "front", "rear": "rear", "way_round": dice.choice(["fixed", "either"])}],
        "loads": loads,
        "inputs": [
            {"name": "key", "at": "front", "signal": "earth", "tells": "key"},
            {"name": "button", "at": "front", "signal": dice.choice(["earth", "supply"]), "operates": ["horn"]},
        ],
        "later": [],
    }
    modes = {"switch_modes": ["steady", "hold"]}
    strong = {"limit": "8 A", "peak": "90 A", "trip": ["4 A", "8 A"], "inductive": dice.random() < 0.7, **modes}
    weak = {"limit": "4 A", "peak": "40 A", "trip": ["2 A", "4 A"], "inductive": dice.random() < 0.7, **modes}
    weak |= {"face": "rear"}
    ports = [dice.choice([strong, strong, weak]) for _ in range(4)]
    unit = {
        "unit": "a small one",
        "feed": {"limit": f"{dice.choice([9, 15, 30])} A"},
        "outputs": [{"name": f"out {number}", **port} for number, port in enumerate(ports, 1)],
        "inputs": [{"name": f"in {n}", "accepts": dice.choice(["earth", ["earth", "supply"]])} for n in (1, 2, 3)],
    }  # fmt: skip
    return yaml.safe_dump(bike), yaml.safe_dump(unit)


def thrown(dice: random.Random, names: list[str], ports: list[str], missing: float) -> dict[str, list[str]]:
    """Throw who is on which port; some are on none."""
    posted: dict[str, list[str]] = {}
    for name in names:
        if dice.random() >= missing:
            posted.setdefault(dice.choice(ports), []).append(name)
    return posted


def random_post(dice: random.Random, job: Job) -> Posted:
    """Throw a post: outputs, and in half of them inputs too, some not."""
    outputs = thrown(dice, [load.name for load in job.loads.on_unit], [port.name for port in job.unit.outputs], 0.1)
    switches = [switch.name for switch in job.bike.inputs]
    inputs = thrown(dice, switches, [port.name for port in job.unit.inputs], 0.3) if dice.random() < 0.5 else {}
    return Posted(outputs, inputs)


def mended(job: Job, post: Posted) -> Repair | None:
    """Return what would mend a post, proved, and sound as it then stands; None where nothing is sound."""
    found = check(post, job.bike, job.unit, repair=True).repair
    if not isinstance(found, Repair):
        assert found == "nothing fits"
        return None
    assert found.proven
    after = Posted({p: list(held) for p, held in found.outputs}, {p: list(held) for p, held in found.inputs})
    assert judge_post(job, after).sound_at
    return found


def tried(texts: tuple[str, str], post: Posted) -> tuple[int, int] | None:
    """Return the moves and the cost by trying every plan."""
    reference = Reference(read_bike(texts[0]), read_unit(texts[1]))
    return fewest(reference, list(every_site(reference)), post.outputs, post.inputs)


@first_of("first", range(0, 60, 20), 1)
def test_fewest_moves_as_by_trying_every_plan(first: int) -> None:
    """As few moves, and as cheap, as the best of all plans; and none where none is sound."""
    ends: set[int | None] = set()
    for seed in range(first, first + 20):
        dice = random.Random(seed)
        texts = small_case(dice)
        job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
        post = random_post(dice, job)
        found, wanted = mended(job, post), tried(texts, post)
        assert (None if found is None else (found.moves, found.cost)) == wanted, seed
        ends.add(wanted if wanted is None else wanted[0])
    assert len(ends) >= 4
