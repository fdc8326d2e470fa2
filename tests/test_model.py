"""The CP-SAT model: written down for people, read back by ortools alone, and the same question with guards.

Reference: ortools' own reader and solver, with its settings as they come.
"""

import json
import random
import re
from collections.abc import Iterator
from contextlib import suppress
from importlib import import_module
from inspect import getsource
from itertools import product
from pathlib import Path

import pytest
from ortools.sat.python import cp_model

from calls import FITTING, HARBOUR, ROOT, TOO_SMALL, Call, Portloom
from oracle.random_bikes import random_case
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.planning.plan import Planned, Prepared, model_of, plan_prepared, prepared
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import tableaux_of
from portloom.search.columns import SumRow
from portloom.search.model import GuardedModel, Model
from portloom.search.solving import Solve, Status
from portloom.search.tableau import KeptRow
from slices import FEW, first_of, on_seeds
from unasked import bike_from_text

FORMULATION = ROOT / "solver" / "portloom" / "search" / "FORMULATION.md"


def least(text: str) -> int | None:
    """Read a model and solve it by ortools alone; return what its best costs, in micrometres."""
    model = cp_model.CpModel()
    assert model.proto.parse_text_format(text)
    solver = cp_model.CpSolver()
    status = solver.solve(model)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


# --- written down


def test_the_model_written_is_read_back_to_the_same_cost(portloom: Portloom, tmp_path: Path) -> None:
    """``plan --model`` writes a text that ortools reads and solves to the plan's cost; stderr says where it is."""
    file = tmp_path / "model.txt"
    ran = portloom(*HARBOUR, "--json", "--model", str(file))
    assert ran.returncode == 0
    assert ran.stderr == f"the solver's model of the plan's place is written to {file}\n"
    text = file.read_text("utf-8")
    assert least(text) == round(1000 * json.loads(ran.stdout)["cost_mm"])
    assert re.search(r'name: "x\d+: dipped beam on out 1 or out 2"', text)
    assert 'name: "cover: dipped beam"' in text
    assert re.search(r'name: "x\d+: main fuse 30 A at behind the headstock"', text)  # 1.25 x 20.566 A, by hand
    starts = re.findall(r"^(?:variables|constraints) \{\n  (.*)", text, re.MULTILINE)
    assert [found for found in starts if "name:" not in found] == []


@first_of("call", [FITTING[1], HARBOUR], 1)
def test_the_model_written_is_the_same_each_time(portloom: Portloom, tmp_path: Path, call: Call) -> None:
    """Byte for byte, and so is the plan."""
    files = [tmp_path / f"{number}.txt" for number in (1, 2)]
    ran = [portloom(*call, "--json", "--model", str(file)).stdout for file in files]
    assert ran[0] == ran[1]
    assert files[0].read_bytes() == files[1].read_bytes()


@on_seeds((1007,), [1006, *range(9000, 9006)])
def test_true_wire_sizes_are_in_the_model_that_is_written(seeds: range) -> None:
    """Where thin wires make plans that do not pass look cheaper, rows rule them out, and the cost is the plan's."""
    cut = 0
    for ready in _random(seeds, "bundles", "faults", "wires", "openings"):
        answer = plan_prepared(ready)
        if isinstance(answer, Planned) and answer.found is not None:
            text = model_of(ready, answer.found)
            assert least(text) == answer.plan.cost
            cut += "thicker" in text or "too thin" in text
    assert cut > 0


def _random(seeds: range, *families: str) -> Iterator[Prepared]:
    for seed in seeds:
        for family in families:
            with suppress(BadFile):
                bike, unit = random_case(seed, family)
                yield prepared(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))


def test_a_file_that_is_there_is_never_written_over(portloom: Portloom, tmp_path: Path) -> None:
    """What would be written over, or has no folder, is refused before anything is planned."""
    file = tmp_path / "model.txt"
    file.write_text("mine", "utf-8")
    ran = portloom(*HARBOUR, "--model", str(file))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == (f"portloom plan: --model names what is there already, {file}; give the name of a new file\n")
    assert file.read_text("utf-8") == "mine"
    nowhere = portloom(*HARBOUR, "--model", str(tmp_path / "nowhere" / "model.txt"))
    assert (nowhere.returncode, nowhere.stdout) == (2, "")


