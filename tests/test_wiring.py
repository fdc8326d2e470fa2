"""All wires of a plan: what the plan has, each once, in pieces that join; the bikes are made up."""

from collections import Counter
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache
from itertools import chain, pairwise
from math import ceil

import networkx as nx
import pytest

from laid_bikes import EACH_FITTING, EACH_RANDOM, FITTING, RandomBikes, all_laid, laid_example, laid_text
from outcomes import EXAMPLES, PROFILES
from portloom.documents.document import Plan
from portloom.documents.wiring.lists import lists_of
from portloom.documents.wiring.pieces import wiring_of
from portloom.documents.wiring.wire import Wire, WireEnd, Wiring
from portloom.inputs.files import read_bike, read_unit
from portloom.job.laid import Laid
from portloom.planning.plan import Planned, plan

Node = tuple[str, str, str]


@cache
def drawn_up(bike: str, unit: str) -> Plan:
    """Return what is told of an example's plan."""
    answer = plan(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(PROFILES / f"{unit}.yaml"))
    assert isinstance(answer, Planned)
    return answer.plan


def node(end: WireEnd) -> Node:
    """Return what an end is joined to; a fuse, relay or multiplexer is passed from one terminal to the other.

    What a dash shows has a terminal of its own there.
    """
    return end.kind, f"{end.name} {end.terminal}" if end.kind == "dash" else end.name, end.point


def graph_of(wires: tuple[Wire, ...]) -> nx.Graph:
    """Return some wires as a graph of what they join."""
    return nx.Graph([(node(wire.start), node(wire.end)) for wire in wires])


def plan_runs(laid: Laid) -> Iterator[tuple[str, tuple[int, ...], int]]:
    """Return circuit, legs and length of every wire that the plan has, as often as it has it."""
    for wired in laid.outputs:
        yield wired.output.name, wired.run.legs, wired.run.length
    for told in laid.inputs:
        yield told.port.name, told.run.legs, told.run.length
    for box in laid.multiplexers:
        yield box.port.name, box.run.legs, box.run.length
        yield f"supply of {box.stand.multiplexer.name}", box.run.legs, box.run.length
    for box in laid.multiplexers:
        for number, switch in enumerate((one for one in laid.switches if one.stand == box.stand), 1):
            yield f"{box.stand.multiplexer.name} way {number}", switch.run.legs, switch.run.length
    counts = {other.name: other.count for other in laid.site.job.bike.alongside}
    said = {
        "return": "return {}",
        "sender return": "return of {}",
        "fed load": "feed of {}",
        "coil lead": "coil of {} relay",
        "dash signal": "signal of {}",
        "dash return": "return of {}",
        "dash supply": "supply of {}",
        "alongside": "alongside {}",
    }
    for wire in laid.site.fixed_wires:
        times = counts.get(wire.name, 1) if wire.kind == "alongside" else 1
        name = wire.said if wire.number > 1 else said.get(wire.kind, "{}").format(wire.name)
        yield name, wire.run.legs * times, wire.run.length * times


def stretches(laid: Laid) -> dict[str, Counter[int]]:
    """Return for each output how often its wires lie in each leg: once on the way to all that is fed before a switch.

    What leads on from a load's own switch is a wire of its own: on a spur it lies beside the one that leads there.
    """
    found = {}
    for wired in laid.outputs:
        legs = [laid.site.job.network.legs[number] for number in wired.run.legs]
        tree, face = nx.Graph(), laid.site.face(wired.output.face)
        tree.add_node(face)
        tree.add_edges_from((*leg.between, {"leg": number}) for leg, number in zip(legs, wired.run.legs, strict=True))
        loads = wired.circuit.loads
        fed = [load.own_switch or load.at for load in loads] + [dash.at for load in loads for dash in load.shown_by]
        lies = Counter({leg for point in fed for leg in way(tree, face, point)})
        for load in loads:
            lies.update(way(tree, load.own_switch or load.at, load.at))
        found[wired.output.name] = lies
    return found


def way(tree: nx.Graph, start: str | None, end: str | None) -> list[int]:
    """Return the legs of a tree from one of its points to another."""
    return [tree.edges[step]["leg"] for step in pairwise(nx.shortest_path(tree, start, end))]


