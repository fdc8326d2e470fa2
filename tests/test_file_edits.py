"""Changes on the tree of a bike's file, by hand; and that sets are passed over only where none of them fits."""

import pytest

from file_edit_making import made
from file_edit_named import NAMED
from file_edit_sets import subsets
from file_edits import Edit, Tree, effort_of, every_edit, led_watts, loads_of
from oracle.reading import tree_of

BIKE = tree_of("""
supply: {running: 14 V}
frame: {legs: [{between: [tray, neck], opening: 5 mm, opens_to: 8 mm, opens: panel}]}
places: [{name: on the tray, front: tray}]
loads:
  - {part: dipped beam, at: neck, lamp: H4 dipped}
  - {part: tail lamp, at: tray, lamp: P21/5W tail}
  - {part: plate lamp, at: tray, lamp: C5W}
  - {name: left spot, part: spot lamp, at: neck, power: 35 W, kind: filament, mode: dim}
  - {name: camera, at: neck, current: 1 A}
  - {name: tell-tale, at: neck, current: 0.1 A, kind: led, from: [left spot]}
  - {name: horn, part: horn, at: neck, current: 3 A, own_switch: neck}
  - {name: brake lamp, part: brake lamp, at: tray, lamp: P21/5W brake}
inputs:
  - {name: spot switch, at: neck, operates: [left spot, camera]}
  - {name: key, part: key switch, at: tray}
""")
UNIT = tree_of("{inputs: [{name: in 1, accepts: [earth]}]}")


def load(name: str, *edits: Edit) -> Tree:
    """Return a load as it is written after some changes."""
    tree = made(BIKE, frozenset(edits))
    assert tree is not None
    return next(one for one in tree["loads"] if name in (one.get("name"), one.get("part")))


def off(name: str) -> Edit:
    return Edit("left off", (name,))


def sharing(one: str, other: str) -> Edit:
    return Edit("sharing", (one, other))


def test_what_an_led_draws_is_its_share_of_the_filament() -> None:
    """H4 dipped: 68 W at 13.2 V are 5.152 A, at 14 V 72.1 W, of which 40 % are 28.9 W, rounded up (UN R37; memory)."""
    assert led_watts(BIKE, loads_of(BIKE)["dipped beam"]) == "28.9 W"


def test_an_led_is_written_as_the_file_wants_it() -> None:
    """No lamp; the other filament of the bulb is still told; one that was dimmed takes dimming."""
    assert load("dipped beam", Edit("LED lamp", ("dipped beam",))) == {
        "part": "dipped beam",
        "at": "neck",
        "kind": "led",
        "power": "28.9 W",
        "except": ["main beam", "flashing the main beam"],
    }
    assert load("left spot", Edit("LED lamp", ("left spot",)))["dims"] == "true"


def test_who_shares_comes_with_all_of_its_group() -> None:
    """The plate lamp is in a group with the tail lamp: with the beam all three are, under the name that is there."""
    edit = sharing("dipped beam", "plate lamp")
    assert load("dipped beam", edit)["share"] == load("tail lamp", edit)["share"] == "position lamps"


def test_no_lamp_of_the_road_comes_into_a_group_with_comfort() -> None:
    """Not as a pair, and not by way of others; what is fed through a relay shares with nothing."""
    assert made(BIKE, frozenset({sharing("plate lamp", "left spot")})) is None
    assert made(BIKE, frozenset({sharing("left spot", "camera"), sharing("camera", "tail lamp")})) is None
    assert made(BIKE, frozenset({sharing("left spot", "camera"), Edit("relay", ("camera",))})) is None
    assert made(BIKE, frozenset({sharing("left spot", "camera")})) is not None


def test_what_goes_with_a_load() -> None:
    """Its guest; a switch only with all that it works; one that tells something stays."""
    one, both = (made(BIKE, frozenset(edits)) for edits in ([off("left spot")], [off("left spot"), off("camera")]))
    assert one is not None
    assert both is not None
    assert [switch["name"] for switch in one["inputs"]] == ["spot switch", "key"]
    assert [switch["name"] for switch in both["inputs"]] == ["key"]
    assert "tell-tale" not in loads_of(one)


def test_a_change_to_what_is_left_off_is_none() -> None:
    assert made(BIKE, frozenset({off("left spot"), Edit("LED lamp", ("left spot",))})) is None


def test_which_changes_there_are() -> None:
    """A lamp of the road is never left off, what the unit watches stays on it, a fuse is for what is switched."""
    every = every_edit(BIKE, UNIT)
    of = {kind: [edit.things[0] for edit in every if edit.kind == kind] for kind in ("left off", "relay", "fused feed")}
    assert of["left off"] == ["camera", "left spot", "tell-tale"]
    assert of["relay"] == ["camera", "dipped beam", "horn", "plate lamp", "tail lamp"]
    assert of["fused feed"] == ["horn"]
    assert {edit.things for edit in every if edit.kind == "place"} == {("neck",)}


@pytest.mark.parametrize("name", ["LED and sharing", "avoid of a fed load", "names those that share"])
def test_no_set_that_is_passed_over_fits(name: str) -> None:
    """Every set of little effort is planned, one by one: none fits that is not found."""
    bench = NAMED[name].bench
    fit = {edits for edits in subsets(bench.edits, 4) if edits and bench.fits(edits)}
    minimal = {edits for edits in fit if not any(less < edits for less in fit)}
    found = list(bench.fitting(4))
    assert minimal
    assert {bench.texts(edits) for edits in found} == {bench.texts(edits) for edits in minimal}
    assert bench.least(4) == (min(map(effort_of, minimal)), found[0])
