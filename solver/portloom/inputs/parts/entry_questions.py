"""What is asked of one load or one input: what switches it, how it is made, who works it.

Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from portloom.base.events import STATES
from portloom.base.figures import with_article
from portloom.base.nearest import and_list, or_list
from portloom.base.parts import loads, switches
from portloom.base.quantities import MilliAmps
from portloom.base.vocabulary import DIM, FLASH, MODES, START, TIMED
from portloom.inputs.mends import Mend, Way
from portloom.inputs.parts.asking import Asking, has_own_switch, made_lines
from portloom.inputs.parts.entries import LoadEntry, SwitchEntry
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import CURRENT, POWER, VOLTAGE, amount_of, keyed, words

HIGH_PULL = MilliAmps(8_000)
"""A solenoid that is held with more than this draws much more for a moment, as it pulls in."""
BOXES = (loads.IGNITION_BOX.name, loads.ENGINE_CONTROLLER.name)
"""What switches a coil's other end electronically."""
IN_THE_DARK = (FLASH, TIMED)
"""Modes by which a headlamp goes out by itself."""
NOT_NEEDED = {"key on", "hazard"}
"""When a part may be off that is on then by default: a coil before the engine turns, indicators without hazard."""
RUNS_BY_THE_KEY = "the engine must not be stopped by day or by night, nor kept running with the key off"
SWITCHED = ("earth", "supply")


def asked_of_loads(asking: Asking) -> Iterator[Flaw]:
    """Ask what switches a coil, how hard a solenoid pulls and who works a load; tell modes that defeat a part."""
    for entry in asking.bike.loads:
        yield from _coil(entry, asking)
        yield from _unfed(entry)
        yield from _pull_in(entry, asking)
        yield from _nobody(entry, asking)
    for entry in (*asking.bike.loads, *asking.bike.later):
        yield from _start_mode(entry, asking)
        yield from _defeated(entry, asking)
        yield from _mistimed(entry, asking)


def _coil(entry: LoadEntry, asking: Asking) -> Iterator[Flaw]:
    if entry.part is not loads.IGNITION_COIL:
        yield from _switched(entry)
        return
    if entry.writes("return"):
        yield Flaw.at(
            entry.node.keys["return"],
            f"'{entry.name}' has no return of its own: a coil is never earthed itself",
            "leave 'return' out; its current comes back through what switches it ('switched_by')",
        )
    said = entry.says("switched_by")
    if not entry.has("switched_by"):
        yield Flaw.at(
            entry.node,
            f"what takes the other end of '{entry.name}' to earth? a coil is never earthed itself",
            f"write {', '.join(_switched_by(box, asking) for box in BOXES)}, or 'switched_by: points' for a contact "
            "breaker, whose current comes back through the engine's strap",
        )
    elif said and said[0] in loads.SPARKING and not any(asking.bike.of(said[0])):
        yield Flaw.at(
            entry.node.values["switched_by"],
            f"there is no {said[0]} on the bike to switch '{entry.name}'",
            f"add to 'loads' {asking.line(said[0], 'engine', 'current: 1 A')}, or write what does",
        )


def _switched_by(what: str, asking: Asking) -> str:
    """Return the line for what switches a coil, with what is to be added to the loads where that is not there."""
    add = "" if any(asking.bike.of(what)) else f" with {asking.line(what, 'engine', 'current: 1 A')} under 'loads'"
    return f"'switched_by: {what}'{add}"


def _unfed(entry: LoadEntry) -> Iterator[Flaw]:
    """Ask what feeds a tell-tale, where nothing that it is of is on the bike."""
    parts = entry.part.fed_from if entry.part else ()
    if parts and not entry.lists("from") and not entry.has("when", "mode", "fed"):
        what = f"what feeds '{entry.name}'? no load on the bike is a {' or a '.join(parts)}"
        times = dict.fromkeys(time for part in parts for time in loads.LOAD_PART[part].when)
        right = f"write 'when: [{', '.join(times)}]'; or add what it shows to 'loads', or name it under 'from'"
        yield Flaw.at(entry.node, what, right)


def _switched(entry: LoadEntry) -> Iterator[Flaw]:
    """Tell what has an earth of its own, and something that is to switch its other end."""
    if entry.writes("switched_by"):
        yield Flaw.at(
            entry.node.keys["switched_by"],
            f"'{entry.name}' is no ignition coil: it has an earth of its own",
            "leave 'switched_by' out, or write 'part: ignition coil'",
        )


