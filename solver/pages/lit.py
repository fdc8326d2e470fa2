"""What lights up together: the rows, wires, loads and switches of one circuit, by style rules alone.

Where a browser lacks ':has' (CSS Selectors 4), nothing lights up; all is there without it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from solver.wiring.wire import EndKind, Wire, Wiring

LIGHT = "background:var(--lit);filter:drop-shadow(0 0 3px #b36b00)"
WIRE = "stroke:#b36b00;stroke-opacity:1"


@dataclass(frozen=True)
class Lit:
    """A circuit, its wires, and the loads and switches that it ends at."""

    circuit: str
    wires: tuple[str, ...]
    loads: tuple[str, ...]
    switches: tuple[str, ...]


def lit_of(wiring: Wiring) -> tuple[Lit, ...]:
    """Return every circuit; what serves several points, such as a return, lights no loads."""
    return tuple(
        Lit(
            circuit,
            tuple(wire.key for wire in wires),
            () if wires[0].kind == "return" else _ends(wires, "load"),
            () if wires[0].kind == "return" else _ends(wires, "switch"),
        )
        for circuit, wires in wiring.circuits.items()
    )


def _ends(wires: Iterable[Wire], kind: EndKind) -> tuple[str, ...]:
    return tuple(dict.fromkeys(end.name for wire in wires for end in wire.ends if end.kind == kind))


def names_of(lit: Iterable[Lit]) -> Mapping[str, str]:
    """Return the circuit of each row that is named by its circuit or by a wire."""
    return {name: one.circuit for one in lit for name in (one.circuit, *one.wires)}


def rules(lit: Iterable[Lit]) -> str:
    """Return the style rules: pointing at any of a circuit's things, or reaching it by keyboard, lights them all."""
    return "".join(_rule(one) for one in lit)


def _rule(one: Lit) -> str:
    things = [
        f"[data-lit={_quoted(one.circuit)}]",
        *(f"[data-load={_quoted(name)}]" for name in one.loads),
        *(f"[data-switch={_quoted(name)}]" for name in one.switches),
    ]
    wires = f"[data-circuit={_quoted(one.circuit)}]"
    pointed = f"body:has(:is({','.join([*things, wires])}):is(:hover,:focus,:focus-within))"
    return f"{pointed} :is({','.join(things)}){{{LIGHT}}}{pointed} {wires} path{{{WIRE}}}"


def _quoted(name: str) -> str:
    """Write a name as a CSS string; all but plain letters, digits and blanks by their numbers (CSS Syntax 3, 4.3.7)."""
    return '"' + "".join(x if (x.isascii() and x.isalnum()) or x == " " else f"\\{ord(x):x} " for x in name) + '"'