def check_cover(laid: Laid, wiring: Wiring) -> None:
    """Every leg of every wire of the plan is covered once by its pieces, and their lengths add up to its run.

    Of an output, each leg as often as its wires lie there, and no leg that its run has not.
    """
    wanted, on_outputs = list(plan_runs(laid)), stretches(laid)
    assert Counter(circuit for circuit, *_ in wanted).most_common(1)[0][1] == 1
    found = wiring.circuits
    for circuit, legs, run in wanted:
        pieces, lies = found.get(circuit, ()), on_outputs.get(circuit, Counter(legs))
        assert Counter(chain.from_iterable(wire.leg_numbers for wire in pieces)) == lies, circuit
        assert lies.keys() == set(legs)
        again = sum(laid.site.job.bike.frame.legs[number].length for number in (lies - Counter(legs)).elements())
        assert sum(wire.run for wire in pieces) == run + again
    assert set(found) <= {circuit for circuit, *_ in wanted}


AT_ENDS = {"unit": 150, "splice": 40, "battery": 150, "fuse": 150, "relay": 150, "earth": 150}
"""Millimetres; at all else 80, at a connector 60 on each side: common practice, no source."""


def cut_by_hand(laid: Laid, wire: Wire) -> list[int]:
    """Return in micrometres what is cut for a wire: parted at its connectors, each piece by what stands at its ends.

    Run x 1.1, or the file's share; 60 mm or its travel for a leg that moves; 150 mm at least. What a run is longer than
    its legs lies in the last piece.
    """
    bike, parting = laid.site.job.bike, {way.at for way in wire.connectors}
    half = None if bike.margin.ends is None else Fraction(bike.margin.ends, 2000)
    at_ends = [half if half is not None else AT_ENDS.get(end.kind, 80) for end in wire.ends]
    at_connector = half if half is not None else 60
    found = [Fraction(at_ends[0])]
    for number, point in enumerate(wire.points):
        if point in parting:
            found[-1] += at_connector
            found.append(Fraction(at_connector))
        if number < len(wire.leg_numbers):
            leg = bike.frame.legs[wire.leg_numbers[number]]
            found[-1] += Fraction(leg.length, 1000) * (10_000 + bike.margin.share) / 10_000
            found[-1] += Fraction(60_000 if leg.travel is None else leg.travel, 1000) if leg.moves else 0
    over = wire.run - sum(bike.frame.legs[number].length for number in wire.leg_numbers)
    found[-1] += at_ends[1] + Fraction(over, 1000) * (10_000 + bike.margin.share) / 10_000
    return [1000 * ceil(max(length, Fraction(150))) for length in found]


def check_each_wire(laid: Laid, wiring: Wiring) -> None:
    """Legs, points and ends of a wire follow from one another; it is cut as its ends and the bike's margin ask."""
    job = laid.site.job
    for wire in wiring.wires:
        assert (wire.points[0], wire.points[-1]) == (wire.start.point, wire.end.point)
        steps = list(zip(wire.points[:-1], wire.points[1:], strict=True))
        assert [set(job.network.legs[number].between) for number in wire.leg_numbers] == [set(step) for step in steps]
        assert wire.legs == tuple(job.network.legs[number].label for number in wire.leg_numbers)
    for wire in wiring.ours:
        assert [piece.cut for piece in wire.cut_pieces] == cut_by_hand(laid, wire)
    assert [wire.number for wire in wiring.wires] == list(range(1, len(wiring.wires) + 1))
    assert len(wiring.by_key) == len(wiring.wires)


