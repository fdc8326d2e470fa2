"""The catalogue of parts as people read it: all of it as tables, and all about one part."""

from collections.abc import Iterator, Sequence

from portloom.base.nearest import or_list
from portloom.base.parts.loads import LOAD_PARTS
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS
from portloom.base.parts.shapes import LoadPart, OtherWord, SwitchPart
from portloom.base.parts.switches import SWITCH_PARTS
from portloom.documents.catalogue import LAMP, example, load_sheet, mode_said, switch_sheet
from portloom.report.text.layout import Page, TableColumn

LOADS: tuple[TableColumn, ...] = (
    ("load", "left"), ("kind", "left"), ("mode", "left"), ("on in", "left"), ("group", "left"),
)  # fmt: skip
SWITCHES: tuple[TableColumn, ...] = (("switch", "left"), ("works or tells", "left"), ("action", "left"))
EVERY_RULE = "those that hold for every load or switch: 'portloom rules' lists them"


def write_catalogue(page: Page) -> None:
    """Write every part, what is refused, what falls away, and what is asked."""
    page.line("A load or a switch needs its part, where it is and, of a load, what it draws:")
    page.line(f"  {example(LOAD_PARTS[0])}")
    page.line("The rest follows, and every key that is written changes it. All about one: portloom parts horn")
    page.heading("Loads")
    page.table(LOADS, [_load_row(part) for part in LOAD_PARTS])
    page.heading("Switches, sensors and senders")
    page.table(SWITCHES, [_switch_row(part) for part in SWITCH_PARTS])
    page.heading("Refused: no output feeds it, no input reads it")
    page.items([f"{word.name}: {word.why}" for word in OTHER_WORDS if not word.falls_away])
    page.heading("Falls away")
    page.items([f"{word.name}: {word.why}" for word in OTHER_WORDS if word.falls_away])
    page.heading("Asked, for it may be several things")
    page.items([f"{', '.join(words.words)}: {or_list(words.choices)}?" for words in AMBIGUOUS])


def _load_row(part: LoadPart) -> list[str]:
    on = f"fed from {_one_each(part.fed_from)}" if part.fed_from else ", ".join(part.when)
    mode = "by its switches" if part.beam else ", ".join(part.modes)
    return [part.name, part.kind or LAMP, "-" if part.fed_from else mode, on, part.group or "-"]


def _one_each(parts: Sequence[str]) -> str:
    return " and ".join(parts)


def _switch_row(part: SwitchPart) -> list[str]:
    return [part.name, _does(part), part.action or "-"]


def _does(part: SwitchPart) -> str:
    does = [f"tells {', '.join(part.tells)}"] * bool(part.tells) + [f"works {', '.join(part.works)}"] * bool(part.works)
    return "; ".join(does) or "what a dash shows"


def write_load(part: LoadPart, page: Page) -> None:
    """Write all about one load."""
    page.line(f"{part.name}, a load", "bold")
    page.items(list(_about_load(part)))


def _about_load(part: LoadPart) -> Iterator[str]:
    sheet = load_sheet(part)
    yield from _also(part.also)
    yield f"kind: {part.kind or LAMP}"
    if part.fed_from:
        diodes = ", through a diode each" if len(part.fed_from) > 1 else ""
        yield f"fed from {_one_each(part.fed_from)}{diodes}: no mode, no times and no output of its own"
    else:
        yield f"mode: {mode_said(part)}"
        yield f"on in: {', '.join(part.when)}"
    if part.other_filament:
        yield f"not in: {', '.join(part.other_filament)}, where it is one filament of a bulb with two"
    yield f"share group: {part.group}" if part.group else "share group: none"
    if sheet.worked_by:
        yield f"worked by: {', '.join(sheet.worked_by)}"
    if part.fixed:
        yield f"in another mode it is refused, unless the rule '{part.fixed.rule}' is set aside: {part.fixed.why}"
    if part.proposed:
        yield f"proposed: {part.proposed}"
    yield from _asked_and_rules(sheet.asked, sheet.rules)
    if part.kept:
        yield "never left off to make a plan fit, and never proposed to share with a load of comfort"
    yield f"to write: {example(part)}"


def write_switch(part: SwitchPart, page: Page) -> None:
    """Write all about one switch."""
    page.line(f"{part.name}, a switch, sensor or sender", "bold")
    page.items(list(_about_switch(part)))


def _about_switch(part: SwitchPart) -> Iterator[str]:
    sheet = switch_sheet(part)
    yield from _also(part.also)
    if part.tells:
        yield f"tells the unit: {', '.join(part.tells)}"
    if part.works:
        yield f"works every: {', '.join(part.works)}"
    if part.shown:
        yield "may be there for a dash alone, which names it under 'shows'"
    yield f"signal: {part.signal}"
    if part.action:
        yield f"action: {part.action}"
    if part.made and part.made.usual:
        yield f"made: {part.made.usual}, unless the file says otherwise ({' or '.join(part.made.rest)})"
    yield "return: frame, it earths through its own body" if part.by_frame else "return: wire"
    if part.straight:
        yield "never through a multiplexer"
    yield from _asked_and_rules(sheet.asked, sheet.rules)
    yield f"to write: {example(part)}"


def write_other(word: OtherWord, page: Page) -> None:
    """Write why a word is no part."""
    page.line(f"{word.name}, which {'falls away' if word.falls_away else 'is refused'}", "bold")
    page.items([*_also(word.also), f"why: {word.why}"])


def write_asked(said: str, choices: Sequence[str], page: Page) -> None:
    """Write what a word may be that may be several things."""
    page.line(f"{said}, which may be several things", "bold")
    page.items([f"write: part: {choice}" for choice in choices])


def _also(also: Sequence[str]) -> Iterator[str]:
    if also:
        yield f"also read as: {', '.join(also)}"


def _asked_and_rules(asked: Sequence[str], rules: Sequence[str]) -> Iterator[str]:
    yield from (f"asked: {question}" for question in asked)
    yield f"rules for what it is: {', '.join(rules)}; and {EVERY_RULE}" if rules else f"rules: {EVERY_RULE}"
