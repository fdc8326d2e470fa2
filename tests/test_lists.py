"""Lists of a plan against its wires, against each other, and against tables from outside; the bikes are made up."""

import re
from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from itertools import chain, pairwise

import pytest

from laid_bikes import EACH_FITTING, EACH_RANDOM, FITTING, RandomBikes, all_laid, laid_example, laid_text
from portloom.documents.parts import also_needed
from portloom.documents.wiring.lists import Lists, lists_of
from portloom.documents.wiring.parts import PartsLine
from portloom.documents.wiring.parts_list import with_spare
from portloom.job.laid import Laid

DENSITY = Decimal("8.89")
"""Copper at 20 C, g/cm3 (IEC 60028)."""


def check_cut_list(_: Laid, lists: Lists) -> None:
    """Cut list and wiring list agree to the millimetre, wire by wire and in their sums; longest first."""
    ours = {wire.key: wire for wire in lists.wiring.ours}
    cut = list(chain.from_iterable(reel.pieces for reel in lists.reels))
    assert Counter(piece.wire.key for piece in cut) == {key: 1 + len(wire.connectors) for key, wire in ours.items()}
    assert len({piece.number for piece in cut}) == len(cut)
    assert sum(piece.cut for piece in cut) == sum(wire.cut for wire in ours.values())
    assert sum(reel.cut for reel in lists.reels) == sum(wire.cut for wire in ours.values())
    assert sum(reel.cut - reel.waste for reel in lists.reels) == sum(wire.run for wire in ours.values())
    for reel in lists.reels:
        assert all(one.cut >= other.cut for one, other in pairwise(reel.pieces))
        assert {(wire.size, wire.colour) for wire in reel.wires} == {(reel.size, reel.colour)}
        assert reel.copper == reel.size.square_mm * Decimal(reel.cut) / 1_000_000 * DENSITY
    assert len({(reel.size, reel.colour) for reel in lists.reels}) == len(lists.reels)


def check_wire_parts(_: Laid, lists: Lists) -> None:
    """The parts list has as much wire as is cut, as many splices as there are, and their areas."""
    wire = sum(part.quantity for part in lists.parts if part.group == "wire")
    assert wire == Decimal(sum(one.cut for one in lists.wiring.ours)) / 1_000_000
    splices = [part for part in lists.parts if part.group == "splices"]
    crimped = [splice for splice in lists.wiring.splices if not splice.block]
    blocks = [part for part in lists.parts if part.group == "blocks"]
    assert sum(part.quantity for part in splices) == len(crimped)
    assert sum(part.quantity for part in blocks) == len(lists.wiring.splices) - len(crimped)
    areas = sum(part.quantity * Decimal(part.size.removesuffix(" mm2 in all")) for part in splices)
    sizes = {wire.key: wire.size for wire in lists.wiring.wires}
    assert areas == sum(size.square_mm for s in crimped for size in map(sizes.get, s.wires) if size)


DEVICES = ("load", "switch", "own switch", "dash", "multiplexer")


def check_terminals(laid: Laid, lists: Lists) -> None:
    """Every end that is no splice has one terminal, a way of a connector two, a tail of a load one more, a lead two."""
    ours = [end for wire in lists.wiring.ours for end in wire.ends if end.kind != "splice"]
    tails = {load.name for load in laid.site.job.bike.loads if load.leads is not None}
    wanted = len(ours) + sum(end.kind == "load" and end.name in tails for end in ours)
    wanted += 2 * sum(len(connector.wires) for connector in lists.wiring.connectors)
    wanted += 2 * len(lists.leads)
    terminals = [part for part in lists.parts if part.group == "terminals"]
    assert sum(part.quantity for part in terminals) == wanted
    assert not any("mm " in part.what.replace(laid.site.job.unit.terminal or "-", "") for part in terminals)