def check_joined(laid: Laid, wiring: Wiring) -> None:
    """The pieces of an output, or an input, are a tree from its port to its loads or switches, and to dashes."""
    for wired in laid.outputs:
        graph = graph_of(wiring.circuits[wired.output.name])
        assert nx.is_tree(graph)
        ends = {name for kind, name, _ in graph if kind not in ("unit", "splice", "dash", "own switch")}
        assert ends == {load.name for load in wired.circuit.loads}
        shown = {(point.dash, load.name) for load in wired.circuit.loads for point in load.shown_by}
        assert {name for kind, name, _ in graph if kind == "dash"} == {f"{dash} for {name}" for dash, name in shown}
        assert ("unit", wired.output.name, laid.site.face(wired.output.face)) in graph
    for told in laid.inputs:
        graph = graph_of(wiring.circuits[told.port.name])
        assert nx.is_tree(graph)
        wanted = {("switch", switch.name, point) for switch in told.circuit.switches for point in switch.at}
        assert {one for one in graph if one[0] == "switch"} == wanted
        shown = {(point.dash, switch.name) for switch in told.circuit.switches for point in switch.shown_by}
        assert {name for kind, name, _ in graph if kind == "dash"} == {f"{dash} for {name}" for dash, name in shown}


def check_returns(laid: Laid, wiring: Wiring) -> None:
    """Whatever has a wired return of its own reaches one earth point, and no battery, fuse or unit on the way.

    A coil has none: its other end goes to what switches it (common practice, no source).
    """
    back = [wire for wire in wiring.wires if wire.kind == "return"]
    graph = nx.DiGraph([(node(wire.start), node(wire.end)) for wire in back])
    loads = {name for wire in back for end in wire.ends if end.kind in ("load", "relay") for name in end.names}
    assert loads == {load.name for load in laid.site.job.wired_loads if load.switched_by is None}
    switches = {(name, point) for kind, name, point in graph if kind == "switch"}
    bike = laid.site.job.bike
    earthed = [one for one in bike.inputs if one.signal == "earth" and one.return_ == "wire"]
    assert switches == {(one.name, point) for one in earthed for point in one.at}
    assert {kind for kind, *_ in graph} <= {"load", "relay", "switch", "own switch", "multiplexer", "splice", "earth"}
    for start in (one for one in graph if graph.in_degree(one) == 0):
        earths = [one for one in nx.descendants(graph, start) if one[0] == "earth"]
        assert len(earths) == 1
        assert earths[0][2] in bike.frame.earth


def check_all_there(laid: Laid, wiring: Wiring) -> None:
    """Every load, switch and port of the plan is the end of a wire."""
    there = {(end.kind, end.name) for wire in wiring.wires for end in wire.ends}
    job = laid.site.job
    loads = {load.name for load in (*job.loads.on_unit, *job.loads.guests)}
    loads |= {fed.consumer.name for fed in job.loads.fed}
    assert loads == {name for kind, name in there if kind == "load" or (kind == "relay" and name in loads)}
    assert {name for kind, name in there if kind == "switch"} == {switch.name for switch in job.bike.inputs}
    ports = {wired.output.name for wired in laid.outputs} | {told.port.name for told in laid.inputs}
    ports |= {box.port.name for box in laid.multiplexers}
    assert ports <= {name for kind, name in there if kind == "unit"}


def check_shared(laid: Laid, wiring: Wiring) -> None:
    """Every way of a connector has one wire, ways count from 1; every splice joins the wires that end at it."""
    ways = Counter((way.at, way.way) for wire in wiring.wires for way in wire.connectors)
    assert set(ways.values()) <= {1}
    assert ways.keys() == {(at.at, n) for at in wiring.connectors for n in range(1, len(at.wires) + 1)}
    assert {at.at for at in wiring.connectors} <= set(laid.site.job.bike.frame.connectors)
    for at in wiring.connectors:
        for way, key in enumerate(at.wires, 1):
            assert (at.at, way) in [(one.at, one.way) for one in wiring.by_key[key].connectors]
    for splice in wiring.splices:
        joined = [wire for wire in wiring.wires for end in wire.ends if (end.kind, end.name) == ("splice", splice.name)]
        assert tuple(wire.key for wire in joined) == splice.wires
        assert len(joined) >= 3
        assert {wire.circuit for wire in joined} == {splice.circuit}
        assert {end.point for wire in joined for end in wire.ends if end.name == splice.name} == {splice.point}
    named = {end.name for wire in wiring.wires for end in wire.ends if end.kind == "splice"}
    assert [splice.name for splice in wiring.splices] == [f"S{n}" for n in range(1, len(named) + 1)]


