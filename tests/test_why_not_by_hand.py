"""Why not, on bikes so small that each answer can be seen, or summed, by hand; the units and bikes are made up."""

from portloom.base.quantities import Micrometres
from portloom.explaining.conflicts.wish import LoadOnPort, UnitAtPlace, Wish
from portloom.explaining.explain import Explained, Fits, explain
from portloom.explaining.why_not import ExtraCost, LoadMove, WhyNot, WishAnswer
from portloom.inputs.files import unit_from_text
from unasked import bike_from_text

BIKE = """
bike: trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [neck, tray], length: 500 mm}
    - {between: [tray, tail], length: 500 mm}
    - {between: [tray, engine], length: 400 mm, ambient: 95 C}
  earth: [tray]
places:
  - {name: along the frame, front: neck, rear: tail}
  - {name: by the engine, front: engine}
later: []
loads:
  - {name: front lamp, at: neck, current: 2 A, return: frame}
  - {name: rear lamp, at: tail, current: 2 A, return: frame}
"""
OUTPUT = "{name: %s, limit: 5 A, peak: 60 A, face: %s}"
FRONT, REAR, REAR_TOO = OUTPUT % ("out 1", "front"), OUTPUT % ("out 2", "rear"), OUTPUT % ("out 3", "rear")
GRIPS = "  - {name: grips, at: neck, current: 2 A, kind: heater, mode: dim, return: frame}\n"
PUMP = "  - {name: pump, at: tail, current: 4.5 A, kind: motor, return: frame}\n"
DIMMER = "{name: out 4, limit: 5 A, peak: 60 A, face: front, pwm: true}"
WIDE = "{name: out 5, limit: 10 A, peak: 60 A, trip: [5 A, 10 A], face: front}"


def explained(
    wish: Wish | None, *outputs: str, bike: str = BIKE, more: str = "", limit: float | None = None
) -> Explained:
    """Explain the bike, with ``more`` loads, on a unit of these outputs."""
    unit = f"{{unit: trial way, feed: {{limit: 30 A, wire_max: 1 mm2, face: rear}}, outputs: [{', '.join(outputs)}]}}"
    return explain(bike_from_text(bike + more, "bike"), unit_from_text(unit, "unit"), wish=wish, time_limit=limit)


def answer(wish: Wish, *outputs: str, bike: str = BIKE, more: str = "") -> WhyNot:
    """Return the answer to a wish."""
    found = explained(wish, *outputs, bike=bike, more=more).why_not
    assert found is not None
    return found


def price(wish: Wish, *outputs: str, more: str = "") -> ExtraCost:
    """Return what a wish costs; it must be possible."""
    found = answer(wish, *outputs, more=more)
    assert found.answer == "possible"
    assert found.price is not None
    return found.price


def test_a_wire_more_the_length_of_the_frame() -> None:
    """From the rear output the front lamp's wire is 1 m, from the front one it is nothing; the rear ones are alike."""
    found = price(LoadOnPort("front lamp", "out 2"), FRONT, REAR, REAR_TOO)
    assert (found.cost, found.wire_run, found.spare_port_loss) == (1_000_000, 1_000_000, 0)
    assert (found.place, found.moves) == ("along the frame", (LoadMove(("front lamp",), "out 1", "out 2"),))


def test_who_is_in_the_way_moves_too() -> None:
    """With two outputs only, the lamps change places: 1 m each."""
    found = price(LoadOnPort("front lamp", "out 2"), FRONT, REAR)
    assert found.cost == 2_000_000
    assert set(found.moves) == {LoadMove(("front lamp",), "out 1", "out 2"), LoadMove(("rear lamp",), "out 2", "out 1")}


def test_a_wish_that_is_so_already_costs_nothing() -> None:
    found = price(LoadOnPort("front lamp", "out 1"), FRONT, REAR)
    assert (found.cost, found.moves) == (0, ())


def test_of_two_ports_alike_the_other_is_the_same() -> None:
    """The rear lamp is on out 2; out 3 differs in nothing but its name."""
    found = price(LoadOnPort("rear lamp", "out 3"), FRONT, REAR, REAR_TOO)
    assert (found.same_kind, found.cost, found.moves) == (True, 0, ())


