"""Whether a bike on a unit has a plan if only some of their facts are kept; by HiGHS."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from .dropping import part_of_bike, part_of_unit
from .facts import Key, facts_of
from .highs import plan_of, programme_of
from .job import Job
from .judge import Plan, cost_um
from .kinds import Kinds, kinds_of
from .lazily import forbid
from .programme import solved
from .reading import read_bike
from .site import Site
from .sites import every_site


@lru_cache(maxsize=16)
def _read(bike_text: str, unit_text: str) -> tuple[Job, Kinds, frozenset[Key]]:
    bike = read_bike(bike_text)
    kinds = kinds_of(unit_text, bike.named_ports)
    facts = frozenset(facts_of(bike, kinds))
    return Job(replace(bike, later=()), kinds.unit), kinds, facts


def has_plan(bike_text: str, unit_text: str, kept: Iterable[Key]) -> bool:
    """Take a bike's and a unit's YAML and the keys of facts; tell whether there is a plan if only these are kept.

    Raises ValueError for a key that is no fact of them.
    """
    whole, kinds, facts = _read(bike_text, unit_text)
    keys = frozenset(kept)
    if not keys <= facts:
        msg = f"no facts: {sorted(keys - facts)}"
        raise ValueError(msg)
    dropped = facts - keys
    job = Job(part_of_bike(whole.bike, dropped), part_of_unit(kinds, dropped), whole)
    return any(map(_has_plan_at, every_site(job)))


def _has_plan_at(site: Site) -> bool:
    """Tell whether there is a plan at a site. Raises ArithmeticError where what HiGHS gives is none."""
    plan = some_plan(site)
    if plan is not None and cost_um(site, plan) is None:
        msg = f"HiGHS gave what is no plan: {plan}"
        raise ArithmeticError(msg)
    return plan is not None


def some_plan(site: Site) -> Plan | None:
    """Return any plan at a site; None if no plan is possible."""
    model = programme_of(site)
    if any(not terms and not low <= 0 <= high for terms, low, high in model.rows):
        return None
    if not model.costs:
        return Plan((), (), ())
    model.costs = [0] * len(model.costs)
    while True:
        answer = solved(model)
        if answer is None:
            return None
        chosen = [number for number, value in enumerate(answer.x) if round(value) == 1]
        if not forbid(site, model, chosen):
            return plan_of(site, [model.meanings[number] for number in chosen])