def check_plugs(_: Laid, lists: Lists) -> None:
    """Each device has a plug with a way for each of its wires; unit, multiplexers and connectors have a housing each.

    Filaments that share a pin are one device.
    A seal is there for each way in use, two where the loom is parted; a blank for each that stays empty.
    """
    ends = [(end.kind, end.name, end.point) for wire in lists.wiring.ours for end in wire.ends if end.kind in DEVICES]
    plugs = [part for part in lists.parts if part.group == "plugs of devices"]
    further = {(name, end.point) for wire in lists.wiring.ours for end in wire.ends for name in end.with_}
    assert len(plugs) == len({(name, point) for kind, name, point in ends if kind != "multiplexer"} - further)
    ways = sum(
        int(of_size.split(" x ")[0]) for part in plugs for of_size in part.size.replace(" and ", ", ").split(", ")
    )
    assert ways == sum(kind != "multiplexer" for kind, *_ in ends)
    housings = [part for part in lists.parts if part.group == "connectors"]
    assert [part.where for part in housings] == [view.at for view in lists.views]
    seals = [part for part in lists.parts if part.what.startswith("seal ")]
    at_unit = sum(end.kind == "unit" and wire.kind != "feed" for wire in lists.wiring.ours for end in wire.ends)
    parted = sum(len(wire.connectors) for wire in lists.wiring.wires if wire.size is not None)
    assert sum(part.quantity for part in seals) == len(ends) + at_unit + 2 * parted
    blanks = sum(part.quantity for part in lists.parts if part.what.startswith("blank"))
    assert blanks == sum(way.wire is None for view in lists.views for way in view.ways)
    assert all(part.where for part in lists.parts if part.group in ("terminals", "seals and blanks"))


def check_splices(laid: Laid, lists: Lists) -> None:
    """No splice is in a leg that moves, none farther from its point than its wires are made up to there.

    The thickest wire is crimped first; heat-shrink slips over the two thickest side by side.
    """
    legs = {leg.label: leg for leg in laid.site.job.network.legs}
    for splice in lists.wiring.splices:
        sizes = [lists.wiring.by_key[key].size for key in splice.crimp_order]
        assert sorted(splice.crimp_order) == sorted(splice.wires)
        areas = [size.area for size in sizes if size is not None]
        assert areas == sorted(areas, reverse=True)
        if splice.spot is None:
            continue
        leg = legs[splice.spot.leg]
        assert splice.point in leg.between
        assert not leg.moves
        assert splice.spot.away <= min(leg.length, laid.site.job.bike.margin.at("splice"))
        assert any(leg.label in lists.wiring.by_key[key].legs for key in splice.wires)
    spots = Counter((splice.point, splice.spot) for splice in lists.wiring.splices if splice.spot is not None)
    legs_of = Counter((splice.point, splice.spot.leg) for splice in lists.wiring.splices if splice.spot is not None)
    for (point, spot), count in spots.items():
        assert count == 1 or legs_of[point, spot.leg] > 2  # 30 mm, 15 mm, the point itself, and again
    shrink = {name: part for part in lists.parts if part.group == "heat-shrink" for name in named(part)}
    crimped = [splice for splice in lists.wiring.splices if not splice.block]
    assert {splice.name for splice in crimped} <= shrink.keys()
    for splice in crimped:
        across = sorted(int(laid.site.job.catalogue[size].diameter) for size in splice.sizes)
        assert Decimal(shrink[splice.name].size.split()[0]) * 1000 >= sum(across[-2:])


def named(part: PartsLine) -> list[str]:
    """Return the splices and diodes that a line names."""
    return part.where.replace(" and ", ", ").split(", ")


def check_spares(_: Laid, lists: Lists) -> None:
    """A tenth more of all that is used up, two of each terminal at least; nothing more of what is there once."""
    for part in lists.parts:
        consumed = part.group in ("wire", "terminals", "seals and blanks", "splices", "heat-shrink", "sleeve", "ties")
        assert bool(part.spare) == consumed
        if consumed:
            step = Decimal(1) if part.measure == "pieces" else Decimal("0.1")
            assert part.quantity / 10 <= part.spare < max(part.quantity / 10 + step, Decimal(3))
            assert (part.quantity + part.spare) % step == 0
            assert part.group != "terminals" or part.spare >= 2


