"""Plans as they lie on the bike: of the examples, and of random bikes; all are made up."""

from collections.abc import Iterator
from functools import cache

from oracle.random_bikes import FAMILIES, random_case
from outcomes import EXAMPLES, PROFILES
from portloom.base.clock import Clock
from portloom.explaining.solved import Solved, solve
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from slices import FEW, first_of, slices
from unasked import bike_from_text

FITTING = (
    ("harbour-trail", "eleven-way"),
    ("bare-single", "six-way"),
    ("dressed-tourer", "eleven-way"),
    ("market-parallel", "fourteen-way"),
    ("sidecar-hauler", "twenty-way"),
    ("winter-trail", "twenty-way"),
)
"""Every example, on a unit that does."""
EACH_FITTING = first_of(("bike", "unit"), FITTING, 2)
"""For tests that take an example: two that are soon planned every time, the others in the long part."""
RandomBikes = tuple[tuple[str, int], ...]
FITS = {
    "banks": 1005,
    "keyoff": 1005,
    **dict.fromkeys(("openings", "wires", "bundles", "cranking", "switched", "spurs"), 1002),
}
RANDOM: RandomBikes = tuple((family, FITS.get(family, FEW[0])) for family in FAMILIES)
"""One that fits of each family, so that none is thrown and planned for nothing."""
MORE_RANDOM: RandomBikes = tuple((family, seed) for seed in range(7000, 7012) for family in FAMILIES)
EACH_RANDOM = slices("random_bikes", RANDOM, MORE_RANDOM)
"""For tests that take random bikes, each with its family and seed."""


def solved(bike: str, unit: str) -> Solved | None:
    """Take a bike's and a unit's YAML; give the best plan, or None where nothing fits."""
    job = Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
    rules = rules_of(job)
    found = solve(job, rules, sites_of(job), Clock(None))
    return found if isinstance(found, Solved) else None


def laid_text(bike: str, unit: str) -> Laid:
    """Return the best plan of two YAML texts, which must be there."""
    found = solved(bike, unit)
    assert found is not None
    return found.laid


@cache
def laid_example(bike: str, unit: str) -> Laid:
    """Return the best plan of an example on a bundled profile."""
    return laid_text((EXAMPLES / f"{bike}.yaml").read_text("utf-8"), (PROFILES / f"{unit}.yaml").read_text("utf-8"))


@cache
def laid_random(family: str, seed: int) -> Laid | None:
    """Return the best plan of a random bike; None where nothing fits, or the file would be refused."""
    try:
        found = solved(*random_case(seed, family))
    except BadFile:
        return None
    return None if found is None else found.laid


def all_laid(random_bikes: RandomBikes) -> Iterator[Laid]:
    """Return the best plans of those random bikes that fit."""
    return filter(None, (laid_random(*which) for which in random_bikes))
