"""The first screen of a plan: what an electrician and a shop look for, in forty lines at eighty columns.

What stands first and the warnings are told whole where there is room, else a line each, cut, and whole below. Between
them stands what is on which output by which switch, and what to buy.
"""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Literal, Protocol

from portloom.base.events import CRANKING, KEY_ON_STATES, STATES
from portloom.base.figures import capital, counted, listed
from portloom.base.quantities import Micrometres
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.document import OutputLine, Plan, PlannedUnit
from portloom.documents.fail_safe import FIRST
from portloom.documents.notes import noted
from portloom.report.text.layout import Page, TableColumn, amperes, metres, write_first
from portloom.report.text.ports import warning_lines, write_feed, write_verdict, write_verdict_of_two

BY_WHAT: dict[str | None, str] = {"relay": "relay and fuse"}
LINES = 40
"""Of a terminal as people have it."""
BY: tuple[TableColumn, ...] = (
    ("output", "left"), ("trip", "right"), ("loads", "left"), ("by", "left"),
)  # fmt: skip


Told = Literal["whole", "cut", "counted"]
"""In full, a line each, or how many there are."""


class Screen(Page, Protocol):
    """What knows how many lines it has written something on."""

    def fits(self, write: Callable[["Screen"], None], lines: int) -> bool:
        """Tell whether something takes so many lines at most."""

    def brief(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list, a line an entry, what is longer cut."""


@dataclass(frozen=True)
class Brevity:
    """How short the first screen is."""

    warned: Told
    needed: Told
    airy: bool = True
    """Whether empty lines part it."""
    tight: bool = False
    """Whether sizes, trips and cases are left to the parts that have them."""


BREVITIES = (
    Brevity("whole", "whole"), Brevity("cut", "whole"), Brevity("cut", "cut"), Brevity("cut", "counted"),
    Brevity("cut", "counted", airy=False), Brevity("counted", "counted", airy=False),
    Brevity("counted", "counted", airy=False, tight=True),
)  # fmt: skip
"""Each is shorter than the one before; what can hurt is never counted."""


def write_first_screen(plan: Plan, page: Screen, more: Sequence[str] = ()) -> bool:
    """Write it, and the names of the parts that there are more; return whether anything that warns was cut."""
    brevity = next((each for each in BREVITIES if page.fits(partial(_write, plan, more, each), LINES)), BREVITIES[-1])
    _write(plan, more, brevity, page)
    return brevity.warned != "whole"


def _write(plan: Plan, more: Sequence[str], brevity: Brevity, page: Screen) -> None:
    _write_what_can_hurt(plan, brevity, page)
    if len(plan.units) == 1:
        write_verdict(plan, page)
        _write_feed(plan.only, brevity, page)
    else:
        write_verdict_of_two(plan, page)
    _part(brevity, page)
    for unit in plan.units:
        _write_outputs(plan, unit, brevity, page)
    if plan.fed:
        fed = [line.name if brevity.tight else f"{line.name} ({BY_WHAT.get(line.by, 'fuse')})" for line in plan.fed]
        page.line(f"  Past the unit: {listed(fed)}.")
    _part(brevity, page)
    _write_what_to_buy(plan, brevity, page)
    _write_warnings(plan, brevity, page)
    if more:
        _part(brevity, page)
        page.line(f"More: --only, with any of {', '.join(more)}; all of it: --full", "bold")


def _write_feed(unit: PlannedUnit, brevity: Brevity, page: Screen) -> None:
    if not brevity.tight:
        write_feed(unit, page)
        return
    feed = unit.feed
    worst = f"worst case {amperes(feed.worst)} of the unit's {amperes(feed.limit)}"
    page.line(f"Main fuse {amperes(feed.main_fuse)} at the battery; {worst}.")


def _part(brevity: Brevity, page: Screen) -> None:
    if brevity.airy:
        page.line("")


def _write_what_can_hurt(plan: Plan, brevity: Brevity, page: Screen) -> None:
    if brevity.warned == "whole":
        write_first(plan.first, plan.set_aside, page)
        return
    if plan.first:
        page.line(f"{FIRST.removesuffix(':')} (in full below):", "bold red")
        page.brief(plan.first, "!")
    if plan.set_aside and brevity.tight:
        rules = listed([rule for rule, _ in plan.set_aside])
        page.line(f"SET ASIDE by the bike file (in full below): {rules}", "bold red")
    elif plan.set_aside:
        page.line("SET ASIDE by the bike file (in full below):", "bold red")
        page.brief([f"rule {rule}: {reason}" for rule, reason in plan.set_aside], "!")
    if plan.first or plan.set_aside:
        _part(brevity, page)


def _write_outputs(plan: Plan, unit: PlannedUnit, brevity: Brevity, page: Screen) -> None:
    if len(plan.units) > 1:
        page.line(f"  On the {unit.unit} {unit.seat}, main fuse {amperes(unit.feed.main_fuse)}:")
    if not unit.outputs:
        page.line("  It drives nothing.")
        return
    rows = [[line.port, amperes(line.trip), noted(line.loads, line.notes), _by(line)] for line in unit.outputs]
    if brevity.tight:
        page.table((BY[0], *BY[2:]), [[port, *rest] for port, _, *rest in rows])
    else:
        page.table(BY, rows)


def _by(line: OutputLine) -> str:
    """Say which switches work it; else when it is on by itself."""
    return ", ".join(line.worked_by) or f"itself, {_when(line.on_in)}"


def _when(words: Sequence[str]) -> str:
    states = set(words) & set(STATES)
    if states == set(STATES):
        return "always"
    if len(states) == len(words) and states >= {"day", "night"} and states <= {*KEY_ON_STATES, CRANKING}:
        return "with the key on" if "key on" in states else "while the engine runs"
    return ", ".join(words)


def _write_what_to_buy(plan: Plan, brevity: Brevity, page: Screen) -> None:
    fuses = listed([amperes(unit.feed.main_fuse) for unit in plan.units])
    units = listed([f"the {unit.unit}" for unit in plan.units])
    lengths = _cut(plan)
    wire = ", ".join(f"{size.label} {metres(length)}" for size, length in lengths.items())
    if brevity.tight:
        wire = f"{metres(Micrometres(sum(lengths.values())))} in {counted(len(lengths), 'size')}"
    said = f"To buy: {units}; main fuse {fuses}; wire as cut: {wire}"
    if brevity.needed == "counted":
        page.line(f"{said}; {counted(len(plan.also_needed), 'thing')} more: --only needed", "bold")
        return
    page.line(f"{said}; and:", "bold")
    (page.items if brevity.needed == "whole" else page.brief)(plan.also_needed)


def _cut(plan: Plan) -> dict[WireSize, Micrometres]:
    """Return what is cut new of each size, the thinnest first."""
    lengths: dict[WireSize, int] = {}
    for wire in plan.wiring.ours:
        if wire.size is not None and not wire.built:
            lengths[wire.size] = lengths.get(wire.size, 0) + wire.cut
    return {size: Micrometres(lengths[size]) for size in sorted(lengths, key=lambda size: size.area)}


def _write_warnings(plan: Plan, brevity: Brevity, page: Screen) -> None:
    lines = warning_lines(plan)
    if not lines:
        return
    _part(brevity, page)
    if brevity.warned == "whole":
        page.line("Warnings:", "bold")
        page.items(lines, "!")
        return
    also = " more" if plan.first else ""
    page.line(f"{capital(counted(len(lines), 'warning'))}{also}, in full below", "bold")
    if brevity.warned == "cut":
        page.brief(lines, "!")