def check_circuit_parts(laid: Laid, lists: Lists) -> None:
    """Fuses, relays, diodes and suppressors are those that the bike and the plan ask for; one source needs no diode."""
    job = laid.site.job
    count = Counter(part.group for part in lists.parts)
    own_coils = sum(one.fed == "relay" and one.own_switch is not None for one in job.bike.loads)
    fused = 1 + len(job.loads.fed) + own_coils + len(laid.site.fixed_of("supply"))
    assert count["fuses"] == fused + any(" A in the regulator's lead" in need for need in also_needed(laid))
    assert count["relays"] == sum(fed.by == "relay" for fed in job.loads.fed)
    fed = [(wired.output.name, guest) for wired in laid.outputs for guest in wired.circuit.guests]
    guests = [(port, guest.name) for port, guest in fed if len(guest.feeders) > 1]
    diodes = [part for part in lists.parts if part.group == "diodes"]
    assert [part.note for part in diodes] == [f"from {port} to {name}" for port, name in guests]
    assert all(part.what.endswith(f"ring towards {name}") for part, (_, name) in zip(diodes, guests, strict=True))
    across = {part.what.removeprefix("suppressor across ") for part in lists.parts if part.group == "suppressors"}
    assert {load.name for load in (*job.loads.on_unit, *job.loads.guests) if load.suppressed} <= across
    assert count["battery leads and straps"] == 3


def check_loom_parts(laid: Laid, lists: Lists) -> None:
    """Every leg in which a wire lies has a sleeve that passes its opening; every opening there has a grommet."""
    sleeves = {part.where: part for part in lists.parts if part.group == "sleeve"}
    filled = {label for wire in lists.wiring.wires for label in wire.legs}
    added = {
        leg.label: laid.site.job.assume["sleeve"] if leg.sleeve is None else leg.sleeve
        for leg in laid.site.job.network.legs
    }
    assert sleeves.keys() == {label for label in filled if added[label]}
    grommets = {part.where for part in lists.parts if part.group == "grommets"}
    legs = {leg.label: leg for leg in laid.site.job.network.legs}
    assert grommets == {label for label in filled if legs[label].opening is not None}
    for label, part in sleeves.items():
        inside = Decimal(part.size.split()[0]) * 1000
        assert part.quantity * 1_000_000 >= legs[label].length
        opening = legs[label].opening
        assert opening is None or inside - 100 + added[label] <= opening


def check_settings(laid: Laid, lists: Lists) -> None:
    """Every output and every input stands there once, with the trip and the loads of the plan."""
    unit = laid.site.job.unit
    assert [line.port for line in lists.settings.outputs] == [output.name for output in unit.outputs]
    used = {line.port: line for line in lists.settings.outputs if line.status == "in use"}
    assert used.keys() == {wired.output.name for wired in laid.outputs}
    for wired in laid.outputs:
        line = used[wired.output.name]
        assert (line.trip, frozenset(line.mode)) == (wired.trip, wired.circuit.modes)
        assert [load.load for load in line.loads] == [load.name for load in wired.circuit.loads]
    kept = {line.port: line.kept_for for line in lists.settings.outputs if line.status == "kept free"}
    assert kept == {wired.output.name: wired.circuit.label for wired in laid.later}
    assert list(dict.fromkeys(line.port for line in lists.settings.inputs)) == [port.name for port in unit.inputs]
    switches = [line.switch for line in lists.settings.inputs if line.switch]
    assert sorted(switches) == sorted(switch.name for switch in laid.site.job.bike.inputs)


