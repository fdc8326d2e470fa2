"""What keeps loads from sharing an output, told once: not for each pair, and not by a second rule."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from portloom.base.figures import listed
from portloom.base.parts.loads import SIDES
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.clash import Clash
from portloom.rules.practice import FLASH_TOGETHER
from portloom.rules.shapes import Rule

FOUR = 4


def company_clashes(rules: Sequence[Rule], job: Job, circuit: OutputCircuit, port: str) -> Iterator[Clash]:
    """Return what is wrong with loads that share an output, each reason once with all whom it keeps apart."""
    found: dict[tuple[str, str], list[Consumer]] = {}
    for one, other in combinations(circuit.members, 2):
        slug, said = _first(rules, one, other)
        if said:
            _, _, reason = said.partition(": ")
            kept = found.setdefault((slug, reason), [])
            kept += [load for load in (one, other) if load not in kept]
    for (slug, reason), loads in found.items():
        names = [load.name for load in circuit.members if load in loads]
        sentence = f"{listed(names)} can't share an output: {reason}"
        if reason == FLASH_TOGETHER:
            sentence = f"{_indicators(job, names)} on {port}: {reason}"
        yield Clash(slug, circuit.label, sentence)


def told_of_all(clashes: Iterable[Clash]) -> Iterator[Clash]:
    """Return clashes, those of one rule that say the same of several circuits as one of them all."""
    found: dict[tuple[str, str], list[str]] = {}
    for clash in clashes:
        said = listed(clash.subject.split(", "))
        rest = clash.sentence.removeprefix(said)
        found.setdefault((clash.rule, rest), []).append(clash.subject if rest != clash.sentence else "")
    for (rule, rest), subjects in found.items():
        names = list(dict.fromkeys(name for subject in subjects for name in subject.split(", ") if name))
        yield Clash(rule, ", ".join(names), f"{listed(names)}{rest}" if names else rest)


def _first(rules: Sequence[Rule], one: Consumer, other: Consumer) -> tuple[str, str]:
    """Return the first rule in the book that keeps two loads apart, and what it says; '' for none."""
    said = ((rule.slug, rule.pair(one, other)) for rule in rules if rule.pair)
    return next(((slug, sentence) for slug, sentence in said if sentence), ("", ""))


def _indicators(job: Job, names: list[str]) -> str:
    every = {load.name for load in job.loads.on_unit if load.part in SIDES}
    both = {f"{side}s" for side in SIDES}
    four = every == set(names) and (len(names) == FOUR or set(names) == both)
    return "all four indicators" if four else listed(names)
