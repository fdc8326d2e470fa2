"""Every plan of a small bike: each load, switch and later load tried on each port, judged by the reference program."""

from collections.abc import Iterator, Sequence

from oracle.brute import seatings
from oracle.circuits import circuit, may_join, may_share
from oracle.electrics import input_fits
from oracle.job import Job
from oracle.judge import Plan, cost_um
from oracle.profiles import read_unit
from oracle.reading import on_unit, read_bike
from oracle.site import Site
from oracle.sites import every_site
from oracle.things import Later, Output

Parts = tuple[int, int]
"""Wire run and spare-port loss of a plan (um)."""


def every_plan(bike: str, unit: str) -> set[Parts]:
    """Return the two parts of the cost of every plan that keeps the rules, at every place, turn and main fuse."""
    job = Job(read_bike(bike), read_unit(unit))
    return {parts for site in every_site(job) for parts in _at(site)}


def _at(site: Site) -> Iterator[Parts]:
    for plan in _plans(site):
        cost = cost_um(site, plan)
        if cost is not None:
            run = _run_um(site, plan)
            yield run, cost - run


def _plans(site: Site) -> Iterator[Plan]:
    bike, unit = site.bike, site.unit
    inputs = [
        tuple((tuple(held), port) for held, port in seating)
        for seating in seatings(list(bike.switches), unit.inputs, input_fits, may_join)
    ]
    for seating in seatings(on_unit(bike), unit.outputs, lambda *_: True, lambda one, two: may_share(bike, one, two)):
        outputs = tuple((circuit(bike, held), output) for held, output in seating)
        if all(site.output_column(*pair) is not None for pair in outputs):
            free = [output for output in unit.outputs if output not in {port for _, port in outputs}]
            for later in _later(bike.later, free):
                yield from (Plan(outputs, seated, later) for seated in inputs)


def _later(left: Sequence[Later], free: Sequence[Output]) -> Iterator[tuple[tuple[Later, Output], ...]]:
    """Return every way to find room for some of the later loads."""
    if not left:
        yield ()
        return
    yield from _later(left[1:], free)
    for output in free:
        others = [other for other in free if other is not output]
        yield from (((left[0], output), *rest) for rest in _later(left[1:], others))


def _run_um(site: Site, plan: Plan) -> int:
    columns = [site.output_column(held, output) for held, output in plan.outputs]
    columns += [site.input_column(held, port) for held, port in plan.inputs]
    there = [column for column in columns if column is not None]
    runs = (column.drive.shape.tree if column.drive else column.wires[0].run for column in there)
    return site.fixed_um() + sum(map(site.job.frame.length_um, runs))
