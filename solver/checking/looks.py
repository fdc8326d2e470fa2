"""What somebody who is asked whether a plan is sound looks at first: seven things, in a fixed order.

Source: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from solver.checking.concerns import KEPT_OFF, is_about
from solver.job.job import Job
from solver.job.site import Site
from solver.posts.matching import Posted
from solver.rules.engine_stop import ENGINE_PARTS
from solver.rules.shapes import Clash
from solver.words.agreement import does
from solver.words.bike import Part
from solver.words.figures import amperes, listed

State = Literal["right", "wrong", "look again", "not judged"]
ENGINE_STOP, EARTHS, TRIPS = "ignition and pump cut by the engine stop", "earths", "trip against wire"
BEAMS: tuple[Part, ...] = ("dipped beam", "main beam")


@dataclass(frozen=True)
class Look:
    """One thing that is looked at first: how it stands, and why."""

    what: str
    state: State
    why: str


def first_looks(sites: Sequence[Site], posted: Posted, clashes: Sequence[Clash]) -> tuple[Look, ...]:
    """Look at main fuse, brake lamp, beams, engine stop, what belongs on no output, earths, and trips against wires."""
    seen = _Seen(sites[0], sites[0].job, posted, clashes)
    return (
        seen.main_fuse(),
        seen.brake_lamp(),
        seen.beams(),
        seen.engine_stop(),
        seen.kept_off(),
        seen.earths(sites[0]),
        seen.trips(),
    )


def first_looks_alone(job: Job, posted: Posted, clashes: Sequence[Clash]) -> tuple[Look, ...]:
    """Look at the same in a post without a bike's file."""
    seen = _Seen(None, job, posted, clashes)
    unknown = "the post alone does not tell"
    return (
        seen.main_fuse(),
        seen.brake_lamp(),
        seen.beams(),
        Look(ENGINE_STOP, "not judged", f"{unknown}: it takes the bike's file and the inputs"),
        seen.kept_off(),
        Look(EARTHS, "not judged", unknown),
        seen.trips(),
    )


class _Seen:
    def __init__(self, site: Site | None, job: Job, posted: Posted, clashes: Sequence[Clash]) -> None:
        self._site = site
        self._job = job
        self._posted = posted
        self._clashes = clashes
        self._ports = {name: port for port, held in posted.outputs.items() for name in held}

    def _of(self, *slugs: str) -> list[Clash]:
        return [clash for clash in self._clashes if clash.rule in slugs]

    def _names(self, *parts: Part) -> list[str]:
        """Return the loads that are these parts and need an output."""
        return [load.name for load in self._job.loads.on_unit if load.part in parts]

    def main_fuse(self) -> Look:
        what, fuse = "main fuse", self._site.main_fuse if self._site else None
        if wrong := self._of("main-fuse"):
            return _wrong(what, wrong)
        posted = self._posted.settings.main_fuse
        if posted is not None:
            return Look(what, "right", f"{amperes(posted)} at the battery")
        asked = "" if fuse is None else f": it must be {amperes(fuse)}, at the battery"
        return Look(what, "look again", f"the post names none{asked}")

    def brake_lamp(self) -> Look:
        what, lamps = "brake lamp alone on its output", self._names("brake lamp")
        wrong = [clash for clash in self._clashes if _about(clash, lamps) and clash.rule in ("brake-lamp", "share")]
        if wrong := wrong or self._of("brake-lamp"):
            return _wrong(what, wrong)
        missing = [name for name in lamps if name not in self._ports]
        if not lamps or missing:
            none = "no load that the unit feeds is a brake lamp by its 'part'" if self._site else "none is in the post"
            return Look(what, "not judged", f"{listed(missing)} is on no output" if missing else none)
        return Look(what, "right", listed([f"{name} on {self._ports[name]}" for name in lamps]))

    def beams(self) -> Look:
        what, names = "dipped and main beam apart", [self._names(part) for part in BEAMS]
        ports = [{self._ports[name] for name in beams if name in self._ports} for beams in names]
        if not all(ports):
            lacking = [part for part, found in zip(BEAMS, ports, strict=True) if not found]
            return Look(what, "not judged", f"no {' and no '.join(lacking)} is on an output")
        if both := ports[0] & ports[1]:
            return Look(what, "wrong", f"both are on {listed(sorted(both))}")
        return Look(
            what, "right", listed([f"{part} on {listed(sorted(p))}" for part, p in zip(BEAMS, ports, strict=True)])
        )

    def engine_stop(self) -> Look:
        what = ENGINE_STOP
        if wrong := self._of("engine-stop"):
            return _wrong(what, wrong)
        fed = [name for name in self._names(*ENGINE_PARTS) if name in self._ports]
        if not fed:
            return Look(what, "not judged", "neither of them is on an output")
        if not self._posted.inputs:
            return Look(what, "not judged", "the post names no inputs")
        stops = {switch.name for switch in self._job.bike.inputs if "engine stop" in switch.tells}
        at = [f"{name} on {port}" for port, held in self._posted.inputs.items() for name in held if name in stops]
        return Look(what, "right", f"{does(listed(at), 'tells')} the unit, which feeds {listed(fed)}")

    def kept_off(self) -> Look:
        what = "no starter motor, regulator or ABS on the unit"
        if wrong := [clash for clash in self._clashes if clash.subject.startswith(KEPT_OFF)]:
            return _wrong(what, wrong)
        charging = self._job.bike.supply.charging
        if charging is not None and charging.joins == "unit":
            again = "the regulator's lead joins the unit: let it join the battery side, through a fuse of its own"
            return Look(what, "look again", again)
        return Look(what, "right", "none is posted on an output")

    def earths(self, site: Site) -> Look:
        returns = site.ways_of("return")
        if wrong := self._of_returns():
            return _wrong(EARTHS, wrong)
        ends = [point for point in self._job.bike.frame.earth if any(way.ends[-1] == point for way in returns)]
        if not ends:
            return Look(EARTHS, "look again", "no load has a wired return: see how each gets its current back")
        return Look(EARTHS, "right", f"every wired return ends at {' or '.join(ends)}, the nearest")

    def _of_returns(self) -> list[Clash]:
        said = tuple(way.said for way in self._site.ways_of("return")) if self._site else ()
        return [clash for clash in self._of("wire", "signal") if said and clash.sentence.startswith(said)]

    def trips(self) -> Look:
        of_returns = self._of_returns()
        if wrong := [clash for clash in self._of("wire", "trip") if clash not in of_returns]:
            return _wrong(TRIPS, wrong)
        posted = self._posted.settings
        if posted.trips and posted.sizes:
            held = "each trip that is posted carries its loads and is held by the wire on it"
            return Look(TRIPS, "right", held if self._site else f"{held}, as far as the post tells")
        lacking = " and ".join([*["trips"] * (not posted.trips), *["wire sizes"] * (not posted.sizes)])
        if self._site is None:
            return Look(TRIPS, "not judged", f"the post names no {lacking}")
        return Look(TRIPS, "right", f"the post names no {lacking}; with those that the rules ask for it is right")


def _wrong(what: str, clashes: Sequence[Clash]) -> Look:
    return Look(what, "wrong", clashes[0].sentence)


def _about(clash: Clash, names: Sequence[str]) -> bool:
    return any(is_about(clash.subject, name) for name in names)
