"""What a time limit leaves: the best so far with its proven bound, and never 'impossible'."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from portloom.base.clock import Clock
from portloom.inputs.files import find_unit, read_unit
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import tableaux_of
from portloom.search.columns import SumRow
from portloom.search.feasibility import Impossible, NotKnown, any_plan
from portloom.search.places import Contender, Found, LimitReached, best_of
from portloom.search.solving import Disagreement, Outcome, Solve, Status
from portloom.search.tableau import Tableau, counted_out
from portloom.search.ties import FirstPlan
from unasked import read_bike

EXAMPLES = Path(__file__).parents[1] / "examples"


@cache
def choice() -> Tableau:
    """Return the choice at the first place of a small bike."""
    job = Job(read_bike(EXAMPLES / "bare-single.yaml"), read_unit(find_unit("six-way")))
    rules = rules_of(job)
    return tableaux_of(job, rules, sites_of(job))[0]


class Ended(Contender):
    """A place whose solve is known to end in a certain way; ``bound`` holds whatever the solver says."""

    again = Status.IMPOSSIBLE
    """What comes of the second proof that there is nothing better."""

    def __init__(self, status: Status, value: int | None, bound: int, promise: int = 0) -> None:
        """Take the end, and how much cheaper the place looks at first."""
        super().__init__(replace(choice()), lambda *_: None)
        self._bound = bound - promise
        chosen = (0,) * len(choice().columns) if value is not None else ()
        self._end = Outcome(status, value, bound, chosen)

    def at_once(self) -> None:
        """It takes a solve."""

    def solve(self, *_: object) -> Outcome:
        """End as it is known to."""
        return self._end

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below."""
        return self._bound

    def prove_again(self, *_: object) -> Status:
        """Prove that there is nothing better."""
        return self.again

    def first_of(self, *_: object) -> FirstPlan | Status:
        """Find its plan again."""
        return FirstPlan(self.choice, self._end.chosen)


class Stopped(Ended):
    """A place that is stopped for what was proved of it on the way, and ends with less."""

    def __init__(self, on_the_way: int, bound: int) -> None:
        """Take the bound that was proved on the way, and the one that it ends with."""
        super().__init__(Status.UNKNOWN, None, bound)
        self._on_the_way = on_the_way

    def solve(self, *asked: Any) -> Outcome:
        """Tell the bound, then end."""
        run: Callable[[], Solve] = asked[2]
        told = run().solver.proved
        assert told is not None
        told(self._on_the_way)
        return self._end


FOUND, BEST, UNKNOWN, IMPOSSIBLE = Status.FOUND, Status.BEST, Status.UNKNOWN, Status.IMPOSSIBLE


@pytest.mark.parametrize(
    ("ends", "value", "bound", "proven"),
    [
        ([(FOUND, 100, 80)], 100, 80, False),  # the limit came before the proof
        ([(BEST, 100, 100), (UNKNOWN, None, 90)], 100, 90, False),  # the other place may be better
        ([(BEST, 100, 100), (UNKNOWN, None, 101)], 100, 100, True),  # it can't be
        ([(UNKNOWN, None, 100), (BEST, 100, 100)], 100, 100, False),  # as good, and earlier in the file
        ([(BEST, 100, 100), (UNKNOWN, None, 100)], 100, 100, True),  # as good, and later in the file
        ([(IMPOSSIBLE, None, 30), (FOUND, 70, 60), (FOUND, 90, 65)], 70, 30, False),  # once is not proved
    ],
)
def test_a_plan_found_comes_with_what_is_proven(
    ends: list[tuple[Status, int | None, int]], value: int, bound: int, *, proven: bool
) -> None:
    """The best plan of all places, no more proven than the least bound of a place that may still beat it."""
    answer = best_of([Ended(*end) for end in ends], Clock(None))
    assert isinstance(answer, Found)
    assert (answer.cost, answer.bound, answer.proven) == (value, bound, proven)


