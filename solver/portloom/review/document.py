"""The answer to a posted plan, as data and as one JSON document."""

from typing import Literal

from portloom.base.bike import Bike
from portloom.base.letters import quoted
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.documents.amounts import Json, cost_json, set_aside_json, thousandth
from portloom.documents.assumed import CAUTIONS
from portloom.documents.fail_safe import stands_first
from portloom.inputs.problems import Problem
from portloom.job.goal import Cost, Priced
from portloom.review.matching import Posted
from portloom.review.posted import PostVerdict
from portloom.rules.clash import Clash

CheckStatus = Literal["sound", "nothing wrong", "broken", "not clear", "not known"]


@dataclass(frozen=True)
class Move:
    """A load or a switch that goes to another port; ``before`` is None where the post has it on none."""

    name: str
    before: str | None
    after: str


@dataclass(frozen=True)
class SettingChange:
    """What an output must be set to and wired with, where the post says otherwise and that no longer holds."""

    port: str
    trip: MilliAmps
    size: WireSize


@dataclass(frozen=True)
class Repair:
    """The fewest moves that make a posted plan sound, and of those the cheapest plan."""

    moved: tuple[Move, ...]
    placed: tuple[Move, ...]
    """What the post has on no port; each counts as a move of its own."""
    taken_off: tuple[tuple[str, str], ...]
    """What comes off an output, with its port: it is fed by others there, past the unit, or never by an output."""
    set_anew: tuple[SettingChange, ...]
    outputs: tuple[tuple[str, tuple[str, ...]], ...]
    inputs: tuple[tuple[str, tuple[str, ...]], ...]
    place: str
    cost: Micrometres
    least: int
    """No plan that is sound moves and places fewer than this."""
    left_open: tuple[str, ...] = ()
    """The switches and multiplexers that the post has on no input, as far as this plan uses them."""
    main_fuse: MilliAmps | None = None
    """What the main fuse must be, where the post has none or another that can't stay."""

    @property
    def moves(self) -> int:
        """How many loads and switches move or are placed."""
        return len(self.moved) + len(self.placed)

    @property
    def proven(self) -> bool:
        """Tell whether it is proved that no plan with fewer moves is sound."""
        return self.moves == self.least

    @property
    def changes_nothing(self) -> bool:
        """Tell whether all stays as it was posted."""
        return not (self.moves or self.taken_off or self.set_anew or self.main_fuse is not None)


@dataclass(frozen=True)
class Distance(Priced):
    """The best plan, and how far the posted one is from it; its own figures are None where it is not sound."""

    place: str
    proven: bool
    posted_at: str | None = None
    posted: Cost | None = None


NoAnswer = Literal["nothing fits", "not known"]
"""Why there is no answer: proved that no plan fits, or the limit was reached."""


@dataclass(frozen=True)
class Checked:
    """All that is told of a posted plan."""

    unit: Unit
    bike: Bike | None
    """None where the post was judged by itself."""
    posted: Posted
    verdict: PostVerdict
    concerns: tuple[str, ...]
    """What each clash is about, in the order of the clashes."""
    problems: tuple[Problem, ...]
    """Names and lines that are not clear."""
    assumed: tuple[str, ...] = ()
    """Without a bike's file: as which part, lamp and kind each load was taken."""
    best: Distance | NoAnswer | None = None
    """None where it was not asked for."""
    repair: Repair | NoAnswer | None = None

    @property
    def status(self) -> CheckStatus:
        """Sound only where nothing is wrong, all is clear, and all that rules need was posted."""
        if self.verdict.clashes:
            return "broken"
        if self.problems:
            return "not clear"
        if self.verdict.wiring == "not known":
            return "not known"
        return "nothing wrong" if self.verdict.not_judged else "sound"

    @property
    def taken(self) -> tuple[str, ...]:
        """How names that were written otherwise were taken, and what was assumed of loads."""
        said = (f"'{quoted(cell.text)}' (line {cell.line}) as {name}" for cell, name in self.posted.taken)
        return (*said, *self.assumed)

    @property
    def left_aside(self) -> tuple[str, ...]:
        """The lines that say nothing of the plan."""
        return tuple(f"line {cell.line}: '{quoted(cell.text)}'" for cell in self.posted.aside)

    @property
    def first(self) -> tuple[str, ...]:
        """The warnings that stand first on every sheet, where the bike's file is there."""
        return () if self.bike is None else stands_first(self.bike)

    @property
    def set_aside(self) -> tuple[tuple[str, str], ...]:
        """The rules that the bike's file sets aside, with the reasons."""
        return () if self.bike is None else tuple(self.bike.set_aside.items())

    def by_concern(self) -> dict[str, list[Clash]]:
        """Return the clashes by what they are about, most dangerous first."""
        found: dict[str, list[Clash]] = {}
        for concern, clash in zip(self.concerns, self.verdict.clashes, strict=True):
            found.setdefault(concern, []).append(clash)
        return found


