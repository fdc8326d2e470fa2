"""A bike on a unit, from their YAML, as the explanations ask about them."""

from portloom.base.clock import Clock
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.rules.book import rules_of
from unasked import bike_from_text

Texts = tuple[str, str]
"""The YAML of a bike and of a unit."""


def questions_on(written: Texts) -> Questions:
    """Return the questions about a bike on a unit, of which none was asked yet, without a time limit."""
    unit = unit_from_text(written[1], "unit")
    job = Job(bike_from_text(written[0], "bike", unit.own_modes), unit)
    return Questions(Instance(job, rules_of(job)), Clock(None))
