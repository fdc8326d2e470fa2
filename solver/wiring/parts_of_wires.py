"""Parts that go with the wires: the wire itself, terminals, splices, connectors."""

from collections import Counter
from collections.abc import Iterable, Iterator
from decimal import Decimal

from solver.electrics.blades import RELAY_TAB, blade_for
from solver.job.laid import Laid
from solver.wiring.cut_list import Reel, letters
from solver.wiring.part import Part, pieces
from solver.wiring.wire import Wire, WireEnd, Wiring
from solver.words.figures import amperes, counted, listed, millimetres, plain
from solver.words.quantities import MilliAmps
from solver.words.sizes import WireSize

BY_MAKER = "as the maker of the unit says"


def wire_parts(reels: Iterable[Reel]) -> Iterator[Part]:
    """Return the wire by size and colour, as cut."""
    for reel in reels:
        colour = "/".join(filter(None, letters(reel.colour)))
        wires = counted(len(reel.wires), "piece")
        yield Part("wire", "wire", reel.size.label, Decimal(reel.cut) / 1_000_000, "m", colour, f"{wires}, as cut")


def terminal_parts(laid: Laid, wiring: Wiring) -> Iterator[Part]:
    """Return the terminals by what they are and the wire that they are crimped on."""
    tails = {load.name: load.leads for load in laid.site.job.bike.loads if load.leads is not None}
    found: Counter[tuple[str, WireSize, str, str]] = Counter()
    for wire in wiring.wires:
        for what, size, where, note in _terminals(wire, tails):
            found[what, size, where, note] += 1
    for (what, size, where, note), count in sorted(found.items(), key=lambda item: (item[0][0], item[0][1])):
        yield pieces("terminals", what, f"for {size.label}", count, where, note)


def _terminals(wire: Wire, tails: dict[str, WireSize]) -> Iterator[tuple[str, WireSize, str, str]]:
    """Return each terminal of a wire: what, the wire that it is on, where it goes, a note."""
    if wire.size is None:
        return
    for end in wire.ends:
        yield from _at(end, wire.size, wire.current, tails)
    for _ in wire.connectors:
        yield _flat("tab", wire.size, wire.current, "connectors")
        yield _flat("receptacle", wire.size, wire.current, "connectors")


def _at(
    end: WireEnd, size: WireSize, current: MilliAmps, tails: dict[str, WireSize]
) -> Iterator[tuple[str, WireSize, str, str]]:
    match end.kind:
        case "unit":
            yield "terminal of the unit's connector", size, "unit", BY_MAKER
        case "battery" | "earth":
            yield "ring terminal, hole to suit the bolt", size, f"{end.kind}", ""
        case "fuse":
            yield "terminal of the fuse's holder", size, "fuses", "as the holder says"
        case "relay":
            yield _flat("receptacle", size, max(current, MilliAmps(RELAY_TAB.most)), "relays")
        case "load" | "switch" | "multiplexer":
            yield _flat("receptacle", size, current, "loads, switches and multiplexers")
            if end.kind == "load" and end.name in tails:
                yield _flat("tab", tails[end.name], current, "tails of loads")
        case _:
            return


def _flat(what: str, size: WireSize, current: MilliAmps, where: str) -> tuple[str, WireSize, str, str]:
    blade = blade_for(size, current)
    if blade is None:
        return "ring terminal, bolted", size, where, "too thick or too much for a tab"
    return f"{what} {millimetres(blade.width)}", size, where, ""


def splice_parts(wiring: Wiring) -> Iterator[Part]:
    """Return the splices by the sum of the areas that they join."""
    found: dict[int, list[str]] = {}
    for splice in wiring.splices:
        found.setdefault(splice.area, []).append(splice.name)
    for area, names in sorted(found.items()):
        size = f"{plain(Decimal(area) / 10_000)} mm2 in all"
        yield pieces("splices", "crimped splice", size, len(names), listed(names))


def connector_parts(wiring: Wiring) -> Iterator[Part]:
    """Return a connector for each point where the loom is parted, with its ways and the most that one carries."""
    for connector in wiring.connectors:
        wires = [wiring.by_key[key] for key in connector.wires]
        most = max(wire.current for wire in wires)
        size = f"{counted(len(wires), 'way')}, {amperes(most)} at most"
        yield pieces("connectors", "connector", size, 1, connector.at)
