"""The text of every example's plan, word for word; ``--rewrite`` writes it anew, to be read before it is kept.

The examples are made up; what is right about a plan is tested elsewhere, here it is that no word changes unseen.
"""

from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

from slices import later

ROOT = Path(__file__).parent.parent
GOLDEN = Path(__file__).parent / "golden"
FITS, DOES_NOT = 0, 1
PLANS = (
    ("bare-single", "six-way", FITS),
    ("harbour-trail", "eleven-way", FITS),
    ("dressed-tourer", "eleven-way", FITS),
    ("market-parallel", "fourteen-way", FITS),
    ("half-wired-single", "eleven-way", FITS),
    ("ringed-single", "eight-way", FITS),
    ("sidecar-hauler", "eleven-way", DOES_NOT),
    ("market-parallel", "eleven-way", DOES_NOT),
    ("winter-trail", "fourteen-way", DOES_NOT),
)
COMPARISONS = (
    ("harbour-trail", ("--headroom",), ("harbour-trail",)),
    ("two-units", ("--unit", "six-way", "--unit", "eight-way", "--two-units", "--headroom"), ("bare-single",)),
    (
        "three-bikes",
        ("--unit", "fourteen-way", "--unit", "twenty-way"),
        ("harbour-trail", "sidecar-hauler", "market-parallel"),
    ),
)
"""The text's name, what is asked, and the bikes."""


def _golden(bike: str, unit: str) -> Path:
    return GOLDEN / f"{bike}-on-{unit}.txt"


@pytest.mark.parametrize(("bike", "unit", "code"), PLANS)
def test_plan(
    portloom: Callable[..., CompletedProcess[str]], bike: str, unit: str, code: int, *, rewrite: bool
) -> None:
    """A plan's text is the golden one; one that is missing fails."""
    ran = portloom("plan", f"examples/{bike}.yaml", "--unit", unit, "--full")
    assert (ran.returncode, ran.stderr) == (code, "")
    is_golden(ran.stdout, _golden(bike, unit), rewrite=rewrite)


@pytest.mark.parametrize(("bike", "unit", "code"), PLANS)
def test_in_short(
    portloom: Callable[..., CompletedProcess[str]], bike: str, unit: str, code: int, *, rewrite: bool
) -> None:
    """What a plan prints where nothing else is asked is the golden text, too."""
    ran = portloom("plan", f"examples/{bike}.yaml", "--unit", unit)
    assert (ran.returncode, ran.stderr) == (code, "")
    if code == FITS:
        is_golden(ran.stdout, GOLDEN / "short" / f"{bike}-on-{unit}.txt", rewrite=rewrite)


@pytest.mark.parametrize(("name", "asked", "bikes"), [*COMPARISONS[1:], *later(COMPARISONS[:1])])
def test_comparison(
    portloom: Callable[..., CompletedProcess[str]],
    name: str,
    asked: tuple[str, ...],
    bikes: tuple[str, ...],
    *,
    rewrite: bool,
) -> None:
    """A comparison's text is the golden one."""
    ran = portloom("compare", *(f"examples/{bike}.yaml" for bike in bikes), *asked)
    assert (ran.returncode, ran.stderr) == (FITS, "")
    is_golden(ran.stdout, GOLDEN / "compare" / f"{name}.txt", rewrite=rewrite)


def is_golden(text: str, golden: Path, *, rewrite: bool) -> None:
    """Compare a text with the golden one, or write that anew."""
    if rewrite:
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(text, "utf-8")
    assert golden.exists(), "no golden text: run 'pytest tests/test_golden.py --rewrite' and read what it writes"
    assert text == golden.read_text("utf-8")


def test_no_golden_is_left_over() -> None:
    """Every golden text is one that a test compares, and every example has one."""
    assert sorted(GOLDEN.glob("*.txt")) == sorted(_golden(bike, unit) for bike, unit, _ in PLANS)
    short = sorted(f"{bike}-on-{unit}" for bike, unit, code in PLANS if code == FITS)
    assert sorted(path.stem for path in (GOLDEN / "short").glob("*.txt")) == short
    assert {path.stem for path in (GOLDEN / "compare").glob("*.txt")} == {name for name, *_ in COMPARISONS}
    assert {path.stem for path in (ROOT / "examples").glob("*.yaml")} == {bike for bike, _, _ in PLANS}
