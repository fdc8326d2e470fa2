"""A rule that is put in the book is judged, told, compared and looked at in posts with nothing else changed.

The rule is made up: a lid that melts where more than 2.5 A flow through the unit in all. So are the bikes; their
figures are added up by hand.
"""

import sys
from collections.abc import Iterator, Sequence
from fractions import Fraction

import pytest

from near_bikes import near, wired
from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.comparing.prepared import PreparedBike
from portloom.comparing.reason import short_reason
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.review.matching import Posted
from portloom.review.posted import judge_post
from portloom.rules import book
from portloom.rules.clash import Clash
from portloom.rules.facts import At, Fact, FactKey
from portloom.rules.margins import LimitMargin
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.shapes import Addend, Budget, BudgetRow, Capacities, Capacity, Key, Rule
from portloom.rules.sums import margins_of_sums
from rule_bikes import LAMP, OTHER, OUT, SECOND, Texts, bike, unit
from unasked import bike_from_text

BEARS = MilliAmps(2500)
MELTS: FactKey = ("lid", "unit")


def _budgets(site: Site) -> list[Budget]:
    job = site.job
    rows: dict[Key, BudgetRow] = {
        number: BudgetRow(case.label, at_most=BEARS, fact=MELTS, case=case) for number, case in enumerate(job.cases)
    }

    def drawn(wired: WiredOutput) -> Iterator[Addend]:
        on = (number for number, case in enumerate(job.cases) if job.circuit_on(wired.circuit, case))
        return ((number, wired.circuit.current) for number in on)

    return [Budget(rows, lambda row, found: f"{row.subject}: {amperes(MilliAmps(found))} melt the lid", drawn)]


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    return margins_of_sums("lid", _budgets, laid, lambda _: ("lid", "the lid"))


def _facts(_: Job) -> Iterator[Fact]:
    yield Fact(MELTS, "lid", "lid", f"the lid bears {amperes(BEARS)}", At("unit", ("feed", "limit")))


def _capacities(job: Job) -> Iterator[Capacity]:
    yield Capacity(MELTS, BEARS, frozenset(output.name for output in job.unit.outputs))


def _look(_: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    wrong = [clash for clash in clashes if clash.rule == "lid"]
    return PostFinding("lid", "wrong" if wrong else "right", wrong[0].sentence if wrong else "it holds")


LID = Rule(
    "lid",
    "the lid from melting",
    "made up",
    about="fire",
    budgets=_budgets,
    capacities=Capacities(_capacities, lambda limits, _: f"the lid bears {amperes(limits[0].limit)}"),
    margins=_margins,
    facts=_facts,
    posts=OfPosts(first=0, look=FirstLook(0, _look)),
)


@pytest.fixture(autouse=True)
def _in_the_book(monkeypatch: pytest.MonkeyPatch) -> None:
    """Put the rule in the book, for everyone who has opened it."""
    everyone = [module for name, module in sys.modules.items() if name.startswith("portloom.")]
    for module in everyone:
        if getattr(module, "RULES", None) is book.RULES and module is not book:
            monkeypatch.setattr(module, "RULES", (*book.RULES, LID))
    monkeypatch.setattr(book, "RULES", (*book.RULES, LID))


def drawing(lamp: str, other: str) -> Texts:
    """Return a bike with two loads of these currents, on a unit with two outputs."""
    return bike(f"{LAMP}, current: {lamp}", f"{OTHER}, current: {other}"), unit(OUT, SECOND)


def test_it_is_judged() -> None:
    """The lid bears 1 A + 1.5 A, and not 1 A + 1.501 A."""
    assert wired(drawing("1 A", "1.5 A")) is not None
    assert wired(drawing("1 A", "1.501 A")) is None


def test_its_margin_is_told() -> None:
    """With 2.4 A of 2.5 A it is the tightest of all: 96 %, and 0.1 A left."""
    first = near(drawing("1 A", "1.4 A")).first
    assert (first.rule, first.subject, first.share, first.left) == ("lid", "lid", Fraction(24, 25), 100)
    assert first.sentence.startswith("the lid ")
    assert first.sentence.endswith(": 2.4 A of 2.5 A, 0.1 A left")


def test_it_holds_back_a_load_that_draws_more() -> None:
    """With 2.4 A a load may draw 0.1 A more; a milliampere above that melts the lid."""
    least = near(drawing("1 A", "1.4 A")).grows_least
    assert least is not None
    assert (least.load, least.by, least.rule) == ("lamp", 100, "lid")
    assert least.sentence.endswith("2.501 A melt the lid")


def test_it_is_a_reason_by_adding_up() -> None:
    """Two loads of 3 A together are too much for it, which no solver is asked."""
    texts = drawing("1 A", "2 A")
    on = PreparedBike(bike_from_text(texts[0], "bike")).on(unit_from_text(texts[1], "unit"))
    reason = short_reason(on)
    assert reason is not None
    assert (reason.sentence, reason.rules) == ("other and lamp draw 3 A together, the lid bears 2.5 A", ("lid",))


@pytest.mark.parametrize(("other", "state"), [("1.4 A", "right"), ("2 A", "wrong")])
def test_it_is_looked_at_first_in_a_post(other: str, state: str) -> None:
    """A posted plan is judged by it, and it comes first, as the rule says."""
    texts = drawing("1 A", other)
    job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
    verdict = judge_post(job, Posted({"out 1": ["lamp"], "out 2": ["other"]}))
    assert (verdict.looks[0].what, verdict.looks[0].state) == ("lid", state)
    assert [clash.rule for clash in verdict.clashes][:1] == ["lid"] * (state == "wrong")
    assert ("lid" in verdict.kept) is (state == "right")
