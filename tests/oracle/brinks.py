"""Drop limits at, or a little below, what a load of the cheapest plan loses on the thickest wire that it may have."""

from collections.abc import Iterator
from fractions import Fraction

from .cheapest import Cheapest, cheapest
from .drafts import Draft
from .feeding import lost_uv
from .parts import drop_class
from .quantities import ceiling
from .site import Site
from .things import Load


def scant_drops(made: Draft) -> None:
    """Limit one class of drop or two so that a few millivolts more or less decide; most times a plan is left."""
    found = cheapest(made)
    if found is None:
        return
    lost: dict[str, Fraction] = {}
    for load, uv in _lost(found):
        lost[drop_class(load.part)] = max(uv, lost.get(drop_class(load.part), uv))
    limits = made.bike.setdefault("limits", {}).setdefault("drop", {})
    for group in made.rng.sample(sorted(lost), min(len(lost), made.rng.randint(1, 2))):
        least = ceiling(lost[group] / 1000)
        limits[group] = f"{least - made.rng.choice([0, 0, 1, 2, 3, 5, 9, 25])} mV"
        if cheapest(made) is None and made.chance(0.7):
            limits[group] = f"{least} mV"


def _lost(found: Cheapest) -> Iterator[tuple[Load, Fraction]]:
    """Return what each load loses as it is judged (uV), on the thickest wire that it may have."""
    site = found.site
    for column in found.columns:
        if column.drive is None:
            continue
        shape, thickest = column.drive.shape, column.drive.sizes[-1]
        own = (column.drive.output.mohm + site.bike.contacts.unit_plug) * column.drive.held.steady_ma
        for load in column.drive.held.members:
            flow = site.job.steady
            run = shape.run_uv(flow, load, thickest) + site.at_load_uv(flow, load)
            yield load, (site.shared_uv(load) or Fraction(0)) + own + run
    yield from _lost_when_fed(site)


def _lost_when_fed(site: Site) -> Iterator[tuple[Load, Fraction]]:
    for fed in site.job.fed or ():
        on = [number for number, case in enumerate(site.job.cases) if case.has_on(fed.load)]
        behind = max((site.job.behind_uv(site.job.steady, fed.load, number) for number in on), default=Fraction(0))
        yield fed.load, lost_uv(site.job, fed.load, fed.mohm, fed.wires, fed.sizes[-1]) + behind
