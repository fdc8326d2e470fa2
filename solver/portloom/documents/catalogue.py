"""The catalogue of parts as one document: what each part is, what follows from that, and what is asked."""

from collections.abc import Iterator

from portloom.base.parts.loads import BRAKE_LAMP, LOAD_PARTS, MAIN_BEAM, STARTER_SOLENOID
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS
from portloom.base.parts.shapes import LoadPart, OtherWord, SwitchPart
from portloom.base.parts.switches import SWITCH_PARTS
from portloom.base.values import dataclass
from portloom.base.vocabulary import ENGINE_RUN
from portloom.rules.book import RULES

LAMP = "of its lamp"
BY_SWITCHES = "toggle where a push switch works it and no latching one"
BY_FLASH = "hold where only flash buttons work it"


@dataclass(frozen=True)
class LoadSheet:
    """All that the catalogue says of a load."""

    part: LoadPart
    worked_by: tuple[str, ...]
    """The switches that work every load of this part."""
    may_work: tuple[str, ...]
    """The switches of which it needs one."""
    asked: tuple[str, ...]
    rules: tuple[str, ...]
    """The rules that hold because of what it is."""


@dataclass(frozen=True)
class SwitchSheet:
    """All that the catalogue says of a switch."""

    part: SwitchPart
    asked: tuple[str, ...]
    rules: tuple[str, ...]


def load_sheet(part: LoadPart) -> LoadSheet:
    """Return all that the catalogue says of a load."""
    by = tuple(switch.name for switch in SWITCH_PARTS if part.name in switch.works)
    rules = tuple(rule.slug for rule in RULES if rule.of_load and rule.of_load(part))
    return LoadSheet(part, by, part.worked_by, tuple(_asked_of_load(part)), rules)


def switch_sheet(part: SwitchPart) -> SwitchSheet:
    """Return all that the catalogue says of a switch."""
    rules = tuple(rule.slug for rule in RULES if rule.of_switch and rule.of_switch(part))
    return SwitchSheet(part, tuple(_asked_of_switch(part)), rules)


def mode_said(part: LoadPart) -> str:
    """Say how a load is driven, and where that hangs on its switches."""
    more = (BY_SWITCHES,) * part.beam + (BY_FLASH,) * (part is MAIN_BEAM)
    return "; ".join((", ".join(part.modes), *more))


def example(part: LoadPart | SwitchPart) -> str:
    """Return a line by which a file may have this part."""
    return f"{{part: {part.name}, {part.line}}}"


def _asked_of_load(part: LoadPart) -> Iterator[str]:
    if part.is_lamp:
        yield "kind: led, filament or discharge, where 'power' says what it draws and not 'lamp'"
    if part.asks:
        yield part.asks
    if part.worked_by:
        yield "what works it, where no input does"
    yield from _asked_of_bike(part)


def _asked_of_bike(part: LoadPart) -> Iterator[str]:
    """Return what the whole bike is asked where it has such a load, and no input tells it."""
    if ENGINE_RUN in part.modes:
        yield "how the unit knows that the engine turns, where it runs this"
    if part.runs_engine:
        yield "engine_stop: what stops the engine, where no input tells of an engine stop switch"
    if part is STARTER_SOLENOID:
        yield "what keeps it from cranking in gear: a neutral switch, a clutch switch or both"
    if part.runs_engine or part is STARTER_SOLENOID:
        yield "stand: whether there is a side stand, where no input tells of its switch"
    if part is BRAKE_LAMP:
        yield "brakes: whether there is one, where one switch tells of them"


def _asked_of_switch(part: SwitchPart) -> Iterator[str]:
    if part.made and part.made.usual is None:
        yield f"made: {' or '.join(part.made.rest)}; {part.made.ask}"
    if part.sources:
        yield f"from: {', '.join(f'{source} ({level})' for source, level in part.sources.items())}"
    if part.asks:
        yield part.asks


def catalogue_document() -> dict[str, object]:
    """Return the whole catalogue for other programs."""
    return {
        "loads": [load_document(part) for part in LOAD_PARTS],
        "switches": [switch_document(part) for part in SWITCH_PARTS],
        "refused": [other_document(word) for word in OTHER_WORDS if not word.falls_away],
        "falls_away": [other_document(word) for word in OTHER_WORDS if word.falls_away],
        "asked": [
            {"words": list(words.words), "may_be": list(words.choices)} for words in AMBIGUOUS
        ],
    }  # fmt: skip


def load_document(part: LoadPart) -> dict[str, object]:
    """Return a load of the catalogue for other programs."""
    sheet = load_sheet(part)
    return {
        "part": part.name, "sort": "load", "read_as": list(part.also), "kind": part.kind, "mode": list(part.modes),
        "mode_by_switches": part.beam, "when": [] if part.fed_from else list(part.when),
        "except_of_two_filaments": list(part.other_filament), "share": part.group, "fed_from": list(part.fed_from),
        "worked_by": list(sheet.worked_by), "needs_one_of": list(sheet.may_work), "asked": list(sheet.asked),
        "rules": list(sheet.rules), "never_left_off": part.kept, "example": example(part),
    }  # fmt: skip


def switch_document(part: SwitchPart) -> dict[str, object]:
    """Return a switch of the catalogue for other programs."""
    sheet, made = switch_sheet(part), part.made
    return {
        "part": part.name, "sort": "switch", "read_as": list(part.also), "tells": list(part.tells),
        "operates": list(part.works), "action": part.action, "signal": part.signal,
        "made": list(made.rest) if made else [], "made_unless_written": made.usual if made else None,
        "return": "frame" if part.by_frame else "wire", "never_through_a_multiplexer": part.straight,
        "for_a_dash": part.shown, "asked": list(sheet.asked), "rules": list(sheet.rules), "example": example(part),
    }  # fmt: skip


def other_document(word: OtherWord) -> dict[str, object]:
    """Return a word of the catalogue for what no output feeds and no input reads."""
    sort = "falls away" if word.falls_away else "refused"
    return {"part": word.name, "sort": sort, "read_as": list(word.also), "why": word.why}
