"""The bench: its table is made, its rows say what is within, and its other formulations are of the same choice.

Nothing is timed here. The references are sums by hand, and HiGHS on the columns of the same tableaux.
"""

import json
import os
from importlib import import_module
from math import inf
from pathlib import Path

import pytest

import bench
from bench.__main__ import PARTS, main
from bench.big_bikes import EVERY_SIZE, big_bike, typed
from bench.compact import NotCompact, by_compact, evenly
from bench.formulations import one_model
from bench.growth import exponent, ports
from bench.places import by_highs
from bench.processes import taken
from bench.rows import Row, table
from bench.tightening import tableaux
from portloom.job.job import Job


@pytest.mark.parametrize(
    ("wanted", "worst_wanted", "within", "said"),
    [
        (None, None, None, ""),
        (2.0, None, True, "2"),
        (1.9, None, False, "1.9"),
        (2.0, 5.0, True, "2, worst 5"),
        (2.0, 4.9, False, "2, worst 4.9"),
        (None, 5.0, True, "worst 5"),
    ],
)
def test_a_row_is_within_by_its_median_and_its_worst(
    wanted: float | None, worst_wanted: float | None, *, within: bool | None, said: str
) -> None:
    """Of 1, 2 and 5 the median is 2 and the worst 5."""
    row = Row("this", "that", "clock", (5.0, 1.0, 2.0), wanted, worst_wanted)
    assert (row.median, row.worst, row.within, row.at_most) == (2.0, 5.0, within, said)


def test_the_table_has_a_line_for_each_row() -> None:
    lines = table([Row("this", "that", "memory", (0.9,), 1.0, None, "once")]).splitlines()
    assert lines[2:] == ["| this | that | memory | 1 | 0.90 | 0.90 | 1 | yes | once |"]


def test_the_exponent_of_a_power_law() -> None:
    """Of 3 n^2 it is 2, whatever the factor."""
    assert exponent([1, 2, 4, 10], [3, 12, 48, 300]) == pytest.approx(2)


def test_outputs_are_spread_over_the_kinds() -> None:
    """Thirteen kinds, one output on the last: 26 are two or three of the first, one of it."""
    assert ports(26) == (3, *(2,) * 11, 1)
    assert [sum(ports(count)) for count in (10, 200)] == [10, 200]


def test_the_memory_of_a_process_is_its_own() -> None:
    """A process that does nothing takes far less than one that holds 200 MB, however much its parent holds."""
    held = bytearray(200_000_000)
    held[::4096] = b"1" * len(held[::4096])
    little, much = (taken(("-c", code), os.environ) for code in ("pass", "held = bytes(range(200)) * 1_000_000"))
    assert little.memory < 100
    assert much.memory > 190
    with pytest.raises(RuntimeError, match=r"ended with 3: no such thing"):
        taken(("-c", "import sys; sys.stderr.write('no such thing'); sys.exit(3)"), os.environ)


def test_every_part_is_one_of_the_commands() -> None:
    """Each module of the bench that measures something is a part of ``python -m tests.bench``."""
    named = [path.stem for path in Path(str(bench.__file__)).parent.glob("*.py") if not path.stem.startswith("__")]
    modules = {name: import_module(f"bench.{name}") for name in named}
    assert {name for name, module in modules.items() if hasattr(module, "measured")} == set(PARTS)


def test_the_command_measures_and_prints_its_table(capsys: pytest.CaptureFixture[str]) -> None:
    """Two small parts, as data and as a table; it tells the machine's kind and the versions."""
    assert main(["--quick", "--only", "trees", "--only", "huge", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert {"machine", "python", "ortools", "scipy"} <= set(document["surroundings"])
    assert [row["part"] for row in document["rows"]] == ["trees"] * 2 + ["huge"] * 3
    assert all(row["runs"] == 1 and row["median"] >= 0 for row in document["rows"])
    assert main(["--quick", "--only", "trees"]) == 0
    assert "| tiny: shortest trees, all sets | networkx" in capsys.readouterr().out


def test_a_part_that_fails_is_told_and_the_others_go_on(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: object) -> list[Row]:
        raise RuntimeError("two costs")

    monkeypatch.setattr("bench.__main__.PARTS", {**PARTS, "places": fails})
    assert main(["--quick", "--only", "places", "--only", "trees"]) == 1
    told = capsys.readouterr()
    assert told.out.endswith("\nplaces failed: two costs")
    assert "trees" in told.out


@pytest.mark.parametrize("seed", range(5))
def test_slots_with_flows_cost_what_columns_do(seed: int) -> None:
    """The compact formulation has the same least cost as the enumerated columns, by HiGHS both times."""
    choices = tableaux(*big_bike(seed, EVERY_SIZE["tiny"]))
    cost, _ = by_highs(choices)
    assert cost is not None
    assert by_compact(choices, inf) == cost


def test_one_model_of_all_places_costs_what_each_by_itself_does() -> None:
    """CP-SAT's one model has the least cost that HiGHS finds, one place after the other."""
    choices = tableaux(*big_bike(1, EVERY_SIZE["tiny"]))
    assert one_model(choices, inf) == by_highs(choices)[0]


def test_what_circuits_add_is_split_evenly_or_refused() -> None:
    """7 and 8 alone, 10 together: 5 for a circuit, 2 and 3 for the loads; a third sum can't be of such parts."""
    first, second = Job(*typed(*big_bike(0, EVERY_SIZE["tiny"]))).loads.on_unit[:2]
    amounts = {frozenset([first]): 7, frozenset([second]): 8, frozenset([first, second]): 10}
    assert evenly(amounts) == (5, {first: 2, second: 3})
    with pytest.raises(NotCompact):
        evenly({frozenset([first]): 7, frozenset([first, second]): 10})