def _pull_in(entry: LoadEntry, asking: Asking) -> Iterator[Flaw]:
    if entry.part is not loads.STARTER_SOLENOID or entry.has("pull_in", "inrush"):
        return
    starter = keyed(asking.bike.root, "supply", "starter")
    on_starter = {found.text for found in words(starter, "at")} if starter else set()
    if _held(entry, asking) > HIGH_PULL or on_starter & set(entry.says("at")):
        yield Flaw.at(
            entry.node,
            f"what does '{entry.name}' draw as it pulls in? it is more than it draws after that",
            "write 'pull_in: 30 A' with the measured value (25 to 40 A are usual), or put a starter relay before it",
        )


def _held(entry: LoadEntry, asking: Asking) -> Fraction:
    """Return the milliamperes that hold a solenoid, 0 where they can't be read."""
    supply = keyed(asking.bike.root, "supply")
    power = amount_of(entry.node, "power", POWER)
    running = amount_of(supply, "running", VOLTAGE) if supply else None
    if power and running:
        return Fraction(1000 * power, running)
    return Fraction(amount_of(entry.node, "current", CURRENT) or 0)


def _start_mode(entry: LoadEntry, asking: Asking) -> Iterator[Flaw]:
    """Tell a load that is started, and of which no rule knows that it is a starter's."""
    if START not in entry.says("mode") or not entry.writes("mode") or entry.part is loads.STARTER_SOLENOID:
        return
    solenoid, mode = loads.STARTER_SOLENOID.name, entry.node.values["mode"]
    what = f"mode 'start' is for a starter solenoid, and nothing says that '{entry.name}' is one"
    if entry.part is not None:
        if entry.part.fixed is None or not asking.judged(entry.part.fixed.rule):
            yield Flaw.at(mode, what, "leave 'mode' out, or write another")
        return
    part = Mend(entry.node.line, entry.node.column, "add", solenoid, "part")
    key = entry.node.key("mode")
    ways = (
        Way((part,), f"is {with_article(solenoid)}", late=True),
        Way((Mend(key.line, key.column, "key"),), "has another mode", late=True),
    )
    yield Flaw.at(mode, what, f"add 'part: {solenoid}', or write another mode", ways)


def _defeated(entry: LoadEntry, asking: Asking) -> Iterator[Flaw]:
    """Tell a mode that defeats what a part is for, unless its rule is set aside."""
    part, modes = entry.part, entry.says("mode")
    if part is None or part.fixed is None or not asking.judged(part.fixed.rule):
        return
    if not modes or not entry.writes("mode"):
        return
    others = (set(modes) & set(MODES)) - {part.fixed.mode, DIM}
    wrong = bool(set(modes) & set(IN_THE_DARK)) if part.beam else part.fixed.mode not in modes or bool(others)
    if wrong:
        right = "leave 'mode' out" if part.beam else f"write 'mode: {part.fixed.mode}', or leave it out"
        what = f"'{entry.name}' is {with_article(part.name)} in mode {and_list(modes)}: {part.fixed.why}"
        yield Flaw.at(entry.node.values["mode"], what, right)


def _mistimed(entry: LoadEntry, asking: Asking) -> Iterator[Flaw]:
    """Tell states and events that defeat what a part is for, unless its rule is set aside, as of its mode."""
    part = entry.part
    if part is None or part.fixed is None or part.beam or not entry.has("when", "except"):
        return
    if not asking.judged(part.fixed.rule) or entry.lists("from"):
        return
    needed = set(part.when) - NOT_NEEDED
    on, off = set(entry.says("when")), set(entry.says("except"))
    late = [time for time in entry.says("when") if time in STATES and time not in part.when]
    why = RUNS_BY_THE_KEY if part.runs_engine else part.fixed.why
    called = f"'{entry.name}' is {with_article(part.name)}"
    times = f"'when: [{', '.join(part.when)}]'"
    if entry.has("when") and on and (needed - on or late):
        what = f"{called} that is on in {and_list(entry.says('when'))}: {why}"
        yield Flaw.at(entry.node.key("when"), what, f"write {times}, or leave 'when' out")
    if needed & off:
        what = f"{called} that is off in {and_list(entry.says('except'))}: {why}"
        yield Flaw.at(entry.node.key("except"), what, "leave 'except' out")


