"""Multiplexers: which switches may go through one, how many, and what the unit must read of it."""

from collections.abc import Iterator

from portloom.base.bike import Multiplexer, Switch
from portloom.base.figures import counted, listed, with_verb
from portloom.base.unit import Port
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.facts import At, Fact
from portloom.rules.posted import OfPosts
from portloom.rules.practice import goes_straight
from portloom.rules.shapes import Budget, BudgetRow, Key, Rule, Said


def _switch_fit(job: Job, switch: Switch, multiplexer: Multiplexer) -> Said:
    why = goes_straight(job, switch)
    if why is not None:
        return f"{switch.name} {why}: its wire goes straight to the unit, never through {multiplexer.name}"
    if switch.signal not in multiplexer.takes:
        takes = listed([f"'{signal}'" for signal in multiplexer.takes])
        return f"{with_verb(switch.name, 'gives')} a signal of kind '{switch.signal}', {multiplexer.name} takes {takes}"
    return None


def _multiplexer_fit(multiplexer: Multiplexer, port: Port) -> Said:
    if "coded" not in port.accepts:
        return f"{multiplexer.name} needs an input that reads 'coded', {with_verb(port.name, 'does')} not read that"
    return None


def _budgets(site: Site) -> list[Budget]:
    rows: dict[Key, BudgetRow] = {
        box.name: BudgetRow(box.name, at_most=box.ways, fact=("ways", box.name)) for box in site.job.bike.multiplexers
    }
    return [Budget(rows, _too_many, switch=lambda wired: [(wired.stand.multiplexer.name, 1)])]


def _too_many(row: BudgetRow, found: int) -> str:
    return f"{counted(found, 'switch')} are on {row.subject}, it has {counted(row.at_most, 'way')}"


def _facts(job: Job) -> Iterator[Fact]:
    for number, box in enumerate(job.bike.multiplexers):
        at = At("bike", ("multiplexers", number, "ways"))
        yield Fact(("ways", box.name), "multiplexer", box.name, f"{box.name} has {counted(box.ways, 'way')}", at)


RULE = Rule(
    slug="multiplexer",
    protects="key, engine stop, stand, clutch, neutral, brakes and start, which must be read over wires of their own",
    source="common practice, no source; the bike's file",
    right="the switch straight to an input of the unit, or a multiplexer that takes its signal, on an input that "
    "accepts 'coded'",
    of_switch=lambda part: part.straight,
    switch_fit=_switch_fit,
    multiplexer_fit=_multiplexer_fit,
    budgets=_budgets,
    facts=_facts,
    posts=OfPosts(
        wants=("inputs",), judged=lambda plan: any(plan.inputs.get(box.name) for box in plan.job.bike.multiplexers)
    ),
)
