"""What a change order must not keep quiet about: fuses, settings, wires that come off, wires too short.

Invented bike, no real machine; what an electrician must be told: common practice, no source.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from calls import Portloom
from portloom.documents.json import plan_json
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.problems import BadFile
from slices import first_of
from test_built_loom import HARBOUR, order_of, planned

Printed = dict[str, Any]
PLATE = "- {part: plate lamp, at: tail, lamp: W5W}\n"
MAIN = "- {part: main beam, at: headlamp, lamp: H4 main}\n"
FLASH = "- {part: flash button, at: left bar, share: beams}\n"


@pytest.fixture(scope="module")
def built() -> Printed:
    """Return the printed plan of the Harbour Trail."""
    return plan_json(planned(HARBOUR).plan)


def with_(old: str, new: str) -> str:
    """Return the Harbour Trail with one thing otherwise."""
    assert old in HARBOUR
    return HARBOUR.replace(old, new)


@pytest.mark.parametrize(
    ("old", "new", "said", "circuit"),
    [
        ("radiator, current: 3.5 A", "radiator, current: 1.5 A", "fuse of horn: 2 A instead of 5 A", "feed of horn"),
        (
            "at: right bar, made: run",
            "at: right bar, made: stop",
            "in 4: contact of engine stop switch open instead of closed at rest",
            "in 4",
        ),
        ("brake switch, at: pedal", "brake switch, at: pedal, action: latch", "in 12: latch instead of push", "in 12"),
        ("current: 5.5 A}", "current: 5.5 A, mode: steady}", "out 8: steady instead of engine-run", "out 8"),
    ],
)
def test_another_fuse_or_setting_is_set_anew_and_tested(
    old: str, new: str, said: str, circuit: str, built: Printed
) -> None:
    """No wire differs: the fuse, the mode or how the input reads its switch is told all the same."""
    order = order_of(planned(with_(old, new), built=built))
    assert order.settings == (said,)
    assert not order.nothing
    assert [one.circuit for one in order.retests if one.is_set] == [circuit]


def test_a_fuse_that_is_new_is_told(built: Printed) -> None:
    """A load fed by a fuse of its own: its rating is the next step of the standard's that carries 2 A."""
    socket = "- {part: socket, at: battery, current: 2 A, fed: fuse, own_switch: battery}\nlater:\n"
    order = order_of(planned(with_("later:\n", socket), built=built))
    assert "fuse of socket: 3 A" in order.settings


def test_a_circuit_that_a_wire_comes_off_is_not_left_alone(built: Printed) -> None:
    """The plate lamp is gone: its wires come off at splices of circuits that live on, and those are tested."""
    order = order_of(planned(with_(PLATE, ""), built=built))
    assert [(one.circuit, one.key, one.joins, one.at, one.leg) for one in order.altered] == [
        ("out 3", "out 3.5", False, "S2", "tray - tail"),
        ("return tail", "return tail.2", False, "S11", "tray - tail"),
    ]
    assert {"out 3", "return tail"}.isdisjoint(order.left)
    assert {one.circuit for one in order.retests if one.is_off} == {"out 3", "return tail"}


def test_a_splice_joins_what_is_in_use(built: Printed) -> None:
    """What came off a splice is cut off there: it is of the crimp no more, nor is its copper."""
    before = planned(HARBOUR, built=built).plan.wiring.splices
    after = {one.name: one for one in planned(with_(PLATE, ""), built=built).plan.wiring.splices}
    (splice,) = (one for one in before if one.name == "S2")
    assert "out 3.5" in splice.wires
    assert after["S2"].wires == tuple(key for key in splice.wires if key != "out 3.5")
    assert after["S2"].area == splice.area - 5_000  # 0.5 mm2


def test_a_multiplexer_is_named_where_its_input_is_tested(built: Printed) -> None:
    """A switch of it is at the other bar, so its plug is parted: the data wire on in 9 leads to it."""
    order = order_of(planned(with_("hazard switch, at: right bar", "hazard switch, at: left bar"), built=built))
    assert [one.on_it for one in order.retests if one.circuit == "in 9"] == [("neck gatherer",)]


def test_a_circuit_that_a_wire_joins_is_not_left_alone(built: Printed) -> None:
    """A lamp more at the tail joins the return there, at the splice that is built."""
    text = with_(PLATE, f"{PLATE}- {{name: camera, at: tail, current: 0.4 A, kind: electronics}}\n")
    order = order_of(planned(text, built=built))
    assert ("return tail", True, "S11") in [(one.circuit, one.joins, one.at) for one in order.altered]
    assert "return tail" not in order.left


def test_a_wire_that_is_too_short_for_its_leg_is_told(built: Printed) -> None:
    """The leg to the tray is 300 mm longer: its wires of 980 mm of way were cut for 320 mm or less beyond that."""
    text = with_("[headstock, tray], length: 620 mm", "[headstock, tray], length: 920 mm")
    short = {one.key: one for one in order_of(planned(text, built=built)).short}
    assert (short["out 3.3"].length, short["out 3.3"].run) == (1_158_000, 1_280_000)
    assert all("headstock - tray" in wire["legs"] for wire in built["wires"] if wire["wire"] in short)


def test_a_wire_off_a_circuit_in_use_is_not_written_as_taken_out(built: Printed) -> None:
    """The splice that it came off is still there, so the plan keeps it: said in so many words."""
    printed = plan_json(planned(with_(PLATE, ""), built=built).plan)
    with pytest.raises(BadFile) as refused:
        built_from_text(json.dumps({**printed, "taken_out": ["dead wires of out 3"]}), "built.json")
    assert "came off a circuit that is still in use" in str(refused.value)


@first_of(
    ("old", "new"),
    [
        (PLATE, ""),
        ("lamp, at: headlamp, lamp: W5W", "lamp, at: tank, lamp: W5W"),
        (MAIN, ""),
        (FLASH, ""),
        ("radiator, current: 3.5 A", "radiator, current: 1.5 A"),
    ],
    1,
)
def test_sheets_of_what_is_gone_or_where_nothing_is_cut(
    old: str, new: str, tmp_path: Path, portloom: Portloom, built: Printed
) -> None:
    """All sheets are written: what is gone is not used, has no plug on the parts list, and no step on the bench."""
    bike, plan = tmp_path / "bike.yaml", tmp_path / "built.json"
    bike.write_text(with_(old, new), encoding="utf-8")
    plan.write_text(json.dumps(built), encoding="utf-8")
    made = portloom("sheets", str(bike), "--unit", "eleven-way", "--built", str(plan), "--out", str(tmp_path / "out"))
    assert (made.returncode, made.stdout) == (0, "")
    if old == PLATE:
        texts = {name: (tmp_path / "out" / name).read_text(encoding="utf-8-sig") for name in ("wiring-list.csv",
                 "parts-list.csv", "bench-test.html", "cut-list.txt")}  # fmt: skip
        assert "not used (was plate lamp)" in texts["wiring-list.csv"]
        assert "few milliamperes" not in next(
            line for line in texts["wiring-list.csv"].splitlines() if "return tail.2" in line
        )
        assert "plate lamp" not in texts["parts-list.csv"] + texts["bench-test.html"]
        assert "Nothing is cut from a reel." in texts["cut-list.txt"]
