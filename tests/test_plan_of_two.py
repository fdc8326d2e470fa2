"""``portloom plan`` with two units in place of one, as users run it: what it prints, and what other programs say.

The bikes are made up, or random. The program in ``oracle`` shares no code with the one under test: it lays each plan
anew from who is on which port, judges and prices it, and it tries every plan of a small bike.
"""

import json
import re
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from calls import ROOT, Call, Portloom
from oracle import pairs_by_trying
from oracle.pair import Two
from oracle.pair_bikes import pair_case
from oracle.pair_judge import pair_cost_um
from oracle.profiles import read_unit
from oracle.reading import read_bike
from oracle.told import pair_told
from portloom.documents.json import plan_json
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import NothingFits, Planned, plan
from slices import each_seed, third_of
from test_golden import is_golden
from test_pairs import BIKE, LOADS, SWITCHES, UNIT
from test_repeated_options import options
from unasked import bike_from_text

HARBOUR_ON_TWO: Call = ("plan", "examples/harbour-trail.yaml", "--unit", "eight-way", "--unit", "eight-way")
TOO_SMALL: Call = ("plan", "examples/harbour-trail.yaml", "--unit", "six-way", "--unit", "six-way")
GOLDEN = Path(__file__).parent / "golden" / "two"
Texts = tuple[str, str, str]
SEEDS = (2, 10, 13, 15, 16, 17, 18, 19, 22, 23, 25, 33)
"""Random bikes with few ways to seat their loads, so that all can be tried."""


def call_of(folder: Path, texts: Texts) -> Call:
    """Write a bike and two units; return the call that plans them there."""
    for name, text in zip(("bike", "one", "other"), texts, strict=True):
        (folder / f"{name}.yaml").write_text(text, "utf-8")
    return "plan", "bike.yaml", "--unit", "one.yaml", "--unit", "other.yaml"


def document(portloom: Portloom, call: Call, folder: Path | None = None) -> dict[str, Any]:
    """Return the JSON of a call that ends without a word on stderr, its figures exact."""
    ran = portloom(*call, "--json") if folder is None else portloom(*call, "--json", folder=folder)
    assert ran.stderr == ""
    found = json.loads(ran.stdout, parse_float=Decimal, parse_int=Decimal)
    assert isinstance(found, dict)
    assert ran.returncode == {"planned": 0, "no plan": 1, "unknown": 3}[found["status"]]
    return found


# --- what is printed


@pytest.mark.parametrize(
    ("name", "call", "code"),
    [
        ("harbour-trail-on-two-eight-ways", HARBOUR_ON_TWO, 0),
        (
            "bare-single-on-six-way-and-eight-way",
            ("plan", "examples/bare-single.yaml", "--unit", "six-way", "--unit", "eight-way"),
            0,
        ),
        ("harbour-trail-on-two-six-ways", TOO_SMALL, 1),
        ("harbour-trail-without-time", (*HARBOUR_ON_TWO, "--time-limit", "0"), 3),
    ],
)
def test_text(portloom: Portloom, name: str, call: Call, code: int, *, rewrite: bool) -> None:
    """The text is the golden one, no line wider than 100 columns."""
    ran = portloom(*call, "--full")
    assert (ran.returncode, ran.stderr) == (code, "")
    assert max(len(line) for line in ran.stdout.splitlines()) <= 100
    is_golden(ran.stdout, GOLDEN / f"{name}.txt", rewrite=rewrite)


def test_a_plan_worked_through_by_hand(portloom: Portloom, tmp_path: Path, *, rewrite: bool) -> None:
    """The long trial: a lamp at the neck and a marker at the tail, a unit at each.

    Feeds of 1000 and 500 mm from the tray, all else is where the units are. Each trips at 2 A, so each main fuse is
    3 A, the next step (ISO 8820-3). Copper: 0.5 mm2 at 8.89 g a cm3 (IEC 60028); cut are 1.7 m and 1.15 m for the
    feeds, 1.4 m and 0.85 m of 1.5 mm2 for the units' earths, straight to the battery, and 230 mm to and from each load
    and switch (common practice). Spare: 4 A at 50 mm and the mode 'flash' at 100 mm on each.
    """
    call = call_of(tmp_path, (BIKE % (LOADS, SWITCHES), UNIT, UNIT))
    found = document(portloom, call, tmp_path)
    assert [(unit["place"], unit["turned"], unit["feed"]["run_mm"]) for unit in found["units"]] == [
        ("at the neck", False, 1000),
        ("at the tail", False, 500),
    ]
    assert [[line["loads"] for line in unit["outputs"]] for unit in found["units"]] == [[["lamp"]], [["marker"]]]
    assert [unit["feed"]["main_fuse_a"] for unit in found["units"]] == [3, 3]
    assert [unit["feed"]["worst_a"] for unit in found["units"]] == [1, 1]
    assert (found["wire_run_mm"], found["spare_port_loss_mm"], found["cost_mm"]) == (1500, 600, 2100)
    copper = 8.89 * (0.5 * (1.7 + 1.15 + 8 * 0.23) + 1.5 * (1.4 + 0.85))
    assert float(found["copper_g"]) == pytest.approx(copper, abs=0.001)
    is_golden(portloom(*call, "--full", folder=tmp_path).stdout, GOLDEN / "long-trial.txt", rewrite=rewrite)