def _nobody(entry: LoadEntry, asking: Asking) -> Iterator[Flaw]:
    """Ask who works a load that somebody must work."""
    heated = DIM in entry.says("mode") or (entry.says("kind") == ("heater",) and entry.part is not loads.LAMBDA_HEATER)
    by = entry.part.worked_by if entry.part else ()
    known = [name for name in by if name in switches.SWITCH_PART]
    level = heated and not known
    if not (by or heated) or (level and entry.has("dim_to")):
        return
    if entry.lists("from") or has_own_switch(entry) or any(asking.bike.working(entry)):
        return
    own = f"{{name: {entry.name} switch, at: {asking.point('bars')}, operates: [{entry.name}]}}"
    idle = _idle(known, asking)
    lines = [_worked(name, entry, asking) for name in known if name not in idle] or ([] if idle else [own])
    at_load = [
        f"'own_switch: {asking.point('bars')}' at the load where a switch there works it that is not wired to the unit"
    ]
    at_load += ["'dim_to: 60 %' where it is simply on by day and night"] if level else []
    add = _of_brakes(lines) if entry.part is loads.BRAKE_LAMP else or_list(lines)
    there = [
        f"write 'operates: [{entry.name}]' at '{switch}', which works nothing yet" for switch in [*idle.values()][:1]
    ]
    right = "; or ".join([*there, *([f"add to 'inputs' {add}"] if lines else []), f"write {or_list(at_load)}"])
    yield Flaw.at(entry.node, f"what works '{entry.name}'? nothing on the bike does", right)


def _idle(parts: Sequence[str], asking: Asking) -> dict[str, str]:
    """Return by part the name of a switch that is on the bike and neither works nor tells anything."""
    there = (one for one in asking.bike.inputs if one.part is not None and one.part.name in parts)
    idle = (one for one in there if one.name and not one.says("operates") and not one.says("tells"))
    return {one.part.name: one.name for one in idle if one.part is not None}


def _worked(name: str, entry: LoadEntry, asking: Asking) -> str:
    """Return a switch that could work a load; it says so where its part alone does not."""
    by_part = entry.part is not None and entry.part.name in switches.SWITCH_PART[name].works
    return asking.line(name, _sits(name), "" if by_part else f"operates: [{entry.name}]")


def _of_brakes(lines: Sequence[str]) -> str:
    """A brake lamp wants both brakes' switches, or a word on why there is one."""
    return f"{and_list(lines)}, or one of them with 'brakes: one' or 'brakes: two, one switch' for the whole bike"


def _sits(name: str) -> str:
    if name == switches.REAR_BRAKE_SWITCH.name:
        return "pedal"
    return "engine" if name in (switches.TEMPERATURE_SWITCH.name, switches.FAN_REQUEST.name) else "bars"


def asked_of_inputs(inputs: Sequence[SwitchEntry]) -> Iterator[Flaw]:
    """Ask in which position contacts are made, where pulses are taken, and whom a fall sensor tells."""
    for entry in inputs:
        yield from _made(entry)
        yield from _source(entry)
        if entry.part is switches.FALL_SENSOR and not entry.has("goes_to"):
            yield Flaw.at(
                entry.node,
                f"what does '{entry.name}' tell that the bike has fallen?",
                "write 'goes_to: unit', and ignition and pump are cut by the unit; or 'goes_to: controller', and it "
                "takes no port",
            )


def _made(entry: SwitchEntry) -> Iterator[Flaw]:
    part = entry.part
    if part is None or part.made is None or entry.says("signal") not in [(signal,) for signal in SWITCHED]:
        return
    said, rest = entry.says("made"), part.made.rest
    if said and said[0] not in rest:
        what = f"the contact of '{entry.name}' is not made at '{said[0]}'"
        yield Flaw.at(entry.node.values["made"], what, f"write {made_lines(part)}")
    elif said and entry.has("normally", "made") and entry.says("normally") != (rest[said[0]],):
        what = f"'made: {said[0]}' and 'normally' say different things of '{entry.name}'"
        yield Flaw.at(entry.node.key("normally"), what, "keep 'made'")
    elif not said and not entry.has("made") and (part.made.rest_says_nothing or not entry.has("normally")):
        what = f"when is the contact of '{entry.name}' made (closed)? {part.made.ask}"
        yield Flaw.at(entry.node, what, f"write {made_lines(part)}: measure it, or look at the maker's diagram")


def _source(entry: SwitchEntry) -> Iterator[Flaw]:
    sources = entry.part.sources if entry.part else {}
    if sources and entry.says("signal") == ("pulse",) and not entry.has("from", "level"):
        levels = or_list(f"'from: {source}' ({level})" for source, level in sources.items())
        what = f"where is '{entry.name}' taken? the height of its pulses depends on it"
        yield Flaw.at(entry.node, what, f"write {levels}; or the measured 'level' and 'rate'")
