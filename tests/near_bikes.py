"""Plans as they lie, and the same bikes with one load that draws more: what the tests of near misses share."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, cached_property

import pytest

from oracle.random_bikes import random_case
from outcomes import reseated
from portloom.base.clock import Clock
from portloom.base.copper import Conductor
from portloom.base.current import kind_of
from portloom.base.drop import wire_drop
from portloom.base.quantities import MilliAmps
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.assignment import Assignment
from portloom.job.consumers import Consumer, Return
from portloom.job.fixed import conductor_of, first_conductor
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Allowed
from portloom.job.wired import WiredOutput
from portloom.margins.misses import NearMisses, near_misses
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.verify.judge import check, judged
from rule_bikes import Texts
from test_checker import claimed_rightly
from unasked import bike_from_text


@dataclass(frozen=True)
class Wired:
    """A bike on a unit, planned best and checked."""

    job: Job
    plan: Assignment
    laid: Laid

    @cached_property
    def near(self) -> NearMisses:
        """Its near misses."""
        return near_misses(self.laid)

    @property
    def growing(self) -> list[Consumer]:
        """The loads of the file that the unit feeds, in its order."""
        on = {load.name: load for wired in self.laid.outputs for load in wired.circuit.loads}
        return [on[load.name] for load in self.job.bike.loads if load.name in on]


def wired(texts: Texts) -> Wired | None:
    """Return the best plan of a bike on a unit as it lies, or None where nothing fits."""
    job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
    rules = rules_of(job)
    plan = best_assignment(job, rules, sites_of(job), Clock(None))
    if not isinstance(plan, Assignment):
        return None
    verdict = check((job,), rules, plan)
    assert verdict.clashes == (), [clash.sentence for clash in verdict.clashes][:4]
    assert verdict.laid is not None
    return Wired(job, plan, verdict.laid)


def near(texts: Texts) -> NearMisses:
    """Return the near misses of a bike that fits."""
    found = wired(texts)
    assert found is not None
    return found.near


def random_plans(family: str, seeds: range) -> Iterator[Wired]:
    """Return the plans of the random bikes of a family that fit."""
    return filter(None, (_random_plan(seed, family) for seed in seeds))


@cache
def _random_plan(seed: int, family: str) -> Wired | None:
    with suppress(BadFile):
        return wired(random_case(seed, family))
    return None


# --- the same bike, a load changed in its file


def written_anew(bike: Wired, name: str, more: int) -> Job:
    """Return the job of the same files with a load that draws more; its inrush stays where the file gives it."""
    load = next(load for load in bike.job.bike.loads if load.name == name)
    now = next(known for known in bike.growing if known.name == name)
    figures = {"lamp": None, "power": None, "kind": kind_of(load), "current": MilliAmps(now.current + more)}
    loads = (load.model_copy(update=figures) if one is load else one for one in bike.job.bike.loads)
    return Job(bike.job.bike.model_copy(update={"loads": tuple(loads)}), bike.job.unit)


def broken_as_wired(bike: Wired, name: str, more: int) -> list[str]:
    """Judge the plan again with a load that draws more, and give what is wrong with the bike as it is wired.

    The judge sizes every wire anew. With the main fuse of the plan, and with what the wires of feed and
    returns lose that lie there, the bike may stay as it is if no rule is broken, no wire has to be
    thicker than it is for what it carries, and the main fuse of the new job is no larger. Each load stays on its
    return.
    """
    job, rules = dealt_as(bike.job, written_anew(bike, name, more)), rules_of(bike.job)
    wrong: list[str] = []
    plan = reseated(bike.plan, room_for=())
    with as_it_lies(bike.laid):
        told = claimed_rightly(job, plan)
        wrong += [clash.sentence for clash in judged((job,), rules, told)]
    ports = zip(bike.plan.outputs, told.outputs, strict=True)
    wrong += [f"{old.port} thicker" for old, new in ports if new.size.area > old.size.area]
    site = bike.laid.site
    sizes = {wire.key: conductor_of(site, wire).size for wire in site.fixed_wires if wire.kind != "alongside"}
    return wrong + [f"{key} thicker" for key, size in told.fixed_sizes if size.area > sizes[key].area]


def backs_of(job: Job) -> dict[str, Return]:
    """Return the joint return that each wired load takes."""
    return {load.name: load.back for load in job.loads.wired if load.back is not None}


def dealt_as(planned: Job, job: Job) -> Job:
    """Return a job whose loads are on the returns that they had."""
    backs, loads = backs_of(planned), job.loads
    known = replace(
        loads,
        on_unit=tuple(replace(load, back=backs.get(load.name)) for load in loads.on_unit),
        guests=tuple(replace(load, back=backs.get(load.name)) for load in loads.guests),
        fed=tuple(replace(f, consumer=replace(f.consumer, back=backs.get(f.consumer.name))) for f in loads.fed),
    )
    return Job(job.bike, job.unit, known, job.network)


@contextmanager
def as_it_lies(laid: Laid) -> Iterator[None]:
    """Count with the main fuse and the wires of a plan, whatever loads draw now; no output's wire is thinner."""
    sizes = {wire.key: conductor_of(laid.site, wire) for wire in laid.site.fixed_wires if wire.kind != "alongside"}
    own = [wire for wire in laid.site.fixed_wires if wire.kind in ("feed", "return")]
    first = {wire.key: first_conductor(laid.site, wire) for wire in own}
    drawn = {wired.output.name: wired.drawn.size.area for wired in laid.outputs}
    all_serving = WiredOutput.__dict__["serving"].func

    def serving(wire: WiredOutput) -> list[Conductor]:
        return [reel for reel in all_serving(wire) if reel.size.area >= drawn.get(wire.output.name, 0)]

    def on_wire(wire: FixedWire, current: MilliAmps) -> Fraction:
        """Return U = I x R, R of the wire at (234.5 + T) / 254.5 (FAA AC 43.13-1B par. 11-66)."""
        return wire_drop(sizes[wire.key], laid.site.moment(wire, current)) if wire.run.length else Fraction(0)

    def on_feed(_: Allowed, current: MilliAmps) -> Fraction:
        return on_wire(laid.site.feed, current)

    def on_return(_: Allowed, wire: FixedWire, current: MilliAmps) -> Fraction:
        return on_wire(wire, current)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("portloom.verify.relaid.dealt_again", lambda _: backs_of(laid.site.job))
        patch.setattr("portloom.job.fixed.feed_conductor", lambda _: first[laid.site.feed.key])
        patch.setattr("portloom.job.fixed.return_conductor", lambda s, wire: first.get(wire.key, s.job.reels[0]))
        patch.setattr("portloom.verify.judge.drop_clashes", lambda _: ())
        patch.setattr(Allowed, "on_feed", on_feed)
        patch.setattr(Allowed, "on_return", on_return)
        patch.setattr(WiredOutput, "serving", property(serving))
        yield
