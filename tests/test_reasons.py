"""Why small bikes do not fit, word for word.

That what is told is true is tested elsewhere, by the independent program; here it is that it stays as it was read.
"""

import pytest

from calls import Portloom
from slices import third_of
from told_examples import DATA, GOLDEN, OWN, REASONS, unit_named

NOTHING_FITS = 1


@third_of(("bike", "unit"), REASONS, 0)
def test_text(portloom: Portloom, bike: str, unit: str, *, rewrite: bool) -> None:
    """What is said of a bike is the golden text; one that is missing fails."""
    ran = portloom("why", f"tests/data/reasons/{bike}.yaml", "--unit", unit_named(unit))
    assert (ran.returncode, ran.stderr) == (NOTHING_FITS, "")
    golden = GOLDEN / f"{bike}.txt"
    if rewrite:
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(ran.stdout, "utf-8")
    assert golden.exists(), "no golden text: run 'pytest tests/test_reasons.py --rewrite' and read what it writes"
    assert ran.stdout == golden.read_text("utf-8")


ASKED = {
    "engine-turning": ["how does the unit know that the engine turns?"],
    "one-brake-of-two": ["does the rear brake light the brake lamp too?"],
    "starts-in-gear": ["is there a side stand?", "what keeps the starter from cranking in gear?"],
}
"""Bikes that lack a switch which only their builders know of. Common practice, no source."""


@pytest.mark.parametrize("bike", ASKED)
def test_what_only_the_builder_knows_is_asked_and_not_explained(portloom: Portloom, bike: str) -> None:
    """A switch that is missing, or not told of, is no reason why nothing fits: the call ends with questions."""
    ran = portloom("why", f"tests/data/asked/{bike}.yaml", "--unit", "twenty-four-way")
    assert (ran.returncode, ran.stdout) == (2, "")
    asked = sorted(
        line.split(": ", 1)[1].partition("?")[0] + "?"
        for line in ran.stderr.splitlines()
        if ": " in line and not line.startswith("More: ")
    )
    assert asked == ASKED[bike]


def test_nothing_is_left_over() -> None:
    """Every golden text and every bike is one that a test compares, and every unit beside them is used."""
    bikes = sorted(bike for bike, _ in REASONS)
    assert sorted(path.stem for path in GOLDEN.iterdir()) == bikes
    assert sorted(path.stem for path in DATA.glob("*.yaml")) == bikes
    assert {path.stem for path in (DATA.parent / "asked").iterdir()} == ASKED.keys()
    assert {path.stem for path in OWN.iterdir()} <= {unit for _, unit in REASONS}
