"""How one plan differs from another: each kind by a small pair of bikes, and what holds for every pair.

No outside source: that everything is compared and nothing but order and lines is passed over is a promise of the tool.
The bikes are made up.
"""

import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from copy import deepcopy
from decimal import Decimal
from functools import cache
from io import StringIO
from random import Random
from typing import Any

import pytest
from rich.console import Console

import portloom
from calls import ROOT
from portloom.documents.amounts import number
from portloom.documents.difference.canonical import canonical
from portloom.documents.difference.change import Change, Difference
from portloom.documents.difference.json import difference_json
from portloom.documents.difference.printed import ENTRIES, OF_UNIT, OF_WHOLE, PrintedPlan
from portloom.documents.document import Plan
from portloom.documents.json import KEYS, plan_json, trade_offs_json
from portloom.inputs.files import bike_from_text, find_unit, read_bike, read_unit, unit_from_text
from portloom.inputs.problems import BadFile
from portloom.planning.plan import Planned, plan, prepared, trade_offs
from portloom.report.text.difference import write_difference
from portloom.report.text.layout import TextPage
from slices import each_seed, first_of
from small_bikes import FOUR_WAY, THREE_LAMPS

Path = tuple[str | int, ...]
EXAMPLES = (
    ("harbour-trail", ("eleven-way",)), ("dressed-tourer", ("eleven-way",)), ("bare-single", ("six-way", "eight-way")),
)  # fmt: skip
"""Examples that have multiplexers and loads that no output feeds, leads of the battery, two units."""