def check_views(laid: Laid, lists: Lists) -> None:
    """Every wire at the unit, and every wire through a connector, stands on one way of one view."""
    unit = laid.site.job.unit.unit
    faces = [view for view in lists.views if view.name in (f"{unit}, front face", f"{unit}, rear face")]
    on_unit = [way for view in faces for way in view.ways]
    there = Counter(way.wire.key for way in on_unit if way.wire)
    assert there == Counter(wire.key for wire in lists.wiring.wires for end in wire.ends if end.kind == "unit")
    names = Counter(way.name for way in on_unit)
    ports = [output.name for output in laid.site.job.unit.outputs] + [port.name for port in laid.site.job.unit.inputs]
    assert all(names[port] == 1 for port in ports)
    connectors = [view for view in lists.views if view.name == "connector"]
    parted = Counter((view.at, way.name, way.wire.key) for view in connectors for way in view.ways if way.wire)
    passed = [(one.at, str(one.way), wire.key) for wire in lists.wiring.wires for one in wire.connectors]
    assert parted == Counter(passed)


CHECKS = (
    check_cut_list,
    check_wire_parts,
    check_terminals,
    check_plugs,
    check_splices,
    check_spares,
    check_circuit_parts,
    check_loom_parts,
    check_settings,
    check_views,
)


@pytest.mark.parametrize("check", CHECKS)
@EACH_FITTING
def test_an_example(bike: str, unit: str, check: Callable[[Laid, Lists], None]) -> None:
    """It holds for every example that fits."""
    laid = laid_example(bike, unit)
    check(laid, lists_of(laid))


@EACH_RANDOM
def test_random_bikes(random_bikes: RandomBikes) -> None:
    """It holds for random bikes."""
    for laid in all_laid(random_bikes):
        lists = lists_of(laid)
        for check in CHECKS:
            check(laid, lists)


# --- by hand


def test_the_harbour_trail_by_hand() -> None:
    """Its one connector, fuses and relay, read off the bike's file and the eleven-way's.

    Through the headstock: the dash's wire, the horn's to its switch and on, the fan's, three returns, the sender's.
    """
    lists = lists_of(laid_example(*FITTING[0]))
    told = [(part.what, part.size) for part in lists.parts if part.group in ("fuses", "relays", "connectors")]
    assert told == [
        ("plug of eleven-way, front face", "15 ways, 5.682 A at most"),
        ("plug of eleven-way, rear face", "13 ways, 4 empty, 20.566 A at most"),
        ("plug of multiplexer neck gatherer", "eight ways, 2 empty"),
        ("connector, both halves, sealed", "eight ways, 6.562 A at most"),
        ("main fuse and its holder", "30 A, ISO 8820-3 type C"),
        ("fuse of horn and its holder", "5 A, ISO 8820-3 type C"),
        ("fuse of fan and its holder", "7.5 A, ISO 8820-3 type C"),
        ("fuse of fan relay's coil and its holder", "3 A, ISO 8820-3 type C"),
        ("fuse of the regulator's lead and its holder", "30 A, ISO 8820-3 type C"),
        ("fan relay and its socket", "12 V coil, closing contact for 7.5 A or more"),
    ]
    assert [one.what for one in lists.removed][:3] == [
        "old fuse box",
        "flasher relay",
        "load resistors at the indicators",
    ]
    six = next(reel for reel in lists.reels if reel.size.label == "6 mm2")
    assert (six.run, six.cut) == (610_000, 1_271_000)
    assert round(six.copper, 2) == Decimal("67.80")  # 6 mm2 x (0.3 m to the fuse + 0.971 m) x 8.89 g/cm3


def test_a_bulb_of_two_filaments_has_one_plug() -> None:
    """Three contacts each: H4 on its base P43t, P21/5W on BAY15d with its case (IEC 60061, from memory)."""
    plugs = [part for part in lists_of(laid_example(*FITTING[0])).parts if part.group == "plugs of devices"]
    ways = {part.what: sum(map(int, re.findall(r"(\d+) x ", part.size))) for part in plugs}
    assert ways["plug of dipped beam and main beam"] == ways["plug of tail lamp and brake lamp"] == 3
    assert not {f"plug of {lamp}" for lamp in ("dipped beam", "main beam", "tail lamp", "brake lamp")} & ways.keys()


