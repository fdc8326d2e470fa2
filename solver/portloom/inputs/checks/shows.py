"""What dashes show: only dashes and lamps show anything, and only what one lamp of them can be lit by."""

from collections.abc import Iterator, Mapping, Sequence

from portloom.base.bike import Load
from portloom.base.nearest import and_list
from portloom.base.parts.loads import LOAD_PARTS, load_part
from portloom.inputs.problems import Flaw
from portloom.inputs.schema import misspelt
from portloom.inputs.tree import Keyed, Listed, Node, Word, entries, several, word

KINDS = ("led", "filament", "electronics")
"""The kinds of what may show something, where no part says what it is."""
CONTACTS = ("earth", "supply")
PULLS = {"earth": "earth", "supply": "the supply"}
Named = Mapping[str, Keyed]


def shows_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell loads that show nothing to a rider and what their lamps can't show, and sensors of no clear wires."""
    loads = {name.text: load for load in entries(bike, "loads") if (name := word(load, "name"))}
    inputs = {name.text: switch for switch in entries(bike, "inputs") if (name := word(switch, "name"))}
    for load in entries(bike, "loads"):
        if "shows" in load.values and not misspelt(load, Load, ("shows",)):
            yield from _shower(load)
            yield from _twice(load)
            for lamp in several(load, "shows"):
                yield from _lamp(load, tuple(_words(lamp)), loads, inputs)
    for load in entries(bike, "later"):
        if "shows" in load.values:
            what = "a load that may come one day shows nothing yet"
            yield Flaw.at(load.keys["shows"], what, "leave it out until the load is on the bike")
    for switch in inputs.values():
        yield from _wires(switch)


def _words(lamp: Node) -> Iterator[Word]:
    items = lamp.items if isinstance(lamp, Listed) else (lamp,)
    return (item for item in items if isinstance(item, Word))


def _shower(load: Keyed) -> Iterator[Flaw]:
    """A motor shows nothing."""
    part, kind = word(load, "part"), word(load, "kind")
    known = load_part(part.text) if part else None
    if known is not None and not known.shows:
        may = and_list(f"'{part.name}'" for part in LOAD_PARTS if part.shows)
        what = f"'shows' is for a dash or a lamp that tells the rider something, and this is '{known.name}'"
        yield Flaw.at(load.keys["shows"], what, f"leave it out; the parts that show something are {may}")
    if known is None and "part" not in load.values and kind and kind.text not in KINDS:
        what = f"'shows' is for a dash or a lamp, and this load is of kind '{kind.text}'"
        yield Flaw.at(load.keys["shows"], what, "leave it out, or write 'part: dash'")
    if not several(load, "shows"):
        yield Flaw.at(load.values["shows"], "'shows' is empty", "name an input or a load, or leave it out")


def _twice(load: Keyed) -> Iterator[Flaw]:
    seen: set[str] = set()
    for said in (said for lamp in several(load, "shows") for said in _words(lamp)):
        if said.text in seen:
            yield Flaw.at(said, f"this dash shows '{said.text}' already", "name it once")
        seen.add(said.text)


def _lamp(dash: Keyed, shown: Sequence[Word], loads: Named, inputs: Named) -> Iterator[Flaw]:
    """What lights one lamp: each by itself, and together."""
    for said in shown:
        if said.text in loads:
            yield from _load(dash, said, loads[said.text])
    if len(shown) > 1:
        yield from _together([(said, _pull(said, inputs)) for said in shown])


def _load(dash: Keyed, said: Word, load: Keyed) -> Iterator[Flaw]:
    if load is dash:
        yield Flaw.at(said, f"'{said.text}' would show itself", "leave it out")
    elif several(load, "from"):
        yield Flaw.at(said, f"'{said.text}' is itself fed from others", "name the loads whose own outputs feed it")


def _pull(said: Word, inputs: Named) -> str:
    """Return where what is shown pulls the lamp: to earth, or to the supply as a load's circuit does."""
    if said.text not in inputs:
        return "supply"
    signal = word(inputs[said.text], "signal")
    return signal.text if signal else "earth"


def _together(pulls: Sequence[tuple[Word, str]]) -> Iterator[Flaw]:
    """Two on one lamp pull the same way; what is no contact has a display of its own."""
    first, towards = pulls[0]
    for said, pull in pulls:
        if pull not in CONTACTS:
            what = f"'{said.text}' gives a signal of kind '{pull}', which no lamp is lit by"
            yield Flaw.at(said, what, "take it out of the inner list: it is shown by itself")
    for said, pull in pulls[1:]:
        if pull in CONTACTS and towards in CONTACTS and pull != towards:
            what = f"'{first.text}' pulls this lamp to {PULLS[towards]}, '{said.text}' to {PULLS[pull]}"
            yield Flaw.at(said, what, "show each by a lamp of its own: [a, b], not [[a, b]]")


def _wires(switch: Keyed) -> Iterator[Flaw]:
    """A sensor that earths through its own body has one wire; a third feeds one that has a way back by wire."""
    wires, back = word(switch, "wires"), word(switch, "return")
    if wires and wires.text in ("2", "3") and back and back.text == "frame" and "return" in switch.keys:
        signal = word(switch, "signal")
        if signal and signal.text not in CONTACTS:
            what = f"it has {wires.text} wires and no way back by any of them"
            yield Flaw.at(back, what, "leave 'return' out, or write 'wires: 1'")
