"""39 loads for the 38 outputs of two places' unit, and CP-SAT's own core of the same assignment. Invented."""

from itertools import pairwise
from time import process_time

from ortools.sat.python import cp_model

from .big_units import Entry

SIZE = "39x38x2"
LOADS, POINTS = 39, 12
KINDS: tuple[tuple[int, Entry], ...] = (
    (12, {"limit": "8 A"}),
    (10, {"limit": "10 A", "pwm": True}),
    (9, {"limit": "6 A", "face": "rear", "switch_modes": ["steady", "hold"]}),
    (7, {"limit": "4 A", "trip": ["2 A", "4 A"], "switch_modes": ["steady", "flash"]}),
)
"""How many outputs, and what they have in common."""
AT_MOST = 60.0
"""Seconds by the clock after which CP-SAT is stopped; what it took by then counts."""


def files() -> tuple[Entry, Entry]:
    """Return a bike all of whose loads fit on every output, and a unit with one output too few."""
    points = [f"point {number}" for number in range(1, POINTS + 1)]
    legs = [{"between": list(ends), "length": "200 mm"} for ends in pairwise(points)]
    bike = {
        "bike": "one too many",
        "supply": {"running": "14.0 V", "battery": {"capacity": "20 Ah", "at": points[0]}},
        "frame": {"legs": legs, "earth": [points[3]]},
        "places": [
            {"name": "under seat", "front": points[2], "rear": points[5]},
            {"name": "tail", "front": points[6], "rear": points[7]},
        ],
        "loads": [
            {"name": f"load {n}", "at": points[n % POINTS], "current": f"{300 + n} mA"} for n in range(1, LOADS + 1)
        ],
    }
    return bike, {"unit": "thirty-eight-way", "feed": {"limit": "60 A"}, "outputs": _outputs()}


def _outputs() -> list[Entry]:
    figures = [common for count, common in KINDS for _ in range(count)]
    return [{"name": f"out {number}", "peak": "90 A", **common} for number, common in enumerate(figures, 1)]


def core() -> tuple[str, float]:
    """Ask CP-SAT, its settings as they come, which loads and counts of outputs can't be together; give its seconds.

    Seconds are of processor time. An ordinary assignment: each load that is there on one kind of output, of each kind
    so many.
    """
    model = cp_model.CpModel()
    there = [model.new_bool_var("") for _ in range(LOADS)]
    counted = [model.new_bool_var("") for _ in KINDS]
    # on[load][kind]: the load is on an output of this kind.
    on = [[model.new_bool_var("") for _ in KINDS] for _ in range(LOADS)]
    for load, is_there in zip(on, there, strict=True):
        model.add(cp_model.LinearExpr.sum(load) == 1).only_enforce_if(is_there)
    for (count, _), on_kind, is_counted in zip(KINDS, zip(*on, strict=True), counted, strict=True):
        model.add(cp_model.LinearExpr.sum(list(on_kind)) <= count).only_enforce_if(is_counted)
    model.add_assumptions([*there, *counted])
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = AT_MOST
    began = process_time()
    status = solver.solve(model)
    seconds = process_time() - began
    if status != cp_model.INFEASIBLE:
        return "none found", seconds
    return f"{len(solver.sufficient_assumptions_for_infeasibility())} of {LOADS + len(KINDS)}", seconds