@pytest.mark.parametrize(("insulation", "wanted"), [("75 C", "A"), ("90 C", "B"), ("105 C", "C"), ("125 C", "C")])
def test_the_wire_that_must_be_bought(insulation: str, wanted: str) -> None:
    """The least class whose insulation takes what the plan reckons with: A 85, B 100, C 125 C (ISO 6722, from memory).

    So the column for 105 C is more than class B earns, and one for 90 C is what it does.
    """
    lists = lists_of(laid_text(f"{SPLICED}assume: {{insulation: {insulation}}}", UNIT))
    bought = {part.what for part in lists.parts if part.group == "wire"}
    assert bought == {f"wire, {insulation} (class {wanted})"}


SPLICED = """
bike: trial trail
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 800 mm}
    - {between: [neck, bars], length: 300 mm, moves: true}
    - {between: [tray, tail], length: 50 mm}
  earth: [tray]
places: [{name: on the tray, front: tray}]
later: []
ignition: own
loads:
  - {name: a, at: neck, power: 28 W, kind: led, share: both}
  - {name: b, at: bars, power: 14 W, kind: led, share: both}
  - {name: c, at: bars, power: 14 W, kind: led, share: bars}
  - {name: d, at: bars, power: 14 W, kind: led, share: bars}
  - {name: e, at: tail, power: 14 W, kind: led, share: tail}
  - {name: f, at: tail, power: 14 W, kind: led, share: tail}
inputs:
  - {name: switch, at: bars, signal: earth, operates: [a, b, c, d, e, f]}
"""
UNIT = """
unit: trial way
feed: {limit: 40 A}
outputs: [{names: [x, y, z], limit: 5 A, peak: 40 A}]
inputs: [{name: s, accepts: earth}]
"""


def test_splices_keep_off_legs_that_move() -> None:
    """At the neck in the leg that is still, at the bars at the point itself, at the tail within a leg of 50 mm.

    30 mm from the neck: the 40 mm that a wire is made up to at a splice, less 10 mm that are stripped.
    """
    lists = lists_of(laid_text(SPLICED, UNIT))
    spots = {
        (splice.circuit, splice.point): splice.spot and (splice.spot.leg, splice.spot.away / 1000)
        for splice in lists.wiring.splices
    }
    output = {load: wire.circuit for wire in lists.wiring.wires for load in (wire.end.name,) if wire.kind == "output"}
    assert spots[output["a"], "neck"] == ("tray - neck", 30)
    assert spots[output["c"], "bars"] is None
    assert spots[output["e"], "tail"] == ("tray - tail", 25)


@pytest.mark.parametrize(("given", "told"), [("", "as the unit's plug asks"), ("terminal: 2.8 mm tab", "2.8 mm tab")])
def test_what_the_unit_takes_is_told_as_its_file_says(given: str, told: str) -> None:
    """Where it says nothing, the list says so; its supply and the plugs of devices ask for themselves."""
    lists = lists_of(laid_text(SPLICED, f"{UNIT}{given}"))
    what = {part.what for part in lists.parts if part.group == "terminals" and part.where == "unit"}
    assert what == {f"terminal, {told}", "terminal, as the unit's supply asks"}
    assert {part.what for part in lists.parts if part.where == "loads" and part.group == "terminals"} == {
        "terminal, as the device's plug asks"
    }


@pytest.mark.parametrize(("needed", "spare"), [(1, 2), (19, 2), (20, 2), (21, 3), (200, 20)])
def test_spare_terminals(needed: int, spare: int) -> None:
    """A tenth, rounded up, and two at least: common practice, no source."""
    part = PartsLine("terminals", "ring terminal", "for 1 mm2", Decimal(needed), "pieces", "earth")
    assert with_spare(part, 1000).spare == spare


def test_a_relay_in_use_is_not_told_to_come_out() -> None:
    """The sidecar's horn keeps a relay, so only what an output drives itself needs none any more."""
    lists = lists_of(laid_example("sidecar-hauler", "twenty-way"))
    old = [one.what for one in lists.removed if one.what.startswith("old relays")]
    assert old == ["old relays of dipped beam, main beam, fuel pump and fan"]