def test_a_wider_output_costs_its_amperes() -> None:
    """Both are in front; the wide one leaves 8 A unused, 5 A more than the other: at 50 mm each 250 mm."""
    found = price(LoadOnPort("front lamp", "out 5"), FRONT, REAR, WIDE)
    assert (found.cost, found.wire_run, found.spare_port_loss) == (250_000, 0, 250_000)


def test_more_than_an_output_gives_is_impossible_by_itself() -> None:
    """4.5 A want a trip of 5.625 A; the output ends at 5 A."""
    found = answer(LoadOnPort("pump", "out 1"), FRONT, REAR, WIDE, more=PUMP)
    assert found.answer == "alone"
    (refusal,) = found.refusals
    assert all(said in refusal for said in ("pump", "4.5 A", "5.625 A", "out 1", "5 A", "(rule trip)"))


def test_a_place_behind_a_leg_too_hot_for_any_main_fuse_is_impossible_by_itself() -> None:
    """Both lamps draw 4 A and need a fuse of 5 A (1.25 x): at 101 C 1 mm2 carries sqrt(4/75) of its 20 A, 4.6 A."""
    found = answer(UnitAtPlace("by the engine"), FRONT, REAR, bike=BIKE.replace("95 C", "101 C"))
    assert found.answer == "alone"
    (refusal,) = found.refusals
    assert all(said in refusal for said in ("4 A", "5 A", "4.618 A", "1 mm2", "101 C", "(rule main-fuse)"))


def test_a_place_behind_a_hot_leg_is_impossible_for_a_load_whose_trip_is_above_its_main_fuse() -> None:
    """At 95 C it carries sqrt(10/75), 7.3 A: the fuse of 5 A, which is not above the 5 A that each output trips at.

    Without a lamp the place would do, and so it would with a thicker feed: the steps above 5 A are 7.5 A and more.
    """
    found = answer(UnitAtPlace("by the engine"), FRONT, REAR)
    assert found.answer == "with the rest"
    assert found.conflict is not None
    assert {fact.key for fact in found.conflict.facts} == {
        ("wish", "by the engine"),
        ("load", "front lamp"),
        ("terminal", "feed"),
    }
    assert all(said in found.conflict.sentence for said in ("front lamp", "5 A", "7.302 A", "95 C", "1 mm2"))


def test_an_output_that_another_load_must_have() -> None:
    """Only out 4 dims and the grips want that, so the front lamp can't have it: all these facts, and no others."""
    found = answer(LoadOnPort("front lamp", "out 4"), FRONT, REAR, DIMMER, more=GRIPS)
    assert found.answer == "with the rest"
    assert found.conflict is not None
    assert {fact.key for fact in found.conflict.facts} == {
        ("wish", "front lamp", "out 4"),
        ("load", "front lamp"),
        ("load", "grips"),
        ("mode", "grips"),
        ("outputs", "out 4"),
    }
    assert "front lamp is to be on out 4" in [fact.sentence for fact in found.conflict.facts]


def test_of_a_bike_that_does_not_fit_there_is_no_price() -> None:
    """Two lamps and one output: whether the wish could be met by itself is told, its price is not."""
    fine, too_much = (
        answer(LoadOnPort("rear lamp", "out 1"), FRONT),
        answer(LoadOnPort("pump", "out 1"), FRONT, more=PUMP),
    )
    assert (fine.answer, fine.price, too_much.answer) == ("nothing fits", None, "alone")


def test_without_time_nothing_is_said_to_be_impossible() -> None:
    """What refuses by itself is seen at once; all else is not known."""
    told: dict[str, WishAnswer] = {}
    for load in ("front lamp", "pump"):
        found = explained(LoadOnPort(load, "out 1"), FRONT, REAR, WIDE, more=PUMP, limit=0).why_not
        assert found is not None
        told[load] = found.answer
    assert told == {"front lamp": "not known", "pump": "alone"}


def test_without_a_wish_there_is_no_answer() -> None:
    found = explained(None, FRONT, REAR)
    assert found.why_not is None
    assert isinstance(found.answer, Fits)
    assert found.answer.plan.wire_run == Micrometres(500_000)