def test_no_model_of_two_units_and_none_without_a_plan(portloom: Portloom, tmp_path: Path) -> None:
    """Two units are refused in one line; where nothing fits, stderr says that nothing was written."""
    file = tmp_path / "model.txt"
    two = portloom(*HARBOUR, "--unit", "six-way", "--model", str(file))
    assert two.returncode == 2
    assert two.stderr.startswith("portloom plan: --model is for one unit, here are two; ")
    none = portloom(*TOO_SMALL, "--model", str(file))
    assert none.returncode == 1
    assert none.stderr == f"no model is written to {file}: there is no plan\n"
    assert not file.exists()


# --- one translation


@on_seeds(FEW, range(1005, 1010))
def test_with_every_guard_assumed_the_answer_is_the_same(seeds: range) -> None:
    """A choice has a plan with every fact assumed if it has one at all."""
    seen = set()
    for seed in seeds:
        for family in ("plain", "banks", "openings", "safety"):
            with suppress(BadFile):
                bike, unit = random_case(seed, family)
                job = Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
                rules = rules_of(job)
                for choice in tableaux_of(job, rules, sites_of(job)):
                    plain, guarded = Model(choice).solve(Solve(None)), GuardedModel(choice).solve(Solve(None))
                    assert plain.status == guarded.status
                    seen.add(plain.status)
    assert seen == {Status.BEST, Status.IMPOSSIBLE}


@pytest.mark.parametrize("more", [-1, 0, 1])
def test_a_limit_tells_the_higher_of_two_bounds(more: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What every plan costs at least is known from the wires that all have, and from the solver: both hold."""
    bike, unit = random_case(FEW[0], "plain")
    job = Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
    model = Model(tableaux_of(job, rules_of(job), sites_of(job))[0])

    def bound_with(solvers: int | None) -> int:
        monkeypatch.setattr(Solve, "run", lambda *_: Status.UNKNOWN)
        monkeypatch.setattr(Solve, "bound", property(lambda _: solvers))
        return model.solve(Solve(None)).bound

    known = bound_with(None)
    assert bound_with(known + more) == known + max(more, 0)


def test_a_row_that_another_implies_holds_with_it() -> None:
    """Of random rows, some with amounts below nought: every 0-1 point that keeps the one keeps the row left out."""
    dice = random.Random("implied rows")
    dropped = below = 0
    for _ in range(4000):
        amounts = [dice.choice((-1, 0, 1, 1, 2)) for _ in range(4)]
        entries = tuple((number, amount) for number, amount in enumerate(amounts) if amount)
        part = tuple(dice.sample(entries, dice.randint(0, len(entries))))
        row, other = SumRow(part, 0, dice.randint(0, 3)), SumRow(entries, 0, dice.randint(0, 3))
        below += any(amount < 0 for amount in amounts)
        if KeptRow(other).implies(row):
            dropped += 1
            for point in product((0, 1), repeat=4):
                totals = [sum(point[number] * amount for number, amount in each.entries) for each in (row, other)]
                assert totals[1] > other.at_most or totals[0] <= row.at_most
    assert min(dropped, below) > 100


# --- the formulation


def _names() -> list[str]:
    """Return the names in the formulation that stand for code: words with dots, in the search's room."""
    words = re.findall(r"`([^`\s]+)`", FORMULATION.read_text("utf-8"))
    return sorted({word for word in words if re.fullmatch(r"(?:pairs\.)?[a-z_]+\.[A-Za-z_.]+", word)})


def test_each_name_in_the_formulation_is_in_the_code() -> None:
    """A module of the search, what it defines, and what that has: as an attribute, a field or set by itself."""
    names = [name for name in _names() if not name.startswith("portloom.") and not name.endswith(".md")]
    assert len(names) > 40
    for name in names:
        count = 2 if name.startswith(("pairs.", "legs.")) else 1
        module = import_module("portloom.search." + ".".join(name.split(".")[:count]))
        first, *rest = name.split(".")[count:]
        thing = getattr(module, first)
        for part in rest:
            own = part in getattr(thing, "__annotations__", {}) or f"self.{part} = " in getsource(thing)
            assert own or hasattr(thing, part), name


def test_each_label_in_the_code_is_in_the_formulation() -> None:
    """What the code cites, such as C3, is there."""
    text = FORMULATION.read_text("utf-8")
    files = list(FORMULATION.parent.rglob("*.py"))
    cited = {label for file in files for label in re.findall(r"\b([VCOBTG]\d)\b", file.read_text("utf-8"))}
    assert cited >= {"V1", "V2", "C1", "C2", "C3", "O1", "B1", "T1", "T2", "G1"}
    assert {label for label in cited if f"**{label}" not in text} == set()