CHECKS = (check_cover, check_each_wire, check_joined, check_returns, check_all_there, check_shared)


@pytest.mark.parametrize("check", CHECKS)
@EACH_FITTING
def test_an_example(bike: str, unit: str, check: Callable[[Laid, Wiring], None]) -> None:
    """It holds for every example that fits."""
    laid = laid_example(bike, unit)
    check(laid, wiring_of(laid))


@EACH_RANDOM
def test_random_bikes(random_bikes: RandomBikes) -> None:
    """It holds for random bikes."""
    for laid in all_laid(random_bikes):
        wiring = wiring_of(laid)
        for check in CHECKS:
            check(laid, wiring)


def test_the_same_plan_gives_the_same_wires() -> None:
    """Two lists of one plan are alike."""
    laid = laid_example(*FITTING[0])
    assert wiring_of(laid) == wiring_of(laid)


def test_a_wire_of_the_harbour_trail_by_hand() -> None:
    """Tail and plate lamp on out 3, splice to splice: 620 mm to the tray and 360 mm on, 980 + 98 + 40 + 40 mm cut."""
    wiring = wiring_of(laid_example(*FITTING[0]))
    wire = next(w for w in wiring.circuits["out 3"] if w.end.point == "tail" and w.run)
    assert (wire.start.kind, wire.end.kind) == ("splice", "splice")
    assert (wire.run, wire.cut) == (980_000, 1_158_000)
    assert wire.legs == ("headstock - tray", "tray - tail")
    assert wire.protection == "trip 2 A"


WORKED = {
    "feed.1": [300],  # battery 150, fuse 150
    "feed.2": [610 * 1.1 + 150 + 150],  # fuse, unit plug
    "out 1.1": [250 * 1.1 + 150 + 80 + 60],  # unit plug, lamp, a leg that moves
    "out 3.4": [150],  # splice 40, lamp 80: too short for a hand
    "return left bar.7": [450 * 1.1 + 40 + 60 + 60, 540 * 1.1 + 60 + 150],  # parted at the headstock
    "return headlamp.5": [250 * 1.1 + 40 + 60 + 60, 540 * 1.1 + 60 + 150],
    "in 12.1": [820 * 1.1 + 150 + 80],  # unit plug, switch
}
"""Millimetres: run x 1.1 and allowances that are common practice, no source; the bike is made up."""


def test_an_earth_pin_carries_what_is_on_together_and_names_all_that_protects_it() -> None:
    """By hand: of a headlamp bulb one filament burns, of a tail and brake lamp both; a controller earths its coil.

    H4 75 W at 13.2 V; P21/5W 26.5 and 6.6 W at 13.5 V (UN R37; the latter from memory); coil 3 A, controller 2 A.
    """
    wires = {wire.key: wire for wire in wiring_of(laid_example("harbour-trail", "eleven-way")).wires}
    for key, wanted, protection in (
        ("return headlamp.1", 5682, "trip 8 A"),
        ("return tail.1", 1963 + 489, "trip 2 A and trip 3 A"),
        ("return tray.1", 3000 + 2000, "trip 5 A and trip 4 A"),
    ):
        assert (wires[key].current, wires[key].protection) == (wanted, protection), key


@EACH_FITTING
def test_what_no_fuse_protects_is_short(bike: str, unit: str) -> None:
    """From the battery to a fuse 7 inches, 178 mm, at most (33 CFR 183.455(b)); what is cut has room to crimp it."""
    to_fuses = [wire for wire in wiring_of(laid_example(bike, unit)).wires if wire.start.kind == "battery"]
    assert to_fuses
    assert {wire.protection for wire in to_fuses} == {"none: 178 mm at most, made up"}
    assert {wire.run for wire in to_fuses} == {0}


@pytest.mark.parametrize(("key", "wanted"), WORKED.items())
def test_cut_lengths_of_the_harbour_trail_by_hand(key: str, wanted: list[float]) -> None:
    """What each end asks for, slack for a leg that moves, nothing below 150 mm, a piece on each side of a connector."""
    wire = wiring_of(laid_example(*FITTING[0])).by_key[key]
    assert [length / 1000 for length in wire.cuts] == pytest.approx(wanted)


