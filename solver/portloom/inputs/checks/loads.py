"""Loads and inputs: one way to say what each draws, lamps that there are, who feeds whom; none is there idle."""

from collections.abc import Iterator, Mapping, Sequence
from typing import get_args

from portloom.base.bike import Load, Place, Switch
from portloom.base.figures import with_article
from portloom.base.lamps import LAMPS
from portloom.base.nearest import and_list, nearest, or_list, suggest
from portloom.base.parts.loads import load_part
from portloom.base.parts.switches import switch_part
from portloom.base.parts.words import words_within
from portloom.base.vocabulary import Kind
from portloom.inputs.checks.bulbs import bulb_flaws
from portloom.inputs.mends import Mend, Way, to_word
from portloom.inputs.problems import Flaw
from portloom.inputs.schema import misspelt
from portloom.inputs.tree import SHARE, Broken, Keyed, Listed, Word, amount_of, entries, keyed, several, word, words

DRAWS = ("lamp", "power", "current")
ASLEEP = "asleep"
OF_NO_FROM = ("when", "except", "fed", "own_switch")
WHOLE = 10_000
"""100 %, in hundredths of a per cent."""


def load_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell loads whose current is unclear, unknown lamps, and feeding that leads nowhere."""
    for load in entries(bike, "loads", "later"):
        yield from _draws(load)
        yield from _lamp(load)
        yield from _mode(load)
        yield from _fused(load, bike)
    yield from _feeding(bike)
    yield from bulb_flaws(bike)


def shown_by(load: Keyed) -> Iterator[Word]:
    """Return the words under a load's ``shows``, those that share a lamp too."""
    for item in several(load, "shows"):
        if isinstance(item, Word):
            yield item
        elif isinstance(item, Listed):
            yield from (word for word in item.items if isinstance(word, Word))


def _draws(load: Keyed) -> Iterator[Flaw]:
    if isinstance(load.values.get("part"), Broken):
        return  # what it is comes first: its part may say the kind, or that it does not belong on the unit at all
    given = [key for key in load.keys if key in DRAWS]
    if not given and not misspelt(load, Load, DRAWS):
        yield Flaw.at(
            load, "this load does not say what it draws", "add one of 'lamp', 'power' with a 'kind', or 'current'"
        )
    if len(given) > 1:
        what = f"{and_list(repr(key) for key in given)} both say what it draws"
        yield Flaw.at(load.keys[given[1]], what.replace("both say", "all say") if len(given) > 2 else what, "keep one")
    if given == ["power"] and "kind" not in load.values:
        what = "'power' is given without a 'kind', and how much it draws when it is switched on hangs on that"
        yield Flaw.at(load.keys["power"], what, f"add {_kinds(load)}")


def _kinds(load: Keyed) -> str:
    """Return the kinds that a load may be: a lamp is one of three."""
    part = load_part(said.text) if (said := word(load, "part")) else None
    if part is not None and part.is_lamp:
        return "'kind: led', 'kind: filament' or 'kind: discharge', or name its lamp, such as 'lamp: H4 dipped'"
    return or_list(f"'kind: {kind}'" for kind in get_args(Kind))


def _lamp(load: Keyed) -> Iterator[Flaw]:
    lamp, kind = word(load, "lamp"), word(load, "kind")
    if lamp and lamp.text not in LAMPS:
        right = (_filaments(lamp.text) or suggest(lamp.text, LAMPS)) + ", or give 'power' and 'kind'"
        yield Flaw.at(lamp, f"the table of lamps has no '{lamp.text}'", right)
    if "lamp" in load.values and kind and kind.text != "filament":
        what = f"a UN R37 lamp is a filament lamp, not of kind '{kind.text}'"
        yield Flaw.at(kind, what, "leave the kind out, or give 'power' for another kind of lamp")


def _filaments(base: str) -> str:
    """Say which filaments a bulb has, where only its base is given."""
    both = [lamp for lamp in LAMPS if lamp.split()[0].casefold() == base.casefold()]
    return f"write {or_list(repr(lamp) for lamp in both)}" if len(both) > 1 else ""


def _mode(load: Keyed) -> Iterator[Flaw]:
    if "mode" in load.values and not several(load, "mode"):
        yield Flaw.at(load.values["mode"], "'mode' is empty", "write one word or more, or leave it out for steady")
    level = amount_of(load, "dim_to", SHARE)
    if level is not None and level > WHOLE:
        yield Flaw.at(load.values["dim_to"], "it can't be dimmed to more than full", "write 100 % or less")


def _fused(load: Keyed, bike: Keyed) -> Iterator[Flaw]:
    """A fuse alone leaves a load live for good: something must switch it, or it is meant to be on asleep."""
    fed = word(load, "fed")
    if not fed or fed.text != "fuse" or "own_switch" in load.values:
        return
    events = keyed(bike, "events")
    asleep = {ASLEEP} | {name for name in (events.values if events else ()) if _comes_asleep(events, name)}
    if not asleep & {said.text for said in words(load, "when")}:
        what = "a fused feed is always live, and nothing switches this load"
        yield Flaw.at(
            fed,
            what,
            "add 'own_switch' with its switch's frame point, or 'asleep' to its 'when', or feed it by relay or unit",
        )


def _comes_asleep(events: Keyed | None, name: str) -> bool:
    event = events.values[name] if events else None
    return isinstance(event, Keyed) and any(state.text == ASLEEP for state in words(event, "in"))


