"""The door to ortools: each thing that is asked of it is there, both ways answer alike, and a lack is told.

Reference: ortools' public module, which its users are told to use; the compiled one beneath it is what it calls.
"""

import gc
import random
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator

import pytest
from ortools.sat.python import cp_model, cp_model_helper

from calls import HARBOUR, ROOT, Portloom
from portloom.inputs.files import find_unit, read_bike, read_unit
from portloom.planning.plan import Planned, plan
from portloom.search import cp_sat, doors
from portloom.search.cp_sat import CpSatModel, CpSatRun
from portloom.search.doors import Door, NoDoorError, compiled, public
from portloom.search.tableau import Tableau
from slices import on_seeds

WAYS: tuple[Callable[[], Door], ...] = (compiled, public)
SETTINGS = (
    "num_workers", "catch_sigint_signal", "linearization_level", "cp_model_presolve", "random_seed", "symmetry_level",
    "cp_model_probing_level", "search_branching", "stop_after_first_solution", "max_time_in_seconds",
    "max_deterministic_time", "SearchBranching",
)  # fmt: skip


@pytest.fixture(params=WAYS, ids=("compiled", "public"))
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Door:
    """Go by one way."""
    through: Door = request.param()
    monkeypatch.setattr(cp_sat, "door", lambda: through)
    return through


def test_the_compiled_way_is_taken() -> None:
    """It is the first, and the installed version has all that it needs."""
    assert "_CompiledRun" in repr(doors.door().run)


@pytest.mark.parametrize("setting", SETTINGS)
def test_each_setting_is_known(way: Door, setting: str) -> None:
    """A setting of another name would be an error when it is set; none is."""
    assert hasattr(way.parameters(), setting)


@pytest.mark.usefixtures("way")
def test_a_flag_is_set_or_not_and_a_sum_has_ends() -> None:
    """Of three flags, one of the first two, not the second with the third; most of a sum worked out by hand."""
    model = CpSatModel()
    one, two, three = (model.flag() for _ in range(3))
    some = model.integer(9)
    model.exactly_one([one, two])
    model.at_most_one([two, three])
    model.any_of([~one, three])
    model.between([(some, 2), (one, 3)], 4, 10)
    model.maximise([(some, 5), (three, 2), (two, 1), (two, 1)])
    run = CpSatRun()
    # By hand: with two, 2 x <= 10, x = 5, 25 + 2; with one, three too, 2 x + 3 <= 10, x = 3, 15 + 2.
    assert run.solve(model) == "OPTIMAL"
    assert (run.values, run.value, run.bound) == ((0, 1, 0, 5), 27, 27)
    assert run.effort >= 0


@pytest.mark.usefixtures("way")
def test_a_goal_is_told_with_what_lies_beside_it() -> None:
    """The least of a sum, 3, and 40 beside it; none of it is there without a goal."""
    model = CpSatModel()
    number = model.integer(7)
    model.between([(number, 1)], 3, None)
    assert not model.has_goal
    model.minimise([(number, 1)], beside=40)
    assert model.has_goal
    bounds, plans = list[float](), list[tuple[int, ...]]()
    run = CpSatRun(plans.append, bounds.append)
    assert run.solve(model) == "OPTIMAL"
    assert (run.value, run.bound, plans[-1]) == (43, 43, (3,))
    assert all(bound <= 43 for bound in bounds)


@pytest.mark.usefixtures("way")
def test_what_holds_only_under_a_flag_is_blamed_on_it() -> None:
    """Two that are assumed contradict each other, the third has no part in it."""
    model = CpSatModel()
    guards = [model.flag() for _ in range(3)]
    number = model.integer(9)
    model.between([(number, 1)], 5, None, [guards[0]])
    model.between([(number, 1)], None, 4, [guards[1]])
    model.between([(number, 1)], 0, 9, [guards[2]])
    model.assume(guards)
    run = CpSatRun()
    assert run.solve(model) == "INFEASIBLE"
    assert run.blamed == frozenset(guards[:2])


