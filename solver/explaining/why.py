"""Why nothing fits: first what has no port or place by itself, then what is left without one at best."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from solver.checking.relaid import lay
from solver.explaining.conflicts import PROVED, Conflict, Fact
from solver.explaining.refusals import (
    Refusal,
    merged,
    port_range,
    refused_beside,
    refused_input,
    refused_input_beside,
    refused_output,
)
from solver.job.circuits import InputCircuit
from solver.job.consumers import Consumer
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.sizing import settled
from solver.rules.book import place_clashes, whole_clashes
from solver.rules.shapes import Clash, Rule
from solver.search.best import fullest_assignment
from solver.search.places import Clock
from solver.words.bike import Switch

Where = Callable[[str, str], str]
"""Tell where a load ('loads') or a switch ('inputs') of a name is written."""


def why_nothing_fits(
    job: Job, rules: tuple[Rule, ...], sites: Sequence[Site], where: Where, clock: Clock
) -> tuple[Conflict, ...]:
    """Give what has no port left and by which rules; it is known already that no plan exists."""
    return (
        tuple(_places(rules, sites))
        or tuple(_alone(job, rules, sites, where))
        or tuple(_left_over(job, rules, sites, where, clock))
    )


# --- no place, or no port even alone


def _places(rules: Sequence[Rule], sites: Sequence[Site]) -> Iterator[Conflict]:
    clashes = [next(_whatever_is_chosen(rules, site), None) for site in sites]
    told = [clash for clash in clashes if clash is not None]
    if len(told) == len(sites):
        facts = tuple(Fact(c.rule, c.subject, f"{c.subject}: {c.sentence}", "default") for c in told)
        yield Conflict("The unit can sit at none of its places.", facts, PROVED)


def _whatever_is_chosen(rules: Sequence[Rule], site: Site) -> Iterator[Clash]:
    """Give what keeps the unit from a place, and each sum too large and wire too thin before anything is assigned."""
    yield from place_clashes(rules, site)
    yield from whole_clashes(rules, settled(Laid(site, Losses(site), (), (), ())))
    for rule in rules:
        for budget in rule.budgets(site) if rule.budgets else ():
            for row in budget.rows.values():
                if row.fixed > row.at_most:
                    yield Clash(rule.slug, site.label, budget.sentence(row, row.fixed))


def _alone(job: Job, rules: Sequence[Rule], sites: Sequence[Site], where: Where) -> Iterator[Conflict]:
    order = [output.name for output in job.unit.outputs]
    for load in job.loads.on_unit:
        refusals = _everywhere(rules, sites, load)
        if refusals is not None:
            yield _no_port(load.name, "output", merged(refusals), order, where("loads", load.name))
    order = [port.name for port in job.unit.inputs]
    for switch in job.bike.inputs:
        circuit = InputCircuit((switch,))
        told = [(port.name, refused_input(rules, circuit, port)) for port in job.unit.inputs]
        if all(clash is not None for _, clash in told):
            yield _no_port(switch.name, "input", merged(told), order, where("inputs", switch.name))


def _everywhere(rules: Sequence[Rule], sites: Sequence[Site], load: Consumer) -> list[tuple[str, Clash | None]] | None:
    """Give each output's refusal at the first place, or None where some output takes the load somewhere."""
    circuit = sites[0].job.circuit((load,))
    first: list[tuple[str, Clash | None]] | None = None
    for site in sites:
        told = [(output.name, refused_output(rules, site, circuit, output)) for output in site.job.unit.outputs]
        if any(clash is None for _, clash in told):
            return None
        first = first or told
    return first


def _no_port(
    name: str, port: str, refusals: Iterable[Refusal], order: Sequence[str], where: str, left: str = ""
) -> Conflict:
    facts = tuple(
        Fact(r.clash.rule, name, f"{port_range(r.ports, order)}: {r.clash.sentence}", where) for r in refusals
    )
    none = f"no {port} left{left}" if left else f"no {port} that takes it"
    return Conflict(f"{name} has {none}.", facts or (Fact("cover", name, f"there is no {port}", where),), PROVED)


# --- no port left, with as many of the others wired as can be


def _left_over(
    job: Job, rules: tuple[Rule, ...], sites: Sequence[Site], where: Where, clock: Clock
) -> Iterator[Conflict]:
    best = fullest_assignment(job, rules, sites, clock)
    if best is None:
        return
    laid = settled(lay(job, rules, best)).laid
    placed = {name for line in best.outputs for name in line.loads}
    read = {name for line in best.inputs for name in line.switches}
    loads = [load for load in job.loads.on_unit if load.name not in placed]
    switches = [switch for switch in job.bike.inputs if switch.name not in read]
    left = f" at {laid.site.label}, with as much else wired as can be"
    for load in loads:
        yield _load_left(rules, laid, load, where("loads", load.name), left)
    for switch in switches:
        yield _switch_left(rules, laid, switch, where("inputs", switch.name), left)


def _load_left(rules: Sequence[Rule], laid: Laid, load: Consumer, where: str, left: str) -> Conflict:
    job = laid.site.job
    circuit = job.circuit((load,))
    told = [(output.name, refused_beside(rules, laid, circuit, output)) for output in job.unit.outputs]
    return _no_port(load.name, "output", merged(told), [name for name, _ in told], where, left)


def _switch_left(rules: Sequence[Rule], laid: Laid, switch: Switch, where: str, left: str) -> Conflict:
    circuit = InputCircuit((switch,))
    told = [(port.name, refused_input_beside(rules, laid, circuit, port)) for port in laid.site.job.unit.inputs]
    return _no_port(switch.name, "input", merged(told), [name for name, _ in told], where, left)
