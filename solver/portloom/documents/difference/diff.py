"""``portloom.diff``: two plans go in, and what differs comes out; the story of ``portloom diff``."""

from collections.abc import Iterator, Sequence

from portloom.documents.amounts import Json
from portloom.documents.difference.canonical import natural, only_in, same
from portloom.documents.difference.change import WIRE, Change, Difference, Named
from portloom.documents.difference.ports import free, moved, names_of, renamed, set_ports, told_circuits
from portloom.documents.difference.printed import PrintedPlan
from portloom.documents.difference.sides import Sides, UnitPart, couples, sides
from portloom.documents.difference.walk import changed, entries, wired
from portloom.documents.document import Plan

SENTENCES = ("warnings", "also_needed", "could_share", "multiplexers_not_used", "decided", "not_yet_judged", "assumed",
             "cautions")  # fmt: skip
"""Keys that hold what is said in words."""
WIRED = ("fed", "returns", "other_wires", "battery_leads")
"""Keys of the bike that hold things with a wire each."""
PIECES = ("wires", "change", "dead_wires", "last_number")
"""Keys that tell the same wires piece by piece, as they are cut and numbered: where circuits differ, that is told."""
TOLD_APART = {"protection", *SENTENCES, *WIRED, *PIECES}
UNIT_TOLD_APART = {"outputs", "inputs", "multiplexers", "feed", "free_outputs", "free_inputs", "room_for", *TOLD_APART}


def diff(old: Plan | PrintedPlan, new: Plan | PrintedPlan) -> Difference:
    """Return how a plan differs from an older one, in all that its JSON tells; each may be one that was read back.

    Order is no difference, nor is where in a file a thing is written. ``PrintedPlan.read`` reads a plan back.
    """
    before, after = (plan if isinstance(plan, PrintedPlan) else PrintedPlan.of(plan) for plan in (old, new))
    both = sides(before, after)
    told = tuple(_changes(both))
    warned = [_said(both.old, both.old_units, "warnings"), _said(both.new, both.new_units, "warnings")]
    stay = tuple(line for line in warned[1] if line in warned[0])
    named = _named(before, both.old_units), _named(after, both.new_units)
    return Difference(*named, (*told, *_untold(both, told)), stay, _set_aside(after.document))


def _named(plan: PrintedPlan, units: Sequence[UnitPart]) -> Named:
    names = tuple(sorted((str(unit.document["unit"]) for unit in units), key=natural))
    return Named(str(plan.document["bike"]), names, tuple((unit.label, unit.seat) for unit in units if unit.label))


def _set_aside(document: Json) -> tuple[tuple[str, str], ...]:
    return tuple((str(entry.get("rule")), str(entry.get("reason"))) for entry in document["set_aside"])


def _changes(both: Sides) -> Iterator[Change]:
    outputs = couples([each for unit in both.old_units for each in unit.outputs],
                      [each for unit in both.new_units for each in unit.outputs])  # fmt: skip
    inputs = couples([each for unit in both.old_units for each in unit.inputs],
                     [each for unit in both.new_units for each in unit.inputs])  # fmt: skip
    yield from moved(both)
    yield from set_ports(both)
    yield from told_circuits("outputs", outputs)
    yield from told_circuits("inputs", inputs)
    for part in WIRED:
        yield from entries(part, both.old[part], both.new[part], ("by",) if part == "fed" else ())
    for old, new in both.units:
        yield from _of_units(old, new)
    yield from _of_ports(both)
    yield from _of_bike(both)
    before, after = names_of(outputs)
    carried = renamed(both.old_units, both.old, before), renamed(both.new_units, both.new, after)
    yield from changed("figure", "protection", "", "protection", *carried)
    for key in SENTENCES:
        yield from _sentences(both, key)


def _of_bike(both: Sides) -> Iterator[Change]:
    """Return what differs of the whole bike, but for what is told apart."""
    for key in dict.fromkeys((*both.old, *both.new)):
        if key not in TOLD_APART:
            old, new = both.old.get(key), both.new.get(key)
            deep = isinstance(old, dict | list) or isinstance(new, dict | list)
            whole = not deep or key in {"set_aside", "no_room_for"}
            yield from changed("whole" if whole else "figure", key, "", key, old, new)


def _of_units(old: UnitPart | None, new: UnitPart | None) -> Iterator[Change]:
    """Return what differs of a unit: where it sits, its feed, its figures."""
    before, after = ({} if unit is None else unit.document for unit in (old, new))
    label = " / ".join(sorted({unit.label for unit in (old, new) if unit is not None}, key=natural))
    feed, held = before.get("feed"), after.get("feed")
    yield from wired("feed", f"{label} feed".strip(), feed, held, tuple({**(feed or {}), **(held or {})}))
    yield from changed("whole", "feed", label, "feed", *(_without_wire(entry) for entry in (feed, held)))
    for key in dict.fromkeys((*before, *after)):
        if key not in UNIT_TOLD_APART:
            plain = key in {"unit", "unit_size", "place", "turned"}
            yield from changed("whole" if plain else "figure", key, label, key, before.get(key), after.get(key))
    boxes = before.get("multiplexers", []), after.get("multiplexers", [])
    yield from entries("multiplexers", *boxes, ("port", "inputs"), ", data and supply")


def _without_wire(feed: Json | None) -> Json | None:
    return None if feed is None else {key: value for key, value in feed.items() if key not in WIRE}


def _of_ports(both: Sides) -> Iterator[Change]:
    """Return what differs of the ports that are free, and of what there is room for."""
    for key in ("free_outputs", "free_inputs", "room_for"):
        yield from changed("whole", key, "", key, free(both.old_units, key), free(both.new_units, key))


def _sentences(both: Sides, key: str) -> Iterator[Change]:
    """Return what one plan says and the other does not."""
    old, new = _said(both.old, both.old_units, key), _said(both.new, both.new_units, key)
    for line in sorted(only_in(old, new)):
        yield Change("sentence", key, "", key, line, None)
    for line in sorted(only_in(new, old)):
        yield Change("sentence", key, "", key, None, line)


def _said(whole: Json, units: Sequence[UnitPart], key: str) -> list[str]:
    of_units = [f"{unit.label}: {line}" for unit in units for line in unit.document.get(key, ())]
    return [*of_units, *(_sentence(line) for line in whole.get(key, ()))]


def _sentence(line: str | Json) -> str:
    return line if isinstance(line, str) else str(line.get("sentence"))


def _untold(both: Sides, told: Sequence[Change]) -> Iterator[Change]:
    """Return what differs in a part of which nothing is told: no difference is ever passed over."""
    parts = {change.part for change in told}
    if "outputs" in parts:
        parts |= {"fed", "protection"}  # a load that no output feeds; a wire that goes by its port
    if parts & {"inputs", "multiplexers"}:
        parts |= {"inputs", "multiplexers"}
    if told:
        parts |= {*PIECES}  # what differs is told of circuits
    for key in dict.fromkeys((*both.old, *both.new)):
        if key not in parts and not same(both.old.get(key), both.new.get(key)):
            yield Change("figure", key, "", key, both.old.get(key), both.new.get(key))
    for old, new in both.units:
        before, after = ({} if unit is None else unit.document for unit in (old, new))
        for key in dict.fromkeys((*before, *after)):
            if key not in parts and not same(before.get(key), after.get(key)):
                yield Change("figure", key, "", key, before.get(key), after.get(key))