@pytest.mark.usefixtures("way")
def test_a_sum_without_room_is_never_kept() -> None:
    """At least 3 and at most 2 is nothing; under a guard, the guard is off."""
    model = CpSatModel()
    guard, number = model.flag(), model.integer(9)
    model.between([(number, 1)], 3, 2, [guard])
    model.maximise([(guard, 1)])
    run = CpSatRun()
    assert (run.solve(model), run.value) == ("OPTIMAL", 0)
    model.between([(number, 1)], 3, 2)
    assert CpSatRun().solve(model) == "INFEASIBLE"


@pytest.mark.usefixtures("way")
def test_decisions_are_taken_in_order() -> None:
    """Each flag is set as long as it can be, the first ones first; a run that only follows stops there."""
    model = CpSatModel()
    flags = [model.flag() for _ in range(4)]
    model.at_most_one(flags[:2])
    model.at_most_one(flags[1:3])
    model.decide_in_order(flags)
    run = CpSatRun()
    settings = run.settings
    settings.cp_model_presolve = False
    settings.search_branching = settings.SearchBranching.FIXED_SEARCH
    settings.stop_after_first_solution = True
    run.solve(model)
    assert run.values == (1, 0, 1, 1)


@pytest.mark.usefixtures("way")
def test_a_model_that_is_not_valid_is_told() -> None:
    """Of a variable that is not there, the solver's own words."""
    model = CpSatModel()
    model.any_of([3])
    with pytest.raises(ValueError, match="the model is not valid: Invalid literal 3"):
        CpSatRun().solve(model)


@pytest.mark.usefixtures("way")
def test_a_run_that_was_stopped_knows_nothing_wrong() -> None:
    """One that is stopped before it begins ends with the best or unknown, never impossible."""
    model = CpSatModel()
    model.maximise([(model.integer(5), 1)])
    run = CpSatRun()
    run.stop()
    assert run.solve(model) in {"OPTIMAL", "UNKNOWN"}


@pytest.mark.usefixtures("way")
def test_the_text_is_read_back_by_the_public_module() -> None:
    """Names are in it, a place to begin is, and ortools' own model of it has the same best."""
    model = CpSatModel()
    one, two = model.flag(), model.integer(4)
    row = model.between([(one, 1), (two, 1)], None, 4)
    model.maximise([(one, 3), (two, 2)])
    model.begin_with([(one, 1), (two, 0)])
    model.name_variable(two, "how often")
    model.name_constraint(row, "room")
    again = cp_model.CpModel()
    assert again.proto.parse_text_format(str(model))
    assert ("how often" in str(model), "room" in str(model), "solution_hint" in str(model)) == (True, True, True)
    solver = cp_model.CpSolver()
    assert (solver.solve(again), solver.objective_value) == (cp_model.OPTIMAL, 9)


# --- both ways, and none


@on_seeds(range(20), range(20, 400))
def test_both_ways_and_ortools_own_expressions_have_the_same_best(seeds: range) -> None:
    """Random models: the least by the compiled way, by the public way, and as ortools' users would write them."""
    solved = 0
    for seed in seeds:
        best = {_least(seed, way) for way in WAYS} | {_least_as_users_write(seed)}
        assert len(best) == 1, (seed, best)
        solved += best != {None}
    assert solved > 0


def _sums(seed: int) -> tuple[list[int], list[tuple[list[tuple[int, int]], int, int]], list[tuple[int, int]]]:
    """Return, at random, the most of each variable, sums with their ends, and a goal."""
    dice = random.Random(seed)
    most = [dice.choice((1, 1, 3)) for _ in range(8)]

    def terms() -> Iterator[tuple[int, int]]:
        for _ in range(5):
            yield dice.randrange(8), dice.randint(-4, 6)

    sums = [(list(terms()), dice.randint(-3, 6), dice.randint(2, 12)) for _ in range(6)]
    return most, sums, list(terms())


def _least(seed: int, way: Callable[[], Door]) -> int | None:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(cp_sat, "door", way)
        most, sums, goal = _sums(seed)
        model = CpSatModel()
        variables = [model.integer(each) for each in most]
        for terms, least, greatest in sums:
            model.between([(variables[number], weight) for number, weight in terms], least, greatest)
        model.minimise((variables[number], weight) for number, weight in goal)
        run = CpSatRun()
        return round(run.value) if run.solve(model) == "OPTIMAL" else None


