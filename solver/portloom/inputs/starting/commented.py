"""Files to start from: a bike in its short form and a unit, which plan at once, and every further key with its meaning.

What stands in a comment is not typed here: it is every key that the file above does not use, as the typed bike and
unit describe it.
"""

import re
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from textwrap import wrap

from pydantic.fields import FieldInfo

from portloom.base.bike import Bike
from portloom.base.entries import Entry
from portloom.base.nearest import or_list
from portloom.base.unit import Unit
from portloom.inputs.parsing import parse
from portloom.inputs.schema import SEVERAL, choices_of, entry_of, example_of, fields, keys
from portloom.inputs.tree import Keyed, Listed, Node

WIDTH = 100
MARK = re.compile(r"^(?P<indent> *)# KEYS (?P<entry>\w+)\n", re.MULTILINE)
"""Where the further keys of an entry are put."""
Used = AbstractSet[tuple[type[Entry], str]]

BIKE = """\
# A bike to start from: it plans at once, so change it line by line and plan again.
# What a load or a switch is, and all that follows from that: portloom parts
bike: My bike
supply:
  running: 14.0 V                      # at the battery, charging
  battery: {capacity: 10 Ah, at: seat tray}
  # KEYS Supply
frame:
  legs:                                # every stretch that wires can follow
    - {between: [headstock, headlamp shell], length: 250 mm, opening: 22 mm, moves: true}
    - {between: [headstock, left handlebar], length: 450 mm, moves: true}
    - {between: [headstock, right handlebar], length: 450 mm, moves: true}
    - {between: [headstock, seat tray], length: 620 mm}
    - {between: [seat tray, engine], length: 400 mm}
    - {between: [seat tray, tail], length: 360 mm}
  # KEYS Leg
  earth: [seat tray, engine]           # where returns may end
  # KEYS Frame
places:                                # the frame point at each face of the unit
  - {name: under seat, front: seat tray, rear: tail, way_round: either}
  # KEYS Place
loads:                                 # what it is, where it is, what it draws
  - {part: dipped beam, at: headlamp shell, lamp: H4 dipped}
  - {part: main beam, at: headlamp shell, lamp: H4 main}
  - {part: tail lamp, at: tail, lamp: P21/5W tail}
  - {part: brake lamp, at: tail, lamp: P21/5W brake}
  - {name: front left indicator, part: left indicator, at: left handlebar, power: 2 W, kind: led}
  - {name: rear left indicator, part: left indicator, at: tail, power: 2 W, kind: led}
  - {name: front right indicator, part: right indicator, at: right handlebar, power: 2 W, kind: led}
  - {name: rear right indicator, part: right indicator, at: tail, power: 2 W, kind: led}
  - {part: horn, at: headstock, current: 3.5 A}
  - {part: ignition box, at: engine, current: 2 A}
  - {part: starter solenoid, at: seat tray, current: 3 A}
  # KEYS Load
inputs:                                # what each works or tells follows from what it is
  - {part: key switch, at: headlamp shell}
  - {part: engine stop switch, at: right handlebar, made: run}
  - {part: starter button, at: right handlebar}
  - {part: neutral switch, at: engine}
  - {part: clutch switch, at: left handlebar, made: pulled}
  - {part: side stand switch, at: engine, made: up}
  - {part: front brake switch, at: right handlebar}
  - {part: rear brake switch, at: engine}
  - {part: indicator switch, at: left handlebar}
  - {part: dip switch, at: left handlebar}
  - {part: horn button, at: left handlebar}
  # KEYS Switch
# KEYS Bike
"""
UNIT = """\
# A unit to start from: change it line by line to what its maker's sheet says.
unit: ten-way
feed: {limit: 36 A, fuse_max: 35 A, wire_max: 10 mm2, face: rear}
# KEYS Feed
outputs:                               # one entry for outputs that are alike
  - names: [out 1, out 2, out 3, out 4]
    limit: 10 A                        # continuous
    peak: 90 A                         # for a short time
    peak_for: 100 ms
    trip: [4 A, 8 A, 10 A]             # what its electronic fuse can be set to
    switch_modes: [steady, hold, start]
    face: front
    wire_max: 2.5 mm2                  # the thickest for its terminal
    inductive: true                    # may switch motors, horns and coils
  - names: [out 5, out 6, out 7, out 8, out 9, out 10]
    limit: 6 A
    peak: 45 A
    peak_for: 100 ms
    trip: [1 A, 2 A, 4 A, 6 A]
    switch_modes: [steady, hold, flash]
    face: rear
    wire_max: 1.5 mm2
    inductive: true
  # KEYS Output
inputs:
  - {names: [in 1, in 2, in 3, in 4, in 5, in 6], accepts: [earth], face: front}
  - {names: [in 7, in 8, in 9, in 10, in 11, in 12], accepts: [earth], face: rear}
  # KEYS Port
# KEYS Unit
"""


