"""Why small bikes do not fit, word for word.

That what is told is true is tested elsewhere, by the independent program; here it is that it stays as it was read.
"""

import pytest

from calls import Portloom
from told_examples import DATA, GOLDEN, OWN, REASONS, unit_named

NOTHING_FITS = 1


@pytest.mark.parametrize(("bike", "unit"), REASONS, ids=[bike for bike, _ in REASONS])
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


def test_nothing_is_left_over() -> None:
    """Every golden text and every bike is one that a test compares, and every unit beside them is used."""
    bikes = sorted(bike for bike, _ in REASONS)
    assert sorted(path.stem for path in GOLDEN.iterdir()) == bikes
    assert sorted(path.stem for path in DATA.glob("*.yaml")) == bikes
    assert {path.stem for path in OWN.iterdir()} <= {unit for _, unit in REASONS}