def test_no_golden_is_left_over() -> None:
    """Every golden text of two units is one that a test compares."""
    named = re.findall(r'"((?:harbour|bare|long)-[\w-]+)(?:\.txt)?"', Path(__file__).read_text("utf-8"))
    assert {path.stem for path in GOLDEN.glob("*.txt")} == {name for name in named if "trail.yaml" not in name}


# --- JSON


def test_keys_are_those_of_one_unit(portloom: Portloom) -> None:
    """Each key of a plan of one unit stands once: at the top, or in each part under 'units', and two in both."""
    one = document(portloom, ("plan", "examples/harbour-trail.yaml", "--unit", "eleven-way"))
    two = document(portloom, HARBOUR_ON_TWO)
    first, second = two["units"]
    assert set(first) == set(second)
    assert set(first) & set(two) == {"protection", "warnings"}
    assert set(first) | set(two) == set(one) | {"units", "multiplexers_not_used"}
    order = list(one)
    for part in (first, two):
        known = [key for key in part if key in one]
        assert known == sorted(known, key=order.index)


@pytest.mark.parametrize("call", [HARBOUR_ON_TWO], ids=" ".join)
def test_cost_adds_up(portloom: Portloom, call: Call) -> None:
    """Wire run and spare-port loss make the cost; the wires that are listed make the wire run, each counted once."""
    found = document(portloom, call)
    assert found["wire_run_mm"] + found["spare_port_loss_mm"] == found["cost_mm"] == found["bound_mm"]
    wires = [wire for part in ("fed", "returns") for wire in found[part]]
    wires += [wire for unit in found["units"] for part in ("outputs", "inputs") for wire in unit[part]]
    wires += [unit["feed"] for unit in found["units"]]
    wires += [wire for wire in found["other_wires"] if wire["kind"] == "coil lead"]
    assert sum(wire["run_mm"] for wire in wires) == found["wire_run_mm"]


def test_what_both_draw_asleep_adds_up(portloom: Portloom) -> None:
    """Two eight-ways draw 0.3 mA each asleep and 35 mA each awake, by their profile; nothing else is on then."""
    resting = document(portloom, HARBOUR_ON_TWO)["energy"]["resting"]
    assert [line["drawn_ma"] for line in resting] == [Decimal("0.6"), 70]


@pytest.mark.parametrize(
    ("call", "status"), [(TOO_SMALL, "no plan"), ((*HARBOUR_ON_TWO, "--time-limit", "0"), "unknown")]
)
def test_other_answers_name_both_units(portloom: Portloom, call: Call, status: str) -> None:
    """No conflict of one unit is told of two; what counting tells is."""
    found = document(portloom, call)
    assert found["status"] == status
    assert [unit["unit"] for unit in found["units"]] == [call[3], call[5]]
    assert "unit" not in found
    if status == "no plan":
        assert found["conflicts"] == []
        assert found["why_not"]["sentence"] == (
            "no output of either takes fuel pump: it must be driven in mode 'engine-run'; it draws 5.5 A and needs a "
            "trip of 6.875 A (1.25 x) (rules mode and trip); may help: take a unit that has it"
        )


# --- what works with two units, and what is refused

NAMES = {
    "BIKE": "examples/harbour-trail.yaml", "ONE": "examples/bare-single.yaml",
    "POST": "examples/harbour-trail-posted.md", "A": "eight-way", "B": "eight-way", "SMALL": "six-way",
    "FOLDER": "not-written", "FILE": "not-written",
}  # fmt: skip


def table() -> list[tuple[str, str, str]]:
    """Return the lines of the guide's table: call, what comes of it, what is said."""
    guide = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## What works with two units")[2].partition("## ")[0]
    return re.findall(r"^\| `([^`]+)` \| (.+?) \| (.+?) \|$", guide, re.MULTILINE)


@third_of(("call", "verdict", "said"), table(), 0)
def test_the_guides_table_is_true(portloom: Portloom, call: str, verdict: str, said: str) -> None:
    """Each call says what the table has; what is refused ends with 2, with one line on stderr and nothing on stdout."""
    words, load_on_port = call.partition(" --not ")[::2]
    ran = portloom(
        *(NAMES.get(word, word) for word in words.split()), *(("--not", load_on_port) if load_on_port else ())
    )
    if verdict == "refused":
        assert (ran.returncode, ran.stdout, ran.stderr.count("\n")) == (2, "", 1)
        assert said in ran.stderr
    else:
        assert ran.stderr == ""
        assert ran.returncode == ("SMALL --unit SMALL" in call)
        assert said in " ".join(ran.stdout.split())


