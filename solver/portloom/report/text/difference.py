"""The difference of two plans as an electrician reads it: what moves, what is cut, what is set, then every figure."""

from collections.abc import Callable, Sequence
from decimal import Decimal

from portloom.base.figures import capital, counted, listed, number_word
from portloom.documents.assumed import CAUTIONS
from portloom.documents.difference.change import Change, Difference, Kind, Named
from portloom.report.text.layout import Page, TableColumn, write_cautions, write_first
from portloom.report.text.told_values import NOTHING, value_of, word_of

SAID = {
    "warnings": "Warnings", "also_needed": "Also needed", "could_share": "Could share an output",
    "multiplexers_not_used": "Multiplexers not used", "decided": "Decided in the bike's file",
    "not_yet_judged": "Read, but not checked yet", "assumed": "Assumed", "cautions": "Cautions",
}  # fmt: skip
"""What stands over sentences of a kind that came or went."""
FIGURES = {
    "outputs": "Figures of the outputs", "inputs": "Figures of the inputs", "fed": "Fed from the battery",
    "multiplexers": "Multiplexers", "returns": "Returns", "other_wires": "Other wires", "shown": "What dashes show",
    "cases": "Cases against limits", "legs": "Looms against openings", "feed": "Feed",
    "protection": "Wires against their fuses and trips", "lamps": "Voltage at the lamps in the worst case",
    "cranking": "While cranking", "battery_leads": "Leads of the battery", "energy": "Energy",
}  # fmt: skip
"""What stands over the figures of a part; over any other its own words."""
WAS: tuple[TableColumn, ...] = (("was", "left"), ("is now", "left"))
STEP = ("wire_run_mm", "spare_port_loss_mm", "legs_in_use_mm", "cost_mm", "copper_g")
"""Figures of which it is told by how much they change."""


def write_difference(difference: Difference, page: Page) -> None:
    """Write a difference from its verdict to the cautions; where there is none, the verdict alone."""
    if difference.same:
        page.line(f"{_called(difference.new)}: THE SAME plan, in all that it tells.", "bold")
        return
    write_first((), difference.set_aside, page)
    page.line(f"{_called(difference.new)}: DIFFERENT from {_against(difference)}.", "bold")
    moved, wires, settings = (_of(difference, kind) for kind in AT_THE_BENCH)
    page.line(_in_short(moved, wires, settings))
    for when, plan in (("Was", difference.old), ("Is now", difference.new)):
        if plan.seats:
            page.line(f"{when}: {listed([f'{label} {seat}' for label, seat in plan.seats])}.")
    _moved(moved, page)
    _wires(wires, page)
    _settings(settings, page)
    _whole(_of(difference, "whole"), page)
    said = _of(difference, "sentence")
    _warnings([change for change in said if change.part == "warnings"], difference.stay, page)
    _said([change for change in said if change.part != "warnings"], page)
    _figures(_of(difference, "figure"), page)
    write_cautions(CAUTIONS, page)


AT_THE_BENCH: tuple[Kind, Kind, Kind] = ("moved", "wire", "setting")


def _in_short(moved: Sequence[Change], wires: Sequence[Change], settings: Sequence[Change]) -> str:
    """Say how much there is to do at the bench."""
    told = [
        "One load or switch moves"
        if len(moved) == 1
        else f"{capital(number_word(len(moved)))} loads and switches move",
        f"{counted(len(wires), 'wire')} {'differs' if len(wires) == 1 else 'differ'}",
        f"{counted(len(settings), 'setting')} of ports {'differs' if len(settings) == 1 else 'differ'}",
    ]
    return f"{listed(told)}."


def _of(difference: Difference, kind: Kind) -> list[Change]:
    return [change for change in difference.changes if change.kind == kind]


def _called(plan: Named) -> str:
    return f"{plan.bike} on {_units(plan)}"


def _units(plan: Named) -> str:
    return listed([f"the {unit}" for unit in plan.units])


def _against(difference: Difference) -> str:
    old, new = difference.old, difference.new
    if old.bike != new.bike:
        return _called(old)
    return f"the one on {_units(old)}" if sorted(old.units) != sorted(new.units) else "the old plan"


# --- what is done at the bench


def _moved(changes: Sequence[Change], page: Page) -> None:
    if changes:
        page.heading("Loads and switches that moved")
        columns: tuple[TableColumn, ...] = (("load or switch", "left"), *WAS)
        page.table(columns, [[change.subject, _ports(change.old), _ports(change.new)] for change in changes])


def _ports(ports: Sequence[str] | None) -> str:
    return "not there" if ports is None else " and ".join(ports)


