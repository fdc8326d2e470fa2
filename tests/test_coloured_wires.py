"""The wires that are cut for a plan, as they are given their colours: each look once, settled colours kept.

The bikes are made up.
"""

from functools import cache

from laid_bikes import EACH_FITTING
from outcomes import EXAMPLES, PROFILES
from portloom.base.bike import Bike, Colour
from portloom.colours.count import measured
from portloom.colours.question import Colouring, Question
from portloom.documents.wiring.colours import colour_question
from portloom.documents.wiring.lists import Lists, colour_label, lists_of
from portloom.documents.wiring.pieces import wiring_of
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, plan
from portloom.search.colouring import coloured
from slices import first_of
from unasked import bike_from_text

SETTLED = (("brake lamp", "{base: BU, stripe: WH}"), ("horn", "{base: GNYE}"), ("key switch", "{base: PK}"))


@cache
def asked(bike: str, unit: str, settled: tuple[tuple[str, str], ...] = ()) -> tuple[Bike, Planned, Question]:
    """Return a bike, its plan and the question of its colours, some of them settled in the bike's file."""
    text = (EXAMPLES / f"{bike}.yaml").read_text("utf-8")
    for name, colour in settled:
        assert f"part: {name}," in text
        text = text.replace(f"part: {name},", f"part: {name}, colour: {colour},")
    read = bike_from_text(text, "bike")
    answer = plan(read, unit_from_text((PROFILES / f"{unit}.yaml").read_text("utf-8"), "unit"))
    assert isinstance(answer, Planned)
    return read, answer, colour_question(read, wiring_of(answer.laid))


@cache
def chosen(bike: str, unit: str) -> Colouring:
    """Return the colours of an example's wires."""
    return coloured(asked(bike, unit)[2])


@cache
def lists(bike: str, unit: str) -> Lists:
    """Return the lists of an example's plan, in colour."""
    return lists_of(asked(bike, unit)[1].laid, dict(chosen(bike, unit).colours))


@EACH_FITTING
def test_each_piece_that_is_cut_has_the_colour_of_its_look(bike: str, unit: str) -> None:
    """Pieces of one circuit and size are one in the question, with all their legs and connectors."""
    _, answer, question = asked(bike, unit)
    pieces = list(wiring_of(answer.laid).ours)
    assert {wire.key for wire in question.wires} == {colour_label(piece) for piece in pieces}
    for wire in question.wires:
        own = [piece for piece in pieces if colour_label(piece) == wire.key]
        assert set(wire.legs) == {number for piece in own for number in piece.leg_numbers}
        passed = {f"the connector at {way.at}" for piece in own for way in piece.connectors}
        ends = {f"the plug of {end.name}" for piece in own for end in piece.ends if end.kind == "multiplexer"}
        assert set(wire.connectors) == passed | ends
    assert all(piece.colour is not None for piece in lists(bike, unit).wiring.ours)


@first_of(("bike", "unit"), [("harbour-trail", "eleven-way"), ("sidecar-hauler", "twenty-way")], 1)
def test_no_two_wires_in_the_plug_of_a_multiplexer_look_alike(bike: str, unit: str) -> None:
    """Where the reels have colours enough for its ways."""
    view = next(view for view in lists(bike, unit).views if view.name.startswith("multiplexer"))
    colours = [way.wire.colour for way in view.ways if way.wire is not None]
    assert len(colours) > 5
    assert len(set(colours)) == len(colours)


@EACH_FITTING
def test_every_example_is_proved(bike: str, unit: str) -> None:
    """The colours of every example are proved best; no other wire looks like earth."""
    _, _, question = asked(bike, unit)
    found = chosen(bike, unit)
    assert found.proven
    assert found.measure == measured(question, dict(found.colours))
    assert (found.measure.stray_earths, found.measure.like_earths) == (0, 0)


def test_settled_colours_are_kept() -> None:
    """A colour on a load or an input is that of its circuit's wire, or of its own feed; its return stays earth."""
    _, answer, question = asked("harbour-trail", "eleven-way", SETTLED)
    found = dict(coloured(question).colours)
    circuits = {
        end.name: colour_label(wire)
        for wire in wiring_of(answer.laid).ours
        if wire.kind in ("output", "fed load", "multiplexer way", "input")
        for end in wire.ends
    }
    assert found[circuits["brake lamp"]] == Colour(base="BU", stripe="WH")
    assert found[circuits["horn"]] == Colour(base="GNYE")
    assert found[circuits["key switch"]] == Colour(base="PK")
    earths = {found[wire.key] for wire in question.wires if wire.kind == "earth"}
    assert earths == {Colour(base="BK")}