def _least_as_users_write(seed: int) -> int | None:
    most, sums, goal = _sums(seed)
    model = cp_model.CpModel()
    variables = [model.new_int_var(0, each, "") for each in most]
    for terms, least, greatest in sums:
        total = sum(weight * variables[number] for number, weight in terms)
        model.add(total >= least)
        model.add(total <= greatest)
    model.minimize(sum(weight * variables[number] for number, weight in goal))
    solver = cp_model.CpSolver()
    return round(solver.objective_value) if solver.solve(model) == cp_model.OPTIMAL else None


@pytest.mark.parametrize(
    "lacking", ["SolveWrapper", "CpModelProto", "SatParameters", "SolutionCallback", "CpSatHelper"]
)
def test_where_the_compiled_module_lacks_something_the_public_one_is_taken(
    monkeypatch: pytest.MonkeyPatch, lacking: str
) -> None:
    """The public one has what it took from there already."""
    assert "_CompiledRun" in repr(doors.door.__wrapped__().run)
    monkeypatch.delattr(cp_model_helper, lacking)
    assert "_PublicRun" in repr(doors.door.__wrapped__().run)


def test_where_both_lack_something_it_is_told_with_the_versions(monkeypatch: pytest.MonkeyPatch) -> None:
    """The version that is there, what it lacks, and which are wanted."""
    monkeypatch.delattr(cp_model_helper, "SatParameters")
    monkeypatch.delattr(cp_model, "SatParameters")
    with pytest.raises(NoDoorError, match=r"ortools 9\.15\S* can't be used: .*SatParameters.*wanted is >=9\.15"):
        doors.door.__wrapped__()


def test_a_plan_by_the_public_way_is_the_same(portloom: Portloom) -> None:
    """Byte for byte."""
    by_public = (
        "import sys; from portloom.search import doors; doors.compiled = doors.public; sys.argv[0] = 'portloom'; "
        "from portloom.cli.start import main; main()"
    )
    ran = subprocess.run([sys.executable, "-c", by_public, *HARBOUR], capture_output=True, check=False)
    assert ran.returncode == 0
    assert ran.stdout.decode() == portloom(*HARBOUR).stdout


NOT_LOADED = ("numpy", "pandas", "rich.table", "portloom.comparing", "portloom.explaining.conflicts",
              "portloom.explaining.fixes", "portloom.explaining.telling", "portloom.margins")  # fmt: skip


def test_a_plan_loads_nothing_that_only_other_answers_need() -> None:
    """Neither what the public module brings, which is most of its time, nor what tells why there is no plan."""
    code = (
        f"import sys, atexit; sys.argv[0] = 'portloom'; not_loaded = {NOT_LOADED}; "
        "atexit.register(lambda: print([m for m in sys.modules if m.startswith(not_loaded)], file=sys.stderr)); "
        "from portloom.cli.start import main; main()"
    )
    ran = subprocess.run([sys.executable, "-c", code, *HARBOUR], capture_output=True, encoding="utf-8", check=False)
    assert (ran.returncode, ran.stderr) == (0, "[]\n")


def test_what_was_solved_is_let_go() -> None:
    """Nothing of a plan stays behind in a process that goes on: not even what the solver was to call."""
    bike, unit = read_bike(ROOT / "examples" / "harbour-trail.yaml"), read_unit(find_unit("eleven-way"))
    # Other tests of this process may keep some of their own.
    before = _solved()
    for _ in range(2):
        assert isinstance(plan(bike, unit), Planned)
        gc.collect()
        assert [type(thing) for thing in _solved() if not any(thing is known for known in before)] == []


def _solved() -> list[object]:
    """Return all of this process that a search leaves behind while it lasts."""
    return [thing for thing in gc.get_objects() if isinstance(thing, CpSatRun | Tableau)]


def test_the_versions_that_are_told_are_those_that_are_installed() -> None:
    """What pyproject.toml asks for."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert f"ortools{doors.WANTED}" in project["dependencies"]