def test_the_guides_table_is_whole() -> None:
    """Every command that takes a unit is in the table; so is every option of 'plan'."""
    calls = [call for call, _, _ in table()]
    taking = {
        name for name, option in (*options(repeated=False), *options(repeated=True)) if option.opts[0] == "--unit"
    }
    assert {call.split()[0] for call in calls} == taking
    of_plan = {option.opts[0] for name, option in options(repeated=False) if name == "plan"}
    assert of_plan <= {word for call in calls if call.startswith("plan") for word in call.split()}


def test_two_units_need_two_places(portloom: Portloom, tmp_path: Path) -> None:
    """The file is named, with its line, what is wrong and what would be right."""
    one_place = (BIKE % (LOADS, SWITCHES)).replace(", {name: at the tail, front: tail}", "")
    ran = portloom(*call_of(tmp_path, (one_place, UNIT, UNIT)), folder=tmp_path)
    line = one_place[: one_place.index("places:")].count("\n") + 1
    assert (ran.returncode, ran.stdout) == (2, "")
    assert re.fullmatch(
        rf"bike.yaml:{line}:\d+: two units sit at two different places, the bike has one place, 'at the neck'; "
        "list a second one under 'places'\n",
        ran.stderr,
    )


def test_what_is_wrong_in_each_file_comes_at_once(portloom: Portloom, tmp_path: Path) -> None:
    """A line for each file that is wrong; a unit named twice is told once."""
    texts = ((BIKE % (LOADS, SWITCHES)).replace("1000 mm", "1000 A"), UNIT.replace("40 A}", "40 mm}"), UNIT)
    call = call_of(tmp_path, texts)
    ran = portloom(*call, folder=tmp_path)
    assert [line.partition(":")[0] for line in ran.stderr.splitlines()] == ["bike.yaml", "one.yaml", "More"]
    ran = portloom(*call[:2], "--unit", "one.yaml", "--unit", "one.yaml", folder=tmp_path)
    assert [line.partition(":")[0] for line in ran.stderr.splitlines()] == ["bike.yaml", "one.yaml", "More"]


# --- against a program of its own


@cache
def tried(seed: int) -> int | None:
    """Return what the best plan of a random bike costs, of all that there are."""
    return pairs_by_trying.optimum(*pair_case(seed)).cost_um


def planned(texts: Texts) -> dict[str, Any] | None:
    """Return the JSON of the best plan of a bike on two units, its figures exact; None where nothing fits."""
    bike, one, other = texts
    answer = plan(bike_from_text(bike, "bike"), unit_from_text(one, "one"), unit_from_text(other, "other"))
    if isinstance(answer, NothingFits):
        return None
    assert isinstance(answer, Planned)
    found = json.loads(json.dumps(plan_json(answer.plan)), parse_float=Decimal, parse_int=Decimal)
    assert isinstance(found, dict)
    return found


@each_seed(SEEDS[6:9], [seed for seed in SEEDS if seed not in SEEDS[6:9]])
def test_no_plan_is_cheaper_and_the_other_program_prices_it_alike(seed: int) -> None:
    """What is told is a plan by the other program's rules, costs what it says, and every other plan costs as much.

    The other program tries every plan at every two places; where it finds none, it is proved that there is none.
    """
    texts = pair_case(seed)
    found = planned(texts)
    if found is None:
        assert tried(seed) is None
        return
    bike, one, other = texts
    two = Two(read_bike(bike), (read_unit(one), read_unit(other)))
    cost = int(found["cost_mm"] * 1000)
    assert pair_cost_um(two, pair_told(two, found)) == cost == tried(seed)


@pytest.mark.long
def test_bikes_with_just_two_places_are_among_them() -> None:
    """Of the random bikes most have two places, most have a plan, and one has none."""
    places = [len(read_bike(pair_case(seed)[0]).places) for seed in SEEDS]
    assert places.count(2) >= 4
    assert any(tried(seed) is None for seed in SEEDS)
    assert sum(tried(seed) is not None for seed in SEEDS) >= 6


def test_the_harbour_trail_is_a_plan_by_the_other_program(portloom: Portloom) -> None:
    """The whole example, its multiplexer unused: the other program's rules pass the plan, and it costs as much."""
    bike = (ROOT / "examples" / "harbour-trail.yaml").read_text("utf-8")
    without = re.sub(r"^multiplexers:.*\n", "", bike, flags=re.MULTILINE)
    unit = (ROOT / "profiles" / "eight-way.yaml").read_text("utf-8")
    two = Two(read_bike(without), (read_unit(unit), read_unit(unit)))
    found = document(portloom, HARBOUR_ON_TWO)
    assert pair_cost_um(two, pair_told(two, found)) == int(found["cost_mm"] * 1000)