def checked_json(checked: Checked) -> Json:
    """Return the whole answer."""
    verdict, settings = checked.verdict, checked.posted.settings
    return {
        "status": checked.status,
        "bike": None if checked.bike is None else checked.bike.bike,
        "unit": checked.unit.unit,
        "judged_at": list(verdict.places),
        "sound_at": list(verdict.sound_at),
        "first_looks": [{"what": look.what, "state": look.state, "why": look.why} for look in verdict.looks],
        "clashes": [
            {"about": about, "rule": clash.rule, "subject": clash.subject, "sentence": clash.sentence}
            for about, clash in zip(checked.concerns, verdict.clashes, strict=True)
        ],
        "kept": list(verdict.kept),
        "not_judged": list(verdict.not_judged),
        **({"wiring_of_switches": verdict.wiring} if verdict.wiring is not None else {}),
        "outputs": [
            {
                "port": port,
                "loads": list(held),
                **({"trip_a": thousandth(settings.trips[port])} if port in settings.trips else {}),
                **({"wire": settings.sizes[port].label} if port in settings.sizes else {}),
            }
            for port, held in checked.posted.outputs.items()
        ],
        "inputs": [{"port": port, "inputs": list(held)} for port, held in checked.posted.inputs.items()],
        "taken": [{"line": cell.line, "said": cell.text, "as": name} for cell, name in checked.posted.taken],
        "assumed": list(checked.assumed),
        "problems": [str(problem) for problem in checked.problems],
        **({"left_aside": list(checked.left_aside)} if checked.left_aside else {}),
        **({"best": _best(checked.best)} if checked.best is not None else {}),
        **({"repair": _repair(checked.repair)} if checked.repair is not None else {}),
        "set_aside": set_aside_json(checked.set_aside),
        "warnings": list(checked.first),
        "cautions": list(CAUTIONS),
    }


def _best(best: Distance | str) -> Json:
    if not isinstance(best, Distance):
        return {"answer": best}
    posted = {}
    if best.posted is not None:
        more = best.posted - best.costs
        posted = {
            "posted_at": best.posted_at,
            "more_wire_mm": thousandth(more.wire_run),
            "more_spare_port_loss_mm": thousandth(more.spare_port_loss),
            **({"more_legs_in_use_mm": thousandth(more.legs_in_use)} if more.legs_in_use else {}),
        }
    return {
        "answer": "found",
        "place": best.place,
        "proven": best.proven,
        **cost_json(best.costs),
        **posted,
    }


def _repair(repair: Repair | str) -> Json:
    if not isinstance(repair, Repair):
        return {"answer": repair}
    return {
        "answer": "found",
        "proven": repair.proven,
        "moves": repair.moves,
        "at_least": repair.least,
        "moved": [_move(move) for move in repair.moved],
        "placed": [_move(move) for move in repair.placed],
        "taken_off": [{"name": name, "from": port} for name, port in repair.taken_off],
        "set": [{"port": s.port, "trip_a": thousandth(s.trip), "wire": s.size.label} for s in repair.set_anew],
        "outputs": [{"port": port, "loads": list(held)} for port, held in repair.outputs],
        "inputs": [{"port": port, "inputs": list(held)} for port, held in repair.inputs],
        "left_open": list(repair.left_open),
        **({"main_fuse_a": thousandth(repair.main_fuse)} if repair.main_fuse is not None else {}),
        "place": repair.place,
        "cost_mm": thousandth(repair.cost),
    }


def _move(move: Move) -> Json:
    return {"name": move.name, "from": move.before, "to": move.after}