@pytest.mark.parametrize(("on_the_way", "proven"), [(101, True), (99, False)])
def test_what_was_proved_on_the_way_counts(on_the_way: int, *, proven: bool) -> None:
    """A place that was stopped because it can't be the best is settled, with whatever bound its solve then ends."""
    answer = best_of([Ended(BEST, 100, 100), Stopped(on_the_way, 90)], Clock(None))
    assert isinstance(answer, Found)
    assert (answer.proven, answer.bound) == (proven, 100 if proven else 90)


def test_a_limit_is_never_called_impossible() -> None:
    """Where one place was not settled and none has a plan, the answer is the bound, not that nothing fits."""
    answer = best_of([Ended(IMPOSSIBLE, None, 70), Ended(UNKNOWN, None, 55)], Clock(None))
    assert answer == LimitReached(55)


class OnceOnly(Ended):
    """A place at which the limit comes before the second proof."""

    again = Status.UNKNOWN


class Contradicted(Ended):
    """A place at which the second proof finds a plan that the first says is none."""

    again = Status.FOUND


def test_what_is_not_proved_twice_is_said() -> None:
    """The best plan by one proof is not called proven, and its bound is what holds without the solver."""
    answer = best_of([Ended(BEST, 100, 100), OnceOnly(IMPOSSIBLE, None, 90)], Clock(None))
    assert isinstance(answer, Found)
    assert (answer.cost, answer.bound, answer.proven, answer.once) == (100, 90, False, True)
    assert best_of([OnceOnly(IMPOSSIBLE, None, 90)], Clock(None)) == LimitReached(90, once=True)


@pytest.mark.parametrize("other", [(IMPOSSIBLE, None, 90), (BEST, 120, 90)])
def test_a_place_is_not_discarded_on_one_word(other: tuple[Status, int | None, int]) -> None:
    """Where the second proof finds a plan, neither the other's nor that there is none is told."""
    for places in ([Ended(BEST, 100, 100), Contradicted(*other)], [Contradicted(*other)]):
        with pytest.raises(Disagreement):
            best_of(places, Clock(None))


def test_of_equal_places_the_first_in_the_file_wins() -> None:
    """Whichever place is solved first, of equally good ones the first in the file is taken."""
    for promise in (0, 50):
        places = [Ended(BEST, 100, 100, 10), Ended(BEST, 100, 100, promise)]
        answer = best_of(places, Clock(None))
        assert isinstance(answer, Found)
        assert answer.tableau is places[0].choice


class Lost(Ended):
    """A place whose best plan is not found again when ties are broken."""

    def __init__(self, why: Status) -> None:
        """Take why it is not."""
        super().__init__(BEST, 100, 100)
        self._why = why

    def first_of(self, *_: object) -> FirstPlan | Status:
        """Find no plan."""
        return self._why


def test_at_a_limit_ties_are_not_broken() -> None:
    """The plan is then the one that the race found."""
    answer = best_of([Lost(UNKNOWN)], Clock(60))
    assert isinstance(answer, Found)
    assert (answer.cost, answer.proven) == (100, True)


@pytest.mark.parametrize(("why", "seconds"), [(UNKNOWN, None), (IMPOSSIBLE, None), (IMPOSSIBLE, 60)])
def test_a_plan_that_is_not_found_again_is_an_error(why: Status, seconds: float | None) -> None:
    """A proof that no plan costs what one costs, or none without a limit, is never passed over."""
    with pytest.raises(Disagreement):
        best_of([Lost(why)], Clock(seconds))


@pytest.mark.parametrize(
    ("second", "verdict"), [(Status.IMPOSSIBLE, Impossible(certain=True)), (Status.UNKNOWN, NotKnown())]
)
def test_a_second_proof_that_the_limit_stops_is_none(
    second: Status, verdict: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first proof says that nothing fits; only a second one that ends makes that known."""
    # One of each two of three things, which no counting of one row shows to be impossible.
    in_turn = (SumRow(((one, 1), (other, 1)), 1, 1) for one, other in ((0, 1), (1, 2), (0, 2)))
    impossible = replace(choice(), rows=tuple(in_turn), links=())
    assert not counted_out(impossible)
    monkeypatch.setattr(Contender, "prove_again", lambda *_: second)
    assert any_plan((), [impossible], Clock(None), twice=True) == verdict
