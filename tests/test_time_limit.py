"""A time limit holds while a bike is read and set up, too, and what it leaves is a true bound.

No outside source: these are promises of the tool itself. No test waits for a limit longer than a blink.
"""

import subprocess
import sys
from pathlib import Path
from threading import Thread

import pytest

from calls import Portloom
from portloom.base.clock import NO_LIMIT, Clock, TimeIsUp
from portloom.base.quantities import Micrometres
from portloom.inputs.files import bike_from_text, find_unit, read_unit
from portloom.job.job import Job
from portloom.planning import plan as planning
from portloom.planning.plan import Unknown, plan
from portloom.review import check as checking
from portloom.review.check import check
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search import moves
from portloom.search.before import Before
from portloom.search.places import LimitReached
from small_bikes import OWN_SPARK, small_bike

BLINK = 0.02
"""Seconds."""


def many_loads(count: int, group: int) -> str:
    """Return the text of a bike with so many lamps, each a little brighter, so many of which may share an output."""
    loads = (f"{{name: lamp {n}, at: tail, current: {10 + n} mA, share: group {n // group}}}" for n in range(count))
    return small_bike(loads, (), OWN_SPARK, "stand: none", "engine_stop: key")


def for_ever() -> None:
    """Do something that does not end."""
    while True:
        pass


def test_what_does_not_end_is_broken_off() -> None:
    """In whichever thread it is; and nothing comes later."""
    ended = []

    def held() -> None:
        try:
            with Clock(BLINK).held():
                for_ever()
        except TimeIsUp:
            ended.append(True)

    held()
    other = Thread(target=held)
    other.start()
    other.join()
    assert ended == [True, True]


def test_what_ends_is_not() -> None:
    """Without a limit, before it, and where it is short; after the limit nothing else is begun."""
    for clock, short in ((NO_LIMIT, False), (Clock(60), False), (Clock(0), True)):
        with clock.held(unless=short), clock.held(unless=short):
            pass
    with pytest.raises(TimeIsUp), Clock(0).held():
        pytest.fail("nothing is begun")


def test_an_inner_hold_leaves_the_outer_one() -> None:
    """What is held within what is held ends without ending that."""
    clock = Clock(BLINK)

    def inside_and_on() -> None:
        with clock.held():
            pass
        for_ever()

    with pytest.raises(TimeIsUp), clock.held():
        inside_and_on()


TRACED = """
import sys
from portloom.base.clock import Clock, TimeIsUp
try:
    with Clock(0.02).held():
        while True:
            pass
except TimeIsUp:
    sys.setprofile(lambda *_: None)
(lambda: None)()
print('on')
"""


def test_after_it_a_call_may_be_traced() -> None:
    """Python is not left looking for what was raised: a profiler or a debugger goes on (it did not, on Python 3.11)."""
    ran = subprocess.run([sys.executable, "-c", TRACED], capture_output=True, encoding="utf-8", timeout=60, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "on\n", "")


def test_setting_up_a_large_bike_is_broken_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three hundred loads that may share take seconds to set up; the search is never begun, and nought is no lie."""
    bike = bike_from_text(many_loads(300, 6), "bike")
    monkeypatch.setattr(planning, "best_at_sites", lambda *_: pytest.fail("the search is begun"))
    unit = read_unit(find_unit("twenty-four-way"))
    assert plan(bike, unit, time_limit=BLINK) == Unknown("Small", (unit.unit,), Micrometres(0))


def test_checking_a_plan_of_a_large_bike_is_broken_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the best plan or a repair, too: the bike is not set up, and nothing of the plan is judged."""
    bike, unit = bike_from_text(many_loads(300, 6), "bike"), read_unit(find_unit("twenty-four-way"))
    monkeypatch.setattr(checking, "judge_post", lambda *_: pytest.fail("the plan is judged"))
    with pytest.raises(TimeIsUp):
        check("out 1: lamp 0", bike, unit, time_limit=0)


def test_mending_a_plan_of_a_large_bike_is_broken_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Setting up what may move takes as long as setting up a plan, and ends with the limit."""
    job = Job(bike_from_text(many_loads(300, 6), "bike"), read_unit(find_unit("twenty-four-way")))
    monkeypatch.setattr(moves, "best_choice", lambda *_: pytest.fail("the search is begun"))
    rules, before = rules_of(job), Before({"out 1": ["lamp 0"]}, {}, {})
    assert moves.fewest_moves(job, rules, sites_of(job), before, Clock(BLINK)) == LimitReached(0)


def test_a_call_that_checks_a_large_bike_says_that_the_time_is_up(portloom: Portloom, tmp_path: Path) -> None:
    """The files are short enough to be read; nothing of the plan is told."""
    (tmp_path / "bike.yaml").write_text(many_loads(300, 6), "utf-8")
    (tmp_path / "post.txt").write_text("out 1: lamp 0\n", "utf-8")
    ran = portloom("check", "post.txt", "bike.yaml", "--unit", "six-way", "--time-limit", "0", folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (3, "")
    assert ran.stderr == "UNKNOWN: the time limit was reached while the files were read and set up; allow more time\n"


@pytest.mark.parametrize("command", ["plan", "why", "sheets"])
def test_reading_a_long_file_is_broken_off(command: str, portloom: Portloom, tmp_path: Path) -> None:
    """Of two thousand loads nothing is told but that the time is up; no plan and no fault."""
    (tmp_path / "bike.yaml").write_text(many_loads(2000, 6), "utf-8")
    more = ("--out", "sheets") if command == "sheets" else ()
    ran = portloom(command, "bike.yaml", "--unit", "six-way", *more, "--time-limit", "0", folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (3, "")
    assert ran.stderr == "UNKNOWN: the time limit was reached while the files were read and set up; allow more time\n"