def _feeding(bike: Keyed) -> Iterator[Flaw]:
    loads = {name.text: load for load in entries(bike, "loads") if (name := word(load, "name"))}
    later = [name.text for load in entries(bike, "later") if (name := word(load, "name"))]
    known = loads if all(word(load, "name") for load in entries(bike, "loads")) else {}
    for switch in entries(bike, "inputs"):
        for said in words(switch, "operates"):
            if said.text not in later:  # a button may be there before its load
                yield from _unknown(said, known, later)
    for load in entries(bike, "loads", "later"):
        if several(load, "from"):
            yield from _of_its_own(load)
        for said in words(load, "from"):
            yield from _unknown(said, known, later)
            yield from _no_feeder(said, loads.get(said.text))


def _unknown(said: Word, loads: Mapping[str, Keyed], later: Sequence[str]) -> Iterator[Flaw]:
    if said.text in loads:
        return
    if said.text in later:
        what = f"'{said.text}' is a later load, which is not on the bike yet"
        yield Flaw.at(said, what, "name a load under 'loads', or move it there")
    elif loads:  # none are known where a load's own name can't be read
        near = nearest(said.text, loads)
        ways = to_word(said, near, late=True) if near else ()
        yield Flaw.at(said, f"there is no load '{said.text}'", suggest(said.text, loads), ways)


def _of_its_own(load: Keyed) -> Iterator[Flaw]:
    for key in OF_NO_FROM:
        if key in load.values:
            what = f"'{key}' can't go with 'from': the loads that feed it decide this"
            yield Flaw.at(load.keys[key], what, "keep one of the two")


def _no_feeder(said: Word, feeder: Keyed | None) -> Iterator[Flaw]:
    if feeder is None:
        return
    fed = word(feeder, "fed")
    if several(feeder, "from"):
        what = f"'{said.text}' is itself fed from others"
        yield Flaw.at(said, what, "name the loads whose own outputs feed it")
    elif fed and fed.text != "unit":
        what = f"'{said.text}' is fed by a {fed.text}, not by an output of the unit"
        yield Flaw.at(said, what, "name loads with fed: unit")


DOES = ("operates", "tells")
FACES = ("front", "rear")


def _worked(bike: Keyed, part: str) -> str:
    """Say what lacks for a switch that works nothing: a part, where a load is called what it works; else the load."""
    known = switch_part(part)
    unsaid = [name for load in entries(bike, "loads") if "part" not in load.values and (name := word(load, "name"))]
    for name in unsaid:
        meant = words_within(name.text)
        if known is not None and meant is not None and meant.name in known.works:
            return f"write 'part: {meant.name}' at '{name.text}' (line {name.line}), and it works that"
    none = f"no load here is worked by {with_article(part)}"
    line = _load_line(bike, known.works[0]) if known is not None and known.works else ""
    return f"add to 'loads' {line}, or write what it 'operates', or leave it out; {none}" if line else none


def _load_line(bike: Keyed, part: str) -> str:
    """Return a load that could be added, as the catalogue has it, where it sits there if the bike has that point."""
    known = load_part(part)
    line = known.line if known else ""
    at = line.removeprefix("at: ").partition(",")[0]
    points = {point.text for leg in entries(keyed(bike, "frame"), "legs") for point in words(leg, "between")}
    return f"{{part: {part}, {line if at in points else line.replace(f'at: {at}', 'at: POINT', 1)}}}"


def _idle_ways(bike: Keyed, switch: Keyed, part: Word | None) -> tuple[Way, ...]:
    """Return what becomes of a switch that works nothing: its load is added, or it is left out."""
    known = switch_part(part.text) if part else None
    if known is None or not known.works or not _worked(bike, known.name).startswith("add"):
        return ()
    load = known.works[0]
    at = words(switch, "at")
    line = _load_line(bike, load).replace("POINT", at[0].text if at else "POINT")
    added = Mend(switch.line, switch.column, "append", line, "loads")
    out = Mend(switch.line, switch.column, "out")
    return Way((added,), f"there is {with_article(load)}", late=True), Way((out,), "is left out", late=True)


def _operates(bike: Keyed, switch: Keyed) -> str:
    """Say what to write for an input of no part: a load that nothing works yet is likely."""
    worked = {said.text for one in entries(bike, "inputs") for said in words(one, "operates")}
    names = [name.text for load in entries(bike, "loads") if (name := word(load, "name"))]
    likely = next((name for name in names if name not in worked), names[0] if names else "")
    rest = "its 'part', or what it 'tells'; or name it under a dash's 'shows'"
    if not likely or "operates" in switch.keys:
        return f"add what it 'operates', {rest}"
    return f"write 'operates: [{likely}]' with what it works, {rest}"


def input_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell inputs that do nothing, and places where no face of the unit meets a frame point."""
    shown = {said.text for load in entries(bike, "loads") for said in shown_by(load)}
    for switch in entries(bike, "inputs"):
        name, part = word(switch, "name"), word(switch, "part")
        known = switch_part(part.text) if part else None
        if (name and name.text in shown) or (known and known.shown):
            continue
        if isinstance(switch.values.get("part"), Broken):
            continue
        if not several(switch, "operates") and not several(switch, "tells") and not misspelt(switch, Switch, DOES):
            right = _worked(bike, part.text) if part is not None else _operates(bike, switch)
            what = "this input neither operates nor tells anything"
            yield Flaw.at(switch, what, right, _idle_ways(bike, switch, part))
    for place in entries(bike, "places"):
        if not any(face in place.values for face in FACES) and not misspelt(place, Place, FACES):
            what = "this place has neither 'front' nor 'rear'"
            yield Flaw.at(place, what, "add the frame point at each face of the unit")