LIKE_THE_FEED = """
unit: trial way
feed: {limit: 40 A}
outputs: [{name: '1', limit: 5 A, peak: 40 A}, {name: feed, limit: 5 A, peak: 40 A}]
inputs: [{name: '2', accepts: earth}]
"""
TWO_LAMPS = """
bike: trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, neck], length: 800 mm}], earth: [tray]}
places: [{name: on the tray, front: tray}]
later: []
loads: [{name: a, at: neck, power: 14 W, kind: led}, {name: b, at: neck, power: 14 W, kind: led}]
inputs: [{name: switch, at: neck, signal: earth, operates: [a, b]}]
"""
TOGETHER = TWO_LAMPS.replace("kind: led}", "kind: led, share: both}")
MARGINS = (
    ("{ends: 100 mm}", [800 * 1.1 + 50 + 50]),
    ("{ends: 100 mm, unit_plug: 200 mm}", [800 * 1.1 + 200 + 50]),
    ("{share: 0 %, splice: 30 mm, unit_plug: 90 mm}", [800 + 90 + 30]),
    ("{device: 1 m}", [800 * 1.1 + 150 + 40]),
)


@pytest.mark.parametrize(("margin", "wanted"), MARGINS)
def test_each_key_of_the_margin_is_its_ends(margin: str, wanted: list[float]) -> None:
    """``ends`` is half for each end, whatever it is, where no other key says; the others are for their own ends."""
    wire = wiring_of(laid_text(f"{TOGETHER}margin: {margin}", LIKE_THE_FEED)).circuits["1"][0]
    assert (wire.start.kind, wire.end.kind) == ("unit", "splice")
    assert [length / 1000 for length in wire.cuts] == pytest.approx(wanted)


@pytest.mark.parametrize(("moves", "wanted"), [("moves: true", 60), ("moves: true, travel: 140 mm", 140), ("", 0)])
def test_a_leg_that_moves_asks_for_slack(moves: str, wanted: int) -> None:
    """60 mm, or what the leg's travel is."""
    bike = TOGETHER.replace("length: 800 mm", f"length: 800 mm, {moves}")
    wire = wiring_of(laid_text(bike, LIKE_THE_FEED)).circuits["1"][0]
    assert wire.cut / 1000 == pytest.approx(800 * 1.1 + 150 + 40 + wanted)


def test_a_wire_through_many_connectors() -> None:
    """Thirty connectors in a row part it in 31 pieces of 100 mm and what ends ask for, each with its letters."""
    points = ["tray", *(f"p{number}" for number in range(30)), "neck"]
    legs = ", ".join(f"{{between: [{one}, {other}], length: 100 mm}}" for one, other in pairwise(points))
    frame = f"frame: {{legs: [{legs}], earth: [tray], connectors: [{', '.join(points[1:-1])}]}}"
    bike = "\n".join(frame if line.startswith("frame:") else line for line in TWO_LAMPS.splitlines())
    (wire,) = wiring_of(laid_text(f"{bike}\nmargin: {{ends: 120 mm}}", LIKE_THE_FEED)).circuits["1"]
    pieces = list(wire.cut_pieces)
    assert [piece.cut / 1000 for piece in pieces] == [110 + 60 + 60] * 31
    told = [piece.number.removeprefix(str(wire.number)) for piece in pieces]
    assert (told[0], told[25], told[26], told[30]) == ("a", "z", "aa", "ae")


@pytest.mark.parametrize("key", ["unit_plug", "device", "splice", "connector", "battery"])
def test_the_shortest_piece_is_a_default(key: str) -> None:
    """It may be changed like any other; without allowances only it is left of a wire without a run."""
    margin = f"margin: {{ends: 0 mm, {key}: 0 mm}}\nassume: {{shortest piece: 70 mm}}"
    short = [w for w in wiring_of(laid_text(TWO_LAMPS + margin, LIKE_THE_FEED)).ours if not w.run]
    assert short
    assert {wire.cuts for wire in short} == {(70_000,)}