WIRES: tuple[TableColumn, ...] = (
    ("wire of", "left"), ("is", "left"), ("was", "left"), ("run", "right"), ("cut", "right"),
    ("is now", "left"), ("run", "right"), ("cut", "right"),
)  # fmt: skip


def _wires(changes: Sequence[Change], page: Page) -> None:
    """Write what becomes of each wire: size, run and cut; its legs below, where they are others."""
    if not changes:
        return
    page.heading("Wires to cut anew or to take out (run: without margin)")
    page.table(WIRES, [[c.subject, c.cutting, *_wire(c.old), *_wire(c.new)] for c in changes])
    led = [change for change in changes if change.new is not None and _legs(change.old) != _legs(change.new)]
    if led:
        page.line("  They lie in:")
        page.items([f"{c.subject}: {_legs(c.new)}" + (f" (was {_legs(c.old)})" if c.old else "") for c in led])


def _wire(wire: dict[str, object] | None) -> list[str]:
    """Return a wire's size, run and cut length."""
    if wire is None:
        return [NOTHING, "", ""]
    size, label = value_of("wire_mm2", wire.get("wire_mm2")), str(wire.get("wire") or "")
    told = size if label in {"", size} else f"{label} ({size})"
    return [told, *(value_of(key, wire.get(key)) for key in ("run_mm", "cut_mm"))]


def _legs(wire: dict[str, object] | None) -> str:
    return NOTHING if wire is None else value_of("legs", wire.get("legs"))


def _settings(changes: Sequence[Change], page: Page) -> None:
    if changes:
        page.heading("Set at the ports")
        _table("port", changes, page)


def _table(first: str, changes: Sequence[Change], page: Page) -> None:
    columns: tuple[TableColumn, ...] = ((first, "left"), ("what", "left"), *WAS)
    rows = [(change.subject or NOTHING, _what(change), *_values(change)) for change in changes]
    page.table(columns, list(dict.fromkeys(rows)))  # a circuit of one load has its drop twice


def _what(change: Change) -> str:
    """Say what differs; a thing that is told by one plan alone is 'there'."""
    alone = isinstance(change.old or change.new, dict) and (change.old is None or change.new is None)
    return "all of it" if alone else word_of(change.key, change.part)


def _values(change: Change) -> list[str]:
    return [value_of(change.key, value) for value in (change.old, change.new)]


# --- what it comes to


def _whole(changes: Sequence[Change], page: Page) -> None:
    if not changes:
        return
    page.heading("The whole plan")
    columns: tuple[TableColumn, ...] = (("what", "left"), *WAS, ("change", "right"))
    page.table(columns, [[_about(change), *_values(change), _step(change)] for change in changes])


def _about(change: Change) -> str:
    if change.part == "room_for":
        return f"room for {change.subject}"
    if change.part == "set_aside":
        return f"set aside, {change.subject}"
    word = word_of(change.key, change.part)
    return f"{change.subject}: {word}" if change.subject else word


def _step(change: Change) -> str:
    """Say by how much a figure changes."""
    if change.key in STEP and isinstance(change.old, Decimal) and isinstance(change.new, Decimal):
        step = change.new - change.old
        return f"{'+' if step > 0 else '-'}{value_of(change.key, abs(step))}"
    return ""


def _warnings(changes: Sequence[Change], stay: Sequence[str], page: Page) -> None:
    """Write the warnings that came, that went, and that stay: none of these is done with."""
    came = [change.new for change in changes if change.old is None]
    went = [change.old for change in changes if change.new is None]
    for heading, mark, lines in (("New warnings", "!", came), ("Warnings that are gone", "-", went),
                                 ("Warnings that stay", "!", stay)):  # fmt: skip
        if lines:
            page.heading(heading)
            page.items(lines, mark)


def _figures(changes: Sequence[Change], page: Page) -> None:
    for part in dict.fromkeys(change.part for change in changes):
        page.heading(FIGURES.get(part, capital(word_of(part))))
        _table("of", [change for change in changes if change.part == part], page)


def _said(changes: Sequence[Change], page: Page) -> None:
    sides: tuple[tuple[str, Callable[[Change], str | None]], ...] = (
        ("new", lambda change: change.new), ("gone", lambda change: change.old),
    )  # fmt: skip
    for part in dict.fromkeys(change.part for change in changes):
        for side, line_of in sides:
            lines = [line for change in changes if change.part == part and (line := line_of(change)) is not None]
            if lines:
                page.heading(f"{SAID.get(part, capital(word_of(part)))}: {side}")
                page.items(lines)