def bike_to_start_from() -> str:
    """Return a bike's file that plans, with every key that such a file may have."""
    return for_editors("bike") + _filled(BIKE, Bike)


def unit_to_start_from() -> str:
    """Return a unit's file with every key that such a file may have."""
    return for_editors("unit") + _filled(UNIT, Unit)


def for_editors(what: str) -> str:
    """Return the lines by which an editor knows the keys of a 'bike' or a 'unit'."""
    return (
        f"# yaml-language-server: $schema={what}.schema.json\n"
        f"# For an editor that reads the line above, once: portloom schema {what} --out {what}.schema.json\n"
    )


def _filled(template: str, model: type[Entry]) -> str:
    """Put the keys that a template does not use where it says."""
    used = frozenset(_used(parse(template, "starter", model.__name__.lower()).root, model))
    shown = {entry for entry, _ in used}

    def more(found: re.Match[str]) -> str:
        entry = next(entry for entry in shown if entry.__name__ == found["entry"])
        lines = "".join(_lines(entry, used, shown, found["indent"], 1))
        return f"{found['indent']}# Every further key of {TITLES[found['entry']]}:\n{lines}" if lines else ""

    return MARK.sub(more, template)


TITLES = {
    "Supply": "the supply", "Leg": "a leg", "Frame": "the frame", "Place": "a place", "Load": "a load",
    "Switch": "an input", "Bike": "the bike", "Feed": "the feed", "Output": "an output", "Port": "an input",
    "Unit": "the unit",
}  # fmt: skip


def _used(node: Node, entry: type[Entry]) -> Iterator[tuple[type[Entry], str]]:
    """Return each key that a tree uses, with the kind of entry that it is of."""
    for key, value in node.values.items() if isinstance(node, Keyed) else ():
        yield entry, key
        inner = entry_of(fields(entry)[key]) if key in fields(entry) else None
        for below in value.items if isinstance(value, Listed) else (value,):
            if inner is not None:
                yield from _used(below, inner)


def _lines(entry: type[Entry], used: Used, shown: set[type[Entry]], indent: str, depth: int) -> Iterator[str]:
    """Return a comment for each key of an entry that is not used; entries that it leads to are told below it, once."""
    for key in keys(entry):
        if (entry, key) in used or ("names" in keys(entry) and key == "name"):
            continue
        field = fields(entry).get(key)
        yield from _comment(f"{key}: {_said(field)}", indent, depth)
        inner = entry_of(field) if field is not None else None
        if inner is not None and inner not in shown:
            shown.add(inner)
            if _inherited(inner):
                yield from _comment("each key of a load, and", indent, depth + 1)
            yield from _lines(inner, used | _inherited(inner), shown, indent, depth + 1)


def _inherited(entry: type[Entry]) -> Used:
    """Return the keys that an entry has from the one that it is made after, where these are told already."""
    above = entry.__base__
    return {(entry, key) for key in keys(above)} if above is not None and issubclass(above, Entry) else frozenset()


def _said(field: FieldInfo | None) -> str:
    """Say what a key means, with its words where it takes only some."""
    if field is None:
        return SEVERAL
    said, words, example = str(field.description), choices_of(field), example_of(field)
    if example:
        return f"{said} (in {example.split()[-1]})"
    return said if all(word in said for word in words) else f"{said} ({or_list(words)})"


def _comment(text: str, indent: str, depth: int) -> Iterator[str]:
    start = f"{indent}#{'  ' * depth} "
    for line in wrap(text, WIDTH, initial_indent=start, subsequent_indent=f"{start}    ", break_long_words=False):
        yield f"{line}\n"
