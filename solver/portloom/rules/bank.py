"""A bank's outputs together stay within its limit, in every case."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.figures import amperes, listed, with_verb
from portloom.base.quantities import MilliAmps
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.facts import At, Fact
from portloom.rules.margins import LimitMargin
from portloom.rules.shapes import Addend, Budget, BudgetRow, Capacities, Capacity, Key, Rule
from portloom.rules.sums import margins_of_sums, sum_in


def _budgets(site: Site) -> list[Budget]:
    job = site.job
    rows: dict[Key, BudgetRow] = {
        (bank, number): BudgetRow(f"bank {bank}, {case.label}", at_most=limit, fact=("bank", bank), case=case)
        for bank, limit in job.unit.banks.items()
        for number, case in enumerate(job.cases)
    }
    return [Budget(rows, _sentence, output=lambda wired: _drawn(job, wired), summed=_summed)]


def _drawn(job: Job, wired: WiredOutput) -> Iterable[Addend]:
    bank = wired.output.bank
    if bank is None:
        return ()
    circuit = wired.circuit
    return [((bank, number), circuit.current) for number, case in enumerate(job.cases) if job.circuit_on(circuit, case)]


def _sentence(row: BudgetRow, found: int) -> str:
    return f"{row.subject}: {amperes(MilliAmps(found))} together, the bank can supply {amperes(MilliAmps(row.at_most))}"


def _summed(laid: Laid, row: BudgetRow) -> str:
    on_it = (wired for wired in laid.outputs if row.fact == ("bank", wired.output.bank))
    bank = row.fact[1] if row.fact else ""
    return f"{sum_in(row.case, laid.site.job, on_it)}, bank {bank} can supply {amperes(MilliAmps(row.at_most))}"


def _capacities(job: Job) -> Iterator[Capacity]:
    for bank, limit in job.unit.banks.items():
        outputs = frozenset(output.name for output in job.unit.outputs if output.bank == bank)
        yield Capacity(("bank", bank), limit, outputs)


def _together(capacities: Sequence[Capacity], _: int) -> str:
    gives = f"gives {amperes(MilliAmps(sum(capacity.limit for capacity in capacities)))}"
    banks = listed(tuple(capacity.fact[1] for capacity in capacities))
    return with_verb(f"{'banks' if len(capacities) > 1 else 'bank'} {banks}", gives)


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    return margins_of_sums(RULE.slug, _budgets, laid, _named)


def _named(row: BudgetRow) -> tuple[str, str]:
    name = " ".join(row.fact or ())
    return name, name


def _facts(job: Job) -> Iterator[Fact]:
    for bank, limit in job.unit.banks.items():
        sentence = f"bank {bank} can supply {amperes(limit)}"
        yield Fact(("bank", bank), "bank", f"bank {bank}", sentence, At("unit", ("banks", bank)))


RULE = Rule(
    slug="bank",
    protects="outputs that share a limit from overload together",
    about="fire",
    source="the unit's profile",
    right="an output outside the bank for one of the loads, a load that draws less, or one fed past the unit: 'fed:"
    " relay' or 'fed: fuse'",
    budgets=_budgets,
    capacities=Capacities(_capacities, _together),
    margins=_margins,
    facts=_facts,
)
