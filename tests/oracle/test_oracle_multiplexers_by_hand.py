"""Tiny bikes with multiplexers, worked out by hand beside each test (mm)."""

from collections.abc import Callable

import pytest

from . import brute, highs
from .facts import all_facts
from .judge import Result
from .kept import has_plan

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

# The lamp is at the face, which is an earth point: feed 300, no run, no return, 3 A to spare 150.
BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame:
  legs:
    - {between: [battery, tray], length: 300 mm}
    - {between: [tray, neck], length: 600 mm}
    - {between: [neck, bar], length: 400 mm}
  earth: [tray]
places: [{name: seat, front: tray}]
loads: [{name: lamp, at: tray, current: 1 A, kind: led}]
later: []
reels: [0.5 mm2]
"""
BARE = 300 + 3 * 50
UNIT = """
feed: {limit: 10 A}
outputs: [{name: out 1, limit: 4 A, trip: [4 A]}]
inputs:
"""
EARTH, BOTH_WAYS = "accepts: [earth]", "accepts: [earth, coded]"


def bike(buttons: int, boxes: str, says: str = "signal: earth, operates: lamp") -> str:
    """Return a bike with so many buttons at the bar, whose returns are 1000 together."""
    names = ["one", "two", "three", "four"][:buttons]
    switches = "".join(f"  - {{name: {name}, at: bar, {says}}}\n" for name in names)
    return f"{BIKE}inputs:\n{switches}multiplexers: [{boxes}]\n"


def unit(*ports: str) -> str:
    """Return a unit with these inputs."""
    return UNIT + "".join(f"  - {{name: in {number + 1}, {says}}}\n" for number, says in enumerate(ports))


def box(at: str, ways: int = 4, name: str = "box", takes: str = "earth") -> str:
    """Return a multiplexer."""
    return f"{{name: {name}, at: [{at}], ways: {ways}, takes: [{takes}]}}"


@BOTH
@pytest.mark.parametrize(
    ("buttons", "at", "wires"),
    [
        (3, "bar", 2 * 1000),  # three wires of their own: 3000
        (2, "bar", 2 * 1000),  # as long as two wires of their own
        (1, "bar", 1000),  # a wire of its own
        (4, "neck", 4 * 400 + 2 * 600 + 600),  # with a return at the neck; wires of their own: 4000
        (2, "neck", 2 * 1000),  # wires of their own: the box takes 800 + 1200 + 600
        (4, "neck, bar", 2 * 1000),  # at the better of its points
        (4, "tray", 4 * 1000),  # of no use
    ],
)
def test_a_multiplexer_is_used_where_its_wires_are_shorter(optimum: Way, buttons: int, at: str, wires: int) -> None:
    """Each switch to the box, twice the way to the input, and a return where there is none."""
    found = optimum(bike(buttons, box(at)), unit(BOTH_WAYS, *[EARTH] * 3))
    assert found.cost_um == (BARE + 1000 + wires) * 1000


@BOTH
def test_a_return_that_is_there_anyway_is_not_paid_twice(optimum: Way) -> None:
    """A horn on a fuse of its own at the neck: wire 900, return 600. The box there adds 4 x 400 + 2 x 600."""
    horn = "{name: horn, at: neck, current: 1 A, fed: fuse, own_switch: battery}"
    written = bike(4, box("neck")).replace("kind: led}]", f"kind: led}}, {horn}]")
    found = optimum(written, unit(BOTH_WAYS, *[EARTH] * 3))
    assert found.cost_um == (BARE + 1000 + 900 + 600 + 4 * 400 + 2 * 600) * 1000


@BOTH
def test_two_at_one_point_have_one_return(optimum: Way) -> None:
    """Four switches and two inputs, so both boxes: 4 x 400, 2 x 2 x 600, and one return of 600."""
    boxes = f"{box('neck', 2, 'first')}, {box('neck', 2, 'second')}"
    found = optimum(bike(4, boxes), unit(BOTH_WAYS, BOTH_WAYS))
    assert found.cost_um == (BARE + 1000 + 4 * 400 + 2 * 2 * 600 + 600) * 1000


@BOTH
def test_switches_to_supply_ask_for_no_return_but_their_multiplexer_does(optimum: Way) -> None:
    """Three at the bar: 2 x 1000, and 1000 back for the box; wires of their own are as long."""
    written = bike(4, box("bar", takes="supply"), "signal: supply, operates: lamp")
    found = optimum(written, unit("accepts: [supply, coded]", *["accepts: [supply]"] * 3))
    assert found.cost_um == (BARE + 2 * 1000 + 1000) * 1000


@BOTH
def test_a_switch_at_two_points_has_one_tree_to_its_multiplexer(optimum: Way) -> None:
    """From the bar to neck and bar 400, the other switches 0; 2 x 1000; returns from bar 1000 and neck 600."""
    written = bike(3, box("bar")).replace("name: one, at: bar", "name: one, at: [neck, bar]")
    assert optimum(written, unit(BOTH_WAYS)).cost_um == (BARE + 400 + 2 * 1000 + 1000 + 600) * 1000


STRAIGHT = ("key", "front brake", "rear brake", "engine stop", "side stand", "clutch", "neutral", "fallen")


@BOTH
@pytest.mark.parametrize("told", [*STRAIGHT, "engine turning"])
def test_what_guards_the_rider_goes_straight_to_the_unit(optimum: Way, told: str) -> None:
    """Two switches and one input: they fit through the box, unless what they tell must go straight."""
    written = bike(2, box("bar"), f"signal: earth, tells: {told}")
    assert optimum(written, unit(BOTH_WAYS)).feasible is (told not in STRAIGHT)
    assert optimum(f"{written}set_aside: {{multiplexer: agreed}}\n", unit(BOTH_WAYS)).feasible


@BOTH
@pytest.mark.parametrize(("part", "fed", "fits"), [("starter solenoid", "unit", False), ("horn", "unit", True)])
@pytest.mark.parametrize("through", [True, False])
def test_a_starter_button_goes_straight_to_the_unit(
    optimum: Way, part: str, fed: str, *, fits: bool, through: bool
) -> None:
    """Two buttons and one input; with two inputs they go straight."""
    written = bike(2, box("bar")).replace(
        "{name: lamp,", f"{{name: lamp, part: {part}, mode: steady, when: day, fed: {fed},"
    )
    written += "set_aside: {start: agreed}\n"
    ports = [BOTH_WAYS] if through else [BOTH_WAYS, EARTH]
    assert optimum(written, unit(*ports)).feasible is (fits or not through)


@BOTH
def test_a_relay_does_not_make_a_starter_button_less_straight(optimum: Way) -> None:
    """The solenoid hangs on a relay, whose coil has no part; its button goes straight all the same."""
    written = bike(2, box("bar")).replace(
        "{name: lamp,", "{name: lamp, part: starter solenoid, mode: steady, when: day, fed: relay,"
    )
    written += "set_aside: {start: agreed}\n"
    assert [optimum(written, unit(*ports)).feasible for ports in ([BOTH_WAYS], [BOTH_WAYS, EARTH])] == [False, True]


@BOTH
@pytest.mark.parametrize(
    ("boxes", "port", "fits"),
    [
        (box("bar", 3), BOTH_WAYS, True),
        (box("bar", 2), BOTH_WAYS, False),  # a way too few
        (box("bar", 3, takes="supply"), BOTH_WAYS, False),
        (box("bar", 3), EARTH, False),
        (f"{box('bar', 2)}, {box('bar', 2, 'other')}", BOTH_WAYS, False),  # each takes an input
    ],
)
@pytest.mark.parametrize("agreed", [True, False])
def test_ways_signals_and_the_input_are_judged_unless_set_aside(
    optimum: Way, boxes: str, port: str, *, fits: bool, agreed: bool
) -> None:
    """Three switches and one input."""
    says = "set_aside: {multiplexer: agreed}\n" if agreed else ""
    assert optimum(bike(3, boxes) + says, unit(port)).feasible is (fits or agreed)


@BOTH
@pytest.mark.parametrize(("ports", "fits"), [(1, False), (2, True)])
def test_no_output_follows_what_comes_through_a_multiplexer(optimum: Way, ports: int, *, fits: bool) -> None:
    """The output follows in 1, on which one of two buttons must be; through the box it is not."""
    following = unit(*[BOTH_WAYS] * ports).replace("trip: [4 A]", "trip: [4 A], follow: in 1")
    assert optimum(bike(2, box("bar")), following).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("leg", "at", "opening", "fits"),
    [
        ("600 mm", "bar", "4.681 mm", True),  # data, supply and the return of the bar
        ("600 mm", "bar", "4.68 mm", False),
        ("400 mm", "bar", "4.681 mm", True),
        ("400 mm", "bar", "4.68 mm", False),
        ("400 mm", "neck", "5.25 mm", True),  # the return of the bar and three switches
        ("400 mm", "neck", "5.249 mm", False),
        ("600 mm", "neck", "5.25 mm", True),  # data, supply and both returns
        ("600 mm", "neck", "5.249 mm", False),
    ],
)
def test_the_wires_of_a_multiplexer_pass_openings(optimum: Way, leg: str, at: str, opening: str, *, fits: bool) -> None:
    """Wires of 1.7 mm: three take 1.25 x sqrt(3) x 1.7 = 3.6806 mm, four 4.25 mm; the sleeve 1 mm."""
    written = bike(3, box(at)).replace(leg, f"{leg}, opening: {opening}")
    assert optimum(written, unit(BOTH_WAYS)).feasible is fits


@pytest.mark.parametrize("dropped", [("ways", "box"), ("switch", "one"), ("inputs", "in 1"), ("signal", "one")])
def test_a_dropped_fact_frees_a_multiplexer(dropped: tuple[str, ...]) -> None:
    """Three switches, two ways, one input: one more way, one switch less or more such inputs help."""
    texts = bike(3, box("bar", 2)), unit(BOTH_WAYS)
    facts = all_facts(*texts)
    assert dropped in facts
    assert not has_plan(*texts, facts)
    assert has_plan(*texts, [key for key in facts if key != dropped]) is (dropped[0] != "signal")


@pytest.mark.parametrize(("told", "fits"), [("engine turning", True), ("key", False), ("clutch", False)])
def test_a_multiplexer_takes_a_switch_of_any_signal_but_none_that_goes_straight(told: str, *, fits: bool) -> None:
    """The box takes nothing from supply; with the signals dropped it does."""
    texts = bike(2, box("bar"), f"signal: supply, tells: {told}"), unit("accepts: [coded]")
    kept = [key for key in all_facts(*texts) if key[0] != "signal"]
    assert has_plan(*texts, kept) is fits


def test_ways_are_no_fact_where_multiplexers_are_set_aside() -> None:
    """What is not judged is no fact."""
    texts = bike(3, box("bar", 2)) + "set_aside: {multiplexer: agreed}\n", unit(BOTH_WAYS)
    assert "ways" not in {key[0] for key in all_facts(*texts)}
    assert has_plan(*texts, all_facts(*texts))
