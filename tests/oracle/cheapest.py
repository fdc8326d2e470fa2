"""The cheapest plan of a draft, with its wires, so that the draft can be made to refuse it."""

from dataclasses import dataclass

from .drafts import Draft, written
from .drive import Column
from .highs import best_plan
from .job import Job, Laid
from .judge import Plan, cost_um
from .multiplexing import return_columns, stand_columns
from .profiles import read_unit
from .reading import read_bike
from .site import Site
from .sites import every_site


@dataclass(frozen=True)
class Cheapest:
    """A plan: its cost (um), the wires that every plan has at their thinnest, all that it has, and its columns."""

    cost_um: int
    every: list[Laid]
    all: list[Laid]
    site: Site
    columns: list[Column]


def sites_of(made: Draft) -> list[Site]:
    """Return every place, turn and main fuse of a draft that could have a plan."""
    return list(every_site(Job(read_bike(written(made.bike)), read_unit(written(made.unit)))))


def cheapest(made: Draft) -> Cheapest | None:
    """Return the cheapest plan of a draft; None if there is none."""
    plans = [(site, best_plan(site)) for site in sites_of(made)]
    found = [_whole(site, plan) for site, plan in plans if plan]
    return min(found, key=lambda one: one.cost_um, default=None)


def _whole(site: Site, plan: Plan) -> Cheapest:
    columns = [site.output_column(held, output) for held, output in plan.outputs]
    columns += [site.input_column(switches, port) for switches, port in plan.inputs]
    columns += [column for stand in plan.stands for column in stand_columns(site, stand)]
    columns += return_columns(site, plan.stands)
    able = [column for column in columns if column is not None]
    return Cheapest(cost_um(site, plan) or 0, site.fixed, site.laid(able) or [], site, able)
