"""What planning a bike on a unit comes to: the plan, or the rules that refuse it."""

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.documents.document import Plan
from portloom.inputs.files import unit_from_text
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.planning.plan import NothingFits, Planned, Planning, plan
from portloom.rules.book import RULES
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from unasked import bike_from_text

ROOT = Path(__file__).parent.parent
EXAMPLES = ROOT / "examples"
PROFILES = ROOT / "profiles"


def read(bike: str, unit: str) -> tuple[Bike, Unit]:
    """Read a bike's and a unit's YAML."""
    made = unit_from_text(unit, "unit")
    return bike_from_text(bike, "bike", made.own_modes), made


@cache
def best(bike: str, unit: str) -> tuple[Job, Assignment | None]:
    """Return the job and its best plan, if there is one."""
    job = Job(*read(bike, unit))
    found = best_assignment(job, RULES, sites_of(job), Clock(None))
    return job, found if isinstance(found, Assignment) else None


def outcome(bike: str, unit: str, place: str | None = None) -> Planning:
    """Take a bike's and a unit's YAML; plan them."""
    return plan(*read(bike, unit), place=place)


def planned(bike: str, unit: str, place: str | None = None) -> Plan:
    """Return the best plan, which must be there and proven."""
    answer = outcome(bike, unit, place)
    assert isinstance(answer, Planned), answer
    assert answer.plan.proven
    return answer.plan


def refusing(bike: str, unit: str) -> frozenset[str]:
    """Return the slugs of the rules by which nothing fits, which must be so."""
    answer = outcome(bike, unit)
    assert isinstance(answer, NothingFits), answer
    return frozenset(rule for conflict in answer.conflicts for rule in conflict.rules)


def fits(bike: str, unit: str) -> bool:
    """Tell whether there is a plan."""
    return isinstance(outcome(bike, unit), Planned)


def reseated(plan: Assignment, **changes: Any) -> Assignment:
    """Return a plan of one unit with something of its seat changed."""
    return plan.seated(replace(plan.only, **changes))


def circuits(found: Plan) -> dict[str, tuple[str, ...]]:
    """Return the loads on each output in use."""
    return {line.port: line.loads for line in found.outputs}
