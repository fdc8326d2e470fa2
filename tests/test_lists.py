"""Lists of a plan against its wires, against each other, and against tables from outside; the bikes are made up."""

from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from itertools import chain, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from laid_bikes import FITTING, RANDOM, laid_example, laid_random
from portloom.base.ampacity import BLADES, tab_size_for
from portloom.base.copper import DEFAULT_REELS
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.documents.parts import also_needed
from portloom.documents.wiring.lists import Lists, lists_of
from portloom.job.laid import Laid

SOME = settings(max_examples=12, deadline=None, derandomize=True, database=None)
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
    assert sum(part.quantity for part in splices) == len(lists.wiring.splices)
    areas = sum(part.quantity * Decimal(part.size.removesuffix(" mm2 in all")) for part in splices)
    sizes = {wire.key: wire.size for wire in lists.wiring.wires}
    assert areas == sum(size.square_mm for s in lists.wiring.splices for size in map(sizes.get, s.wires) if size)


def check_terminals(laid: Laid, lists: Lists) -> None:
    """Every end that is no splice has one terminal, each way of a connector two, each tail of a load one more."""
    ours = [end for wire in lists.wiring.ours for end in wire.ends if end.kind != "splice"]
    tails = {load.name for load in laid.site.job.bike.loads if load.leads is not None}
    wanted = len(ours) + sum(end.kind == "load" and end.name in tails for end in ours)
    wanted += 2 * sum(len(connector.wires) for connector in lists.wiring.connectors)
    assert sum(part.quantity for part in lists.parts if part.group == "terminals") == wanted


def check_circuit_parts(laid: Laid, lists: Lists) -> None:
    """Fuses, relays, diodes and suppressors are those that the bike and the plan ask for; one source needs no diode."""
    job = laid.site.job
    count = Counter(part.group for part in lists.parts)
    fused = 1 + len(job.loads.fed) + len(laid.site.fixed_of("supply"))
    assert count["fuses"] == fused + any(" A in the regulator's lead" in need for need in also_needed(laid))
    assert count["relays"] == sum(fed.by == "relay" for fed in job.loads.fed)
    fed = [(wired.output.name, guest) for wired in laid.outputs for guest in wired.circuit.guests]
    guests = [(port, guest.name) for port, guest in fed if len(guest.feeders) > 1]
    diodes = [part for part in lists.parts if part.group == "diodes"]
    assert [part.note for part in diodes] == [f"from {port} to {name}" for port, name in guests]
    assert all(part.what.endswith(f"ring towards {name}") for part, (_, name) in zip(diodes, guests, strict=True))
    across = {part.what.removeprefix("suppressor across ") for part in lists.parts if part.group == "suppressors"}
    assert {load.name for load in (*job.loads.on_unit, *job.loads.guests) if load.suppressed} <= across
    assert count["earth straps"] == 2


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
    check_circuit_parts,
    check_loom_parts,
    check_settings,
    check_views,
)


@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize(("bike", "unit"), FITTING)
def test_an_example(bike: str, unit: str, check: Callable[[Laid, Lists], None]) -> None:
    """It holds for every example that fits."""
    laid = laid_example(bike, unit)
    check(laid, lists_of(laid))


@given(which=st.sampled_from(RANDOM))
@SOME
def test_random_bikes(which: tuple[str, int]) -> None:
    """It holds for random bikes."""
    laid = laid_random(*which)
    assume(laid is not None)
    assert laid is not None
    for check in CHECKS:
        check(laid, lists_of(laid))


# --- tabs


def test_the_widths_of_tabs() -> None:
    """IEC 61210 has flat quick-connect tabs of 2.8, 4.8, 6.3 and 9.5 mm (from memory)."""
    assert [blade.width for blade in BLADES] == [2800, 4800, 6300, 9500]


@given(size=st.sampled_from(DEFAULT_REELS), amperes=st.integers(0, 60_000), more=st.integers(0, 20_000))
@settings(max_examples=100, deadline=None, derandomize=True, database=None)
def test_more_current_never_takes_a_narrower_tab(size: WireSize, amperes: int, more: int) -> None:
    """A tab that carries more is as wide or wider; beyond the widest is a bolt."""
    less, greater = tab_size_for(size, MilliAmps(amperes)), tab_size_for(size, MilliAmps(amperes + more))
    assert greater is None or (less is not None and less.width <= greater.width)
    assert less is None or (less.most >= amperes and less.thickest.area >= size.area)


# --- by hand


def test_the_harbour_trail_by_hand() -> None:
    """Its one connector, fuses, relay and diodes, read off the bike's file and the eleven-way's."""
    lists = lists_of(laid_example(*FITTING[0]))
    told = [(part.what, part.size) for part in lists.parts if part.group in ("fuses", "relays", "connectors")]
    assert told == [
        ("connector", "six ways, 6.562 A at most"),
        ("main fuse and its holder", "30 A, ISO 8820-3 type C"),
        ("fuse of horn and its holder", "5 A, ISO 8820-3 type C"),
        ("fuse of fan and its holder", "7.5 A, ISO 8820-3 type C"),
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