@EACH_FITTING
def test_the_plan_tells_of_the_same_copper_and_lengths(bike: str, unit: str) -> None:
    """Copper and every cut length of a plan are the sums of the pieces in its cut list."""
    laid, lists = laid_example(bike, unit), lists_of(laid_example(bike, unit))
    plan = drawn_up(bike, unit)
    assert plan.copper_mg == ceil(1000 * sum(reel.copper for reel in lists.reels))
    cut = {circuit: sum(wire.cut for wire in wires) for circuit, wires in lists.wiring.circuits.items()}
    (one,) = plan.units
    told = {line.port: line.wire.cut for line in one.outputs} | {line.port: line.wire.cut for line in one.inputs}
    told |= {"feed": one.feed.wire.cut, "unit earth": plan.other_wires[-1].wire.cut}
    told |= {f"feed of {line.name}": line.wire.cut for line in plan.fed}
    joint = [line for line in plan.returns if line.kind == "return"]
    told |= {f"return {line.name}": line.wire.cut for line in joint if line.number == 1}
    told |= {f"return {line.number} from {line.name}": line.wire.cut for line in joint if line.number > 1}
    assert told == {circuit: cut[circuit] for circuit in told}
    assert len(told) > len(laid.outputs)


def test_ports_called_like_other_wires_stay_apart() -> None:
    """An output may be called 'feed': its wire and the feed are no one circuit."""
    lists = lists_of(laid_text(TWO_LAMPS, LIKE_THE_FEED))
    wiring = lists.wiring
    assert len(wiring.by_key) == len(wiring.wires)
    kinds = {circuit: {wire.kind for wire in wires} for circuit, wires in wiring.circuits.items()}
    assert all(len(kind) == 1 for kind in kinds.values())
    assert {"1", "2", "feed", "feed, output"} <= kinds.keys()
    ways = [way.wire.key for view in lists.views for way in view.ways if way.wire]
    assert sorted(ways) == sorted(wire.key for wire in wiring.wires for end in wire.ends if end.kind == "unit")


def test_a_relay_with_a_switch_of_its_own_brings_no_coil() -> None:
    """A load that is called as such a relay is a load like any other."""
    loads = "{name: fan, at: neck, current: 4 A, kind: motor, fed: relay, own_switch: neck}, {name: fan relay, at: neck"
    wiring = wiring_of(laid_text(TWO_LAMPS.replace("{name: a, at: neck", loads).replace("[a, b]", "b"), LIKE_THE_FEED))
    ends = {(end.kind, end.terminal) for wire in wiring.wires for end in wire.ends if end.name == "fan relay"}
    assert ends == {("load", "+"), ("load", "-"), ("relay", "30"), ("relay", "87"), ("relay", "86"), ("relay", "85")}


def test_an_own_switch_on_a_spur_by_hand() -> None:
    """To the switch at the bars 800 + 300 mm, back to the lamp at the neck 300 mm; the tree has each leg once.

    Cut: (800 + 300) x 1.1 + unit plug 150 + switch 80 mm, and 300 x 1.1 + switch 80 + lamp 80 mm.
    """
    bike = TWO_LAMPS.replace("name: a, at: neck", "name: a, at: neck, own_switch: bars").replace("[a, b]", "b")
    bike = bike.replace("length: 800 mm}", "length: 800 mm}, {between: [neck, bars], length: 300 mm}")
    laid = laid_text(bike, LIKE_THE_FEED)
    (wired,) = (one for one in laid.outputs if one.circuit.loads[0].name == "a")
    assert wired.run.length == (800 + 300) * 1000
    (wires,) = (
        wires
        for wires in wiring_of(laid).circuits.values()
        if wires[0].port == wired.output.name and wires[0].kind == "output"
    )
    assert [(wire.end.kind, wire.end.name, wire.run / 1000) for wire in wires] == [
        ("own switch", "own switch of a", 800 + 300),
        ("load", "a", 300),
    ]
    assert [wire.cut / 1000 for wire in wires] == pytest.approx([1100 * 1.1 + 150 + 80, 300 * 1.1 + 80 + 80])
