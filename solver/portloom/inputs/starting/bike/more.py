"""What is asked only where it is named: what comes later, switches that put plus on their wire, things alongside."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from re import IGNORECASE
from re import compile as pattern

from portloom.base.later_loads import USUAL_LATER
from portloom.base.letters import quoted
from portloom.base.nearest import or_list
from portloom.base.parts import loads
from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.shapes import LoadPart
from portloom.base.parts.switches import KEY_SWITCH, SWITCH_PART
from portloom.base.parts.words import part_words
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.added import Added, own_name
from portloom.inputs.starting.answers import NONE, Answers, as_table, rows
from portloom.inputs.starting.bike.engine import OF_ENGINE
from portloom.inputs.starting.bike.entries import INPUTS, SUPPLIED
from portloom.inputs.starting.bike.extras import EXTRAS, OF_EXTRAS
from portloom.inputs.starting.bike.frame import ALONGSIDE, LATER, MORE, chosen_point
from portloom.inputs.starting.bike.known import (
    LoadAsked,
    figure_keys,
    frame_of,
    lamp_figure,
    lamps_of,
    load_figure,
    others_of,
    usual_figure,
)
from portloom.inputs.starting.bike.lamps import OF_LAMPS
from portloom.inputs.starting.kinds import Choice, Kind, NotRight, SomeOf, amount, bought_size
from portloom.inputs.starting.lines import ITEM, Line
from portloom.inputs.starting.question import Question, Questions, lines_of
from portloom.inputs.tree import CURRENT, LENGTH, POWER

# --- what comes later

MAY_COME = (
    *(choice.word for choice in EXTRAS), loads.DAYTIME_LAMP.name, loads.SPOT_LAMP.name, loads.FRONT_FOG_LAMP.name,
    loads.REAR_FOG_LAMP.name, loads.INSTRUMENT_LAMPS.name,
)  # fmt: skip
"""The parts that are added to bikes one day."""
OWN_KINDS = ("led", "filament", "heater", "motor")
"""What a load of no part may be, where its watts are told."""


def _part_of(name: str) -> LoadPart | None:
    """Return what a later load is, by its name."""
    found = part_words(name)
    return LOAD_PART[found.name] if found and found.sort == "load" and found.name in MAY_COME else None


def _named(taken: Sequence[str], said: str) -> str:
    found = part_words(said)
    if found is not None and found.sort == "load" and found.name not in MAY_COME:
        raise NotRight(f"a {found.name} is no later load; it belongs to the bike as it is, so go back for it")
    if found is not None and found.sort in ("refused", "falls away"):
        raise NotRight(f"'{quoted(said.strip())}' is not asked for: {found.why}")
    return own_name(said, taken)


def _draws(name: str, said: str, before: Sequence[str]) -> str:  # noqa: ARG001 - as every row
    """Return what a later load draws, as it is kept."""
    part = _part_of(name)
    if part is not None:
        return lamp_figure(part, said) if part.is_lamp else load_figure(said)
    watts, _, kind = said.rpartition(" ")
    if kind.casefold() in OWN_KINDS:
        return f"{amount(watts, POWER, '0.1 W', '400 W')} {kind.casefold()}"
    if said.rstrip().endswith(("W", "w")):
        right = amount(said, POWER, "0.1 W", "400 W")
        raise NotRight(f"{right} of what? write {or_list(f'{right} {kind}' for kind in OWN_KINDS)}")
    return amount(said, CURRENT, "5 mA", "40 A")


def _on_bike(answers: Answers) -> list[LoadAsked]:
    return [*lamps_of(answers), *others_of(answers)]


def _later(answers: Answers) -> Kind:
    taken = [load.name for load in _on_bike(answers)]
    return Added(partial(_named, taken), _draws, "heated seat: 40 W")


def _usual_later(answers: Answers) -> str:
    """Return what usually comes, but for what is there."""
    there = {load.part.name for load in _on_bike(answers)}
    return as_table({
        usual.name: usual_figure(LoadAsked(usual.name, LOAD_PART[part], part))
        for part, usual in USUAL_LATER.items()
        if part not in there
    })  # fmt: skip


def _later_lines(answers: Answers) -> Iterator[Line]:
    said = rows(answers, LATER)
    for name, draws in said.items():
        part = _part_of(name)
        named = {} if part is not None and part.name == name else {"name": name}
        what = {} if part is None else {"part": part.name}
        dims = {"mode": "dim"} if part is not None and part.kind == "heater" and part.concern == "comfort" else {}
        yield Line(("later", ITEM), {**named, **what, **figure_keys(part, draws), **dims})
    if not said:
        yield Line(("later",), [], "nothing: free ports are worth nothing")


# --- switches


def switches_of(answers: Answers) -> Iterator[tuple[str, Mapping[str, Plain]]]:
    """Return each switch that has a line of the file by now, by its name, with its keys."""
    for line in lines_of((*OF_LAMPS, *OF_ENGINE, *OF_EXTRAS), answers):
        if line.path == INPUTS and isinstance(line.value, Mapping):
            yield str(line.value.get("name", line.value.get("part"))), line.value


def _may_supply(answers: Answers) -> Iterator[str]:
    """Return the contacts that may put plus on a wire: none that earths through its body; the key is asked for."""
    for name, _ in switches_of(answers):
        part = SWITCH_PART.get(name)
        if part is None or (part.signal == "earth" and not part.by_frame and part is not KEY_SWITCH):
            yield name


def _supplied(answers: Answers) -> Kind:
    return SomeOf(tuple(map(Choice, _may_supply(answers))))


# --- what lies alongside

ALONG_EXAMPLE = "fuel sender: tank to headstock, 0.5 mm2"
ENDS = pattern(r"(?:from )?(?P<start>.+?) to (?P<end>.+)", IGNORECASE)
SEVERAL = pattern(r"(?P<count>[1-9]\d?) ?x ?(?P<each>.+)", IGNORECASE)
MOST_WIRES = 12


def _along(points: Sequence[str], name: str, said: str, before: Sequence[str]) -> str:  # noqa: ARG001 - as every row
    """Return what lies alongside, as it is kept: 'engine to seat tray, 3 x 2.5 mm2, 18 A'."""
    ends, *more = (piece.strip() for piece in said.split(","))
    found = ENDS.fullmatch(ends)
    if found is None or not 0 < len(more) < 3:
        raise NotRight(f"say from where to where, and how thick; write it such as '{ALONG_EXAMPLE}'")
    start, end = (chosen_point(points, found[key]) for key in ("start", "end"))
    if start == end:
        raise NotRight(f"it starts and ends at '{end}'; write where its other end is")
    thick = _thickness(more[0])
    carried = [amount(more[1], CURRENT, "5 mA", "60 A")] if more[1:] else []
    if carried and not _is_wire(thick):
        raise NotRight("a hose or a cable carries no current; leave the current out, or write the wire's mm2")
    return ", ".join([f"{start} to {end}", thick, *carried])


def _thickness(said: str) -> str:
    found = SEVERAL.fullmatch(said)
    count, each = (int(found["count"]), found["each"]) if found else (1, said)
    if count > MOST_WIRES:
        raise NotRight(f"these are {count}; write {MOST_WIRES} at most")
    size = bought_size(each) if _is_wire(each) else amount(each, LENGTH, "1 mm", "60 mm")
    return f"{count} x {size}" if count > 1 else size


def _is_wire(thick: str) -> bool:
    return thick.upper().endswith(("MM2", "MM²", "AWG"))


def _alongside(answers: Answers) -> Kind:
    points = frame_of(answers).points
    return Added(own_name, partial(_along, points), ALONG_EXAMPLE, points)


def _along_lines(answers: Answers) -> Iterator[Line]:
    for name, said in rows(answers, ALONGSIDE).items():
        ends, thick, *carried = said.split(", ")
        start, _, end = ends.partition(" to ")
        found = SEVERAL.fullmatch(thick)
        many: dict[str, Plain] = {"count": found["count"]} if found else {}
        size = found["each"] if found else thick
        how = {"size" if _is_wire(size) else "diameter": size}
        flows: dict[str, Plain] = {"current": carried[0]} if carried else {}
        yield Line((ALONGSIDE, ITEM), {"name": name, "from": start, "to": end, **how, **many, **flows})


OF_MORE: Questions = (
    Question(
        LATER, "later", "What may be added one day, and what would it draw?", _later,
        "The plan keeps outputs free for it. 'heated grips: none' takes these away, 'none' all.", _usual_later,
        writes=_later_lines, gate=MORE,
    ),
    Question(
        SUPPLIED, "switches", "Which switches put battery plus on their wire to the unit?", _supplied,
        "All others take it to earth. See the diagram, or measure; the unit must take it.", lambda _: NONE,
        when=lambda a: any(_may_supply(a)), gate=MORE,
    ),
    Question(
        ALONGSIDE, "looms", "What else lies in the looms, and never touches the unit?", _alongside,
        "Wires by their mm2, with amperes if an ampere or more flows: '3 x 2.5 mm2, 18 A'. "
        "Hoses and cables by their diameter: '6 mm'.",
        lambda _: "", writes=_along_lines, gate=MORE,
    ),
)  # fmt: skip