def found(*changes: tuple[str, str], unit: str = FOUR_WAY) -> Plan:
    """Return the plan of three lamps on a four-way, once words of the files were changed."""
    texts = [THREE_LAMPS, unit]
    for old, new in changes:
        assert any(old in text for text in texts), old
        texts = [text.replace(old, new) for text in texts]
    answer = plan(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
    assert isinstance(answer, Planned)
    return answer.plan


def told(difference: Difference, kind: str) -> list[tuple[str, str, Any, Any]]:
    """Return the changes of a kind in a difference as it is written in JSON: about what, which figure, was, is."""
    changes = difference_json(difference)["changes"]
    return [(c["subject"], c["key"], c["old"], c["new"]) for c in changes if c["kind"] == kind]


@cache
def plain() -> Plan:
    """Return the plan of the three lamps as they are."""
    return found()


# --- kinds


def test_a_load_that_is_pinned_elsewhere_moves() -> None:
    """It is told by its ports, and what is set at them goes with it; its wire, which is as long, is no difference."""
    difference = portloom.diff(plain(), found(("{name: tail lamp,", "{name: tail lamp, on: out 4,")))
    moved = {name: (old, new) for name, _, old, new in told(difference, "moved")}
    before, after = moved["tail lamp"]
    assert after == ["out 4"] != before
    assert told(difference, "wire") == []
    settings = {(port, key): (old, new) for port, key, old, new in told(difference, "setting")}
    assert settings["out 4", "mode"] == (None, ["steady"])
    assert settings["out 4", "trip_a"][0] is None


def test_a_load_that_is_new_was_nowhere() -> None:
    """So is one that is gone."""
    lamp = "  - {name: plate lamp, part: plate lamp, at: tail, lamp: W5W, share: none}\ninputs:"
    with_it = found(("inputs:  ", f"{lamp}  "))
    came, went = portloom.diff(plain(), with_it), portloom.diff(with_it, plain())
    (moved,) = told(came, "moved")
    assert moved[:3] == ("plate lamp", "load", None)
    assert [(name, new) for name, _, _, new in told(went, "moved")] == [("plate lamp", None)]
    wires = [change for change in came.changes if change.kind == "wire" and change.part == "outputs"]
    assert [wire.cutting for wire in wires if wire.old is None] == ["new"]
    assert [wire.mirrored.cutting for wire in wires if wire.old is None] == ["gone"]


def test_a_longer_leg_makes_wires_longer() -> None:
    """Those of the loads behind it, by what is more; no load moves."""
    difference = portloom.diff(plain(), found(("length: 360 mm", "length: 460 mm")))
    assert told(difference, "moved") == []
    longer = [change for change in difference.changes if change.kind == "wire" and change.part in {"outputs", "inputs"}]
    assert {change.new["run_mm"] - change.old["run_mm"] for change in longer} == {100}
    assert all("longer" in change.cutting for change in longer)
    assert all("shorter" in change.mirrored.cutting for change in longer)


def test_a_reel_that_is_gone_makes_wires_thicker() -> None:
    """The run stays, the size does not; the main fuse follows the wire, and is told with the whole plan's figures."""
    fixed = ("way_round: either", "way_round: fixed")
    difference = portloom.diff(found(fixed), found(fixed, ("ignition: own", "ignition: own\nreels: [1 mm2, 6 mm2]")))
    wires = [change for change in difference.changes if change.kind == "wire" and change.part in {"outputs", "inputs"}]
    thin = [change for change in wires if change.old["wire_mm2"] < 1]
    assert {change.cutting for change in thin} == {"thicker"}
    assert {change.mirrored.cutting for change in thin} == {"thinner"}


def test_a_place_and_a_main_fuse_are_of_the_whole() -> None:
    """The place, the way round and the fuse are told with the whole plan's figures."""
    place = portloom.diff(plain(), found(("name: under seat", "name: in the tail")))
    assert told(place, "whole") == [("", "place", "under seat", "in the tail")]
    reels = portloom.diff(plain(), found(("ignition: own", "ignition: own\nreels: [1 mm2, 6 mm2]")))
    assert ("", "main_fuse_a", 15, 20) in told(reels, "whole")
    assert ("", "turned", True, False) in told(reels, "whole")


def test_warnings_come_go_and_stay() -> None:
    """A leg that moves is warned of; those warnings that both have are told to stay."""
    still = found((", moves: true", ""))
    assert any("move" in line for line in plain().warnings)
    difference = portloom.diff(still, plain())
    came = [new for _, key, old, new in told(difference, "sentence") if key == "warnings" and old is None]
    assert sorted([*came, *difference.stay]) == sorted(plain().warnings)
    assert sorted(difference.stay) == sorted(set(still.warnings) & set(plain().warnings))


def test_a_rule_set_aside_is_told() -> None:
    """With its reason, and once more with the whole difference."""
    difference = portloom.diff(plain(), found(("ignition: own", "ignition: own\nset_aside: {opening: it is open}")))
    assert ("opening", "reason", None, "it is open") in told(difference, "whole")
    assert difference.set_aside == (("opening", "it is open"),)


# --- whatever the plans are


@cache
def printed(example: int) -> Any:
    """Return an example's plan as JSON has it."""
    bike, units = EXAMPLES[example]
    profiles = [read_unit(find_unit(unit)) for unit in units]
    answer = plan(read_bike(ROOT / "examples" / f"{bike}.yaml"), *profiles)
    assert isinstance(answer, Planned)
    return plan_json(answer.plan)


def read(document: Any) -> PrintedPlan:
    """Read a document back."""
    return PrintedPlan.read(json.dumps(document), "plan.json")


def leaves(value: Any, path: Path = ()) -> Iterator[Path]:
    """Return the way to each word and figure, and to each empty list."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    if not isinstance(value, dict | list) or value == []:
        yield path
    for key, held in inner:
        yield from leaves(held, (*path, key))


def at(document: Any, path: Path) -> Any:
    """Return what stands at a path."""
    for key in path:
        document = document[key]
    return document


def with_it(document: Any, path: Path, value: Any) -> Any:
    """Return a document with something else at a path."""
    changed = deepcopy(document)
    at(changed, path[:-1])[path[-1]] = value
    return changed


def spoilt(value: Any, path: Path) -> Any:
    """Return something else of the same sort."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, Decimal):
        return value + 1
    if value == []:
        return (
            [dict.fromkeys(("name", "port", "sentence"), "spoilt") | {"inputs": ["spoilt"], "loads": ["spoilt"]}]
            if path[-1] in ENTRIES
            else ["spoilt"]
        )
    return "spoilt" if value is None else f"{value} spoilt"


def shown(value: Any) -> list[str]:
    """Return every word and figure of a value, as text."""
    found = [at(value, path) for path in leaves(value)]
    return [str(number(one) if isinstance(one, Decimal) else one) for one in found]


def first_of_each_shape(document: Any, ways: Sequence[Path]) -> list[Path]:
    """Return the first of all ways that differ only by places in lists, and lead to the same sort of thing."""
    shapes = {
        (*(key if isinstance(key, str) else 0 for key in way), type(at(document, way))): way for way in [*ways][::-1]
    }
    return [*shapes.values()][::-1]


def all_ways(_: Any, ways: Sequence[Path]) -> list[Path]:
    """Return every way."""
    return [*ways]


WAYS = pytest.mark.parametrize(
    "taken", [pytest.param(first_of_each_shape, id="few"), pytest.param(all_ways, id="more", marks=pytest.mark.long)]
)


@WAYS
@first_of("example", [2, 0, 1], 1)
def test_every_leaf_that_is_spoilt_is_told(example: int, taken: Callable[[Any, Sequence[Path]], list[Path]]) -> None:
    """One word or figure that is another one is a difference, and what it is now is told."""
    plan, other = read(printed(example)), read(printed(example))
    ways = [path for path in leaves(plan.document) if path != ("status",) and path[-1] != "where"]
    assert len(ways) > 400
    for turn, path in enumerate(taken(plan.document, ways)):
        was = at(plan.document, path)
        with spoiled(other, path, spoilt(was, path)):
            difference = portloom.diff(plan, other)
            words = " ".join(shown(difference_json(difference)["changes"]))
            assert all(word in words for word in shown(spoilt(was, path))), path
            assert not difference.same, path
            if turn % 20 == 0:
                assert_mirrored(plan, other)


@WAYS
@pytest.mark.parametrize("example", range(len(EXAMPLES)))
def test_every_entry_that_is_missing_is_told(example: int, taken: Callable[[Any, Sequence[Path]], list[Path]]) -> None:
    """One entry of any list less is a difference, whichever plan lacks it."""
    plan, other = read(printed(example)), read(printed(example))
    ways = {path[:length] for path in leaves(plan.document) for length in range(1, len(path) + 1)}
    entries = sorted((path for path in ways if isinstance(path[-1], int) and path[:-1] != ("units",)), key=str)
    for turn, path in enumerate(taken(plan.document, entries)):
        without = [held for n, held in enumerate(at(plan.document, path[:-1])) if n != path[-1]]
        with spoiled(other, path[:-1], without):
            assert not portloom.diff(plan, other).same, path
            if turn % 20 == 0:
                assert_mirrored(plan, other)


@contextmanager
def spoiled(plan: PrintedPlan, path: Path, value: Any) -> Iterator[None]:
    """Put something else into a plan for a while."""
    held = at(plan.document, path[:-1])
    was, held[path[-1]] = held[path[-1]], value
    try:
        yield
    finally:
        held[path[-1]] = was


def assert_mirrored(old: PrintedPlan, new: PrintedPlan) -> None:
    """Hold that the difference the other way round is the same with its sides swapped."""
    there, back = portloom.diff(old, new), portloom.diff(new, old)
    assert ordered(there.changes) == ordered([change.mirrored for change in back.changes])
    assert (there.old, there.new) == (back.new, back.old)


def ordered(changes: Sequence[Change]) -> list[str]:
    """Return changes in one order: what is gone is told before what is new, so that is not the same both ways."""
    return sorted(map(repr, changes))


def backwards(value: Any) -> Any:
    """Return a value with each list, and each object, the other way round."""
    if isinstance(value, dict):
        return {key: backwards(held) for key, held in reversed(value.items())}
    return [backwards(held) for held in reversed(value)] if isinstance(value, list) else value


@pytest.mark.parametrize("example", range(len(EXAMPLES)))
def test_a_plan_is_the_same_as_itself_in_any_order(example: int) -> None:
    """Nor do the lines count at which the files say something."""
    document = printed(example)
    assert portloom.diff(read(document), read(document)).same
    assert portloom.diff(read(document), read(backwards(document))).same
    lines = [p for p in leaves(document) if p[-1] == "where"]
    for path in lines:
        assert portloom.diff(read(document), read(with_it(document, path, "another.yaml:7"))).same


@pytest.mark.parametrize(("one", "two"), [(0, 1), (0, 2), (1, 2)])
def test_plans_of_other_bikes_and_of_two_units_are_mirrored(one: int, two: int) -> None:
    """Whatever the pair, one unit against two included."""
    old, new = read(printed(one)), read(printed(two))
    assert not portloom.diff(old, new).same
    assert_mirrored(old, new)
    turned = portloom.diff(read(backwards(printed(one))), read(backwards(printed(two))))
    assert canonical(difference_json(portloom.diff(old, new))) == canonical(difference_json(turned))


def test_a_plan_and_what_was_printed_of_it_are_the_same() -> None:
    """A plan in memory, or read back from its JSON, with its figures exact."""
    assert portloom.diff(plain(), read(plan_json(plain()))).same


def test_trade_offs_are_compared() -> None:
    """What a call asked for beside the plan is a part of the document."""
    ready = prepared(bike_from_text(THREE_LAMPS, "bike"), unit_from_text(FOUR_WAY, "unit"))
    document = {**plan_json(plain()), "trade_offs": trade_offs_json(trade_offs(ready))}
    assert portloom.diff(read(document), read(document)).same
    spoiled = with_it(document, ("trade_offs", "points", 0, "wire_run_mm"), 1)
    assert not portloom.diff(read(document), read(spoiled)).same


@pytest.mark.parametrize("example", range(len(EXAMPLES)))
def test_the_keys_of_a_plan_are_known(example: int) -> None:
    """What a plan must have to be compared is what one has; what may be there beside it is among the known keys."""
    document = printed(example)
    units = document.get("units", [document])
    assert set(OF_WHOLE) <= set(document) <= set(KEYS)
    assert all(set(OF_UNIT) <= set(unit) for unit in units)


ANYTHING: tuple[Any, ...] = (
    None,
    True,
    3,
    -1.5,
    "x",
    "\u202e",
    [],
    {},
    [1],
    ["a"],
    [None],
    [[]],
    {"a": 1},
    [{"a": None}],
)


@each_seed(range(6), range(6, 120))
def test_whatever_stands_in_a_plan_it_is_told_or_refused(seed: int) -> None:
    """Anything put anywhere into a plan: it is refused as no plan, or its difference is told, mirrored and written."""
    throw = Random(seed)
    example = seed % len(EXAMPLES)
    document = deepcopy(printed(example))
    ways = [path[:length] for path in leaves(document) for length in range(1, len(path) + 1)]
    for path in throw.sample(ways, throw.choice((1, 1, 2, 4))):
        with suppress(KeyError, IndexError, TypeError):  # what was put in before may be in the way
            at(document, path[:-1])[path[-1]] = throw.choice(ANYTHING)
    plan = read(printed(example))
    try:
        other = read(document)
    except BadFile:
        return
    difference = portloom.diff(plan, other)
    assert difference.same is (canonical(plan.document) == canonical(other.document))
    assert_mirrored(plan, other)
    assert json.dumps(difference_json(difference))
    page = StringIO()
    write_difference(difference, TextPage(Console(file=page, width=100)))
    assert "\u202e" not in page.getvalue()
