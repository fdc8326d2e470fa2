"""Explanations as they are printed, and taken apart again: what the tests of reading rules share.

The bikes are made up: those beside the golden texts, those of the rules' trials, and random ones of the independent
program's families, each of which lacks something.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from io import StringIO

from rich.console import Console

from oracle.starved import FAMILIES, starved_case
from portloom.base.clock import Clock
from portloom.base.figures import NUMBERS
from portloom.cli.files import Files
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.explain import DoesNotFit, Explained
from portloom.explaining.fixes.hunt import Fixes
from portloom.explaining.telling.conflict import Conflict, ToldFact
from portloom.explaining.telling.told import Why, why_nothing_fits
from portloom.inputs.files import unit_and_source
from portloom.job.job import Job
from portloom.report.text.layout import TextPage
from portloom.report.text.why import write_explained
from portloom.rules.book import rules_of
from rule_trials import TRIALS
from unasked import bike_and_source

UNFOLDED = 100_000
"""A width at which no line is folded."""


@dataclass(frozen=True)
class Block:
    """One conflict as it is printed, unfolded: its sentence, facts, who has no other port, rules, what helps."""

    sentence: str
    facts: tuple[str, ...]
    nowhere: tuple[str, ...]
    rules: str
    lifts: str
    help: str

    @property
    def lines(self) -> tuple[str, ...]:
        """Every line of it."""
        return (self.sentence, *self.facts, *self.nowhere)


@dataclass(frozen=True)
class Told:
    """One explanation: whose it is, its text, and every name in the files that it is about."""

    about: str
    text: str
    files: Files
    conflicts: tuple[Conflict, ...] = ()

    @property
    def blocks(self) -> list[Block]:
        """The conflicts in its text."""
        return [_block(paragraph) for paragraph in self.text.split("\n\n") if re.match(r"\d+\. ", paragraph)]

    @property
    def things(self) -> tuple[str, ...]:
        """The names of loads and switches, relays' coils too, the longest first."""
        bike = self.files.bike
        loads = [name for load in bike.loads for name in (load.name, f"{load.name} relay")]
        return tuple(sorted((*loads, *(switch.name for switch in bike.inputs)), key=len, reverse=True))

    @property
    def outputs(self) -> list[str]:
        """The names of the unit's outputs."""
        return [output.name for output in self.files.unit.outputs]

    @property
    def inputs(self) -> list[str]:
        """The names of the unit's inputs."""
        return [port.name for port in self.files.unit.inputs]

    @property
    def ports(self) -> list[str]:
        """The names of all its ports."""
        return [*self.outputs, *self.inputs]

    def named(self, line: str) -> list[str]:
        """Return the loads and switches that a line names."""
        found = []
        for name in self.things:
            line, times = re.subn(rf"(?<!\w){re.escape(name)}(?!\w)", "", line)
            found += [name] * bool(times)
        return found

    def without_names(self, line: str) -> str:
        """Return a line without any name of a file in it: X for a load or a switch, nothing for what else has one."""
        bike, unit = self.files.bike, self.files.unit
        points = {point for leg in bike.frame.legs for point in (*leg.between, leg.label)}
        others = {*points, *(place.name for place in bike.places), *(other.name for other in bike.alongside), unit.unit}
        for name in sorted({*self.things, *others, *self.ports}, key=len, reverse=True):
            instance = re.compile(rf"(?<!\w){re.escape(name)}(?!\w)", re.IGNORECASE)
            line = instance.sub("X" if name in self.things else "", line)
        return line

    def __str__(self) -> str:
        return self.about


def _block(paragraph: str) -> Block:
    """Put the folded lines of a conflict together again."""
    instance: list[str] = []
    for line in paragraph.strip("\n").split("\n"):
        if not instance or re.match(r"  (- |Rules?: |May help|What lifts|What makes|Any one of these)", line):
            instance.append(line.strip())
        else:
            instance[-1] += f" {line.strip()}"
    items = [line.removeprefix("- ") for line in instance if line.startswith("- ")]
    return Block(
        sentence=re.sub(r"^\d+\. ", "", instance[0]),
        facts=tuple(item for item in items if not item.startswith("nowhere else")),
        nowhere=tuple(item for item in items if item.startswith("nowhere else")),
        rules=next((line for line in instance if re.match("Rules?: ", line)), ""),
        lifts=next((line for line in instance if " it, proved: " in line or " it fit, proved: " in line), ""),
        help=next((line for line in instance if line.startswith("May help")), ""),
    )


def said(conflict: Conflict) -> list[ToldFact]:
    """Return the facts that are told: that a thing is on the bike goes without saying where a figure of it is told."""
    figured = {
        fact.key[1]
        for fact in conflict.facts
        if fact.key[0] in ("current", "inrush", "mode", "kind", "signal", "load lowest")
    }
    figured |= {name for fact in conflict.facts if fact.key[0] == "alike" for name in fact.key[1:]}
    return [fact for fact in conflict.facts if fact.key[0] not in ("load", "switch") or fact.key[1] not in figured]


# --- made anew


def printed(explained: Explained, width: int = UNFOLDED) -> str:
    """Print an explanation."""
    file = StringIO()
    write_explained(explained, TextPage(Console(file=file, width=width, highlight=False)), proof=False)
    return file.getvalue()


def why_not_of(files: Files, why: Why, fixes: Fixes) -> Explained:
    """Return the explanation of a bike that does not fit."""
    return Explained(files.bike.bike, files.unit.unit, (), (), DoesNotFit(why, fixes, None))


OF_TRIALS = {f"{trial.rule} {trial.about}": trial for trial in TRIALS}
STARVED = {f"{family} 1": family for family in FAMILIES}
ABOUT = (*OF_TRIALS, *STARVED)
"""What is explained: the bikes that break a rule in its trial, and random bikes that lack something."""
SOME = tuple(about for about in (*list(OF_TRIALS)[::6], *list(STARVED)[::3]) if about != "untold 1")
"""Those of every run, of a third of the families; the untold one takes a second."""


def made(about: Sequence[str] = ABOUT) -> Iterator[Told]:
    """Explain those of the bikes that do not fit."""
    return (one for name in about if (one := explained(name)) is not None)


@cache
def explained(about: str) -> Told | None:
    """Explain one of the bikes; None if it fits."""
    bike, unit = OF_TRIALS[about].broken if about in OF_TRIALS else starved_case(1, STARVED[about])
    files = Files(bike_and_source(bike, "bike.yaml"), unit_and_source(unit, "unit.yaml"))
    job = Job(files.bike, files.unit)
    questions = Questions(Instance(job, rules_of(job)), Clock(None))
    if questions.has_plan(questions.instance.everything):
        return None
    why = why_nothing_fits(questions, files.where)
    return Told(about, printed(why_not_of(files, why, Fixes((), complete=False))), files, why.conflicts)


# --- words


def number(word: str) -> int:
    """Return the number that a word or a figure is: words up to twelve, figures from there on."""
    value = int(word) if word.isdecimal() else NUMBERS.index(word.lower())
    assert word.isdecimal() is (value > 12), word
    return value


def expanded(text: str, order: Sequence[str]) -> list[str]:
    """Return every port that a text names, 'out 3 to out 5' in full."""
    named: list[str] = []
    port = "|".join(sorted(map(re.escape, order), key=len, reverse=True))
    for found in re.finditer(rf"\b({port})\b(?: to ({port})\b)?", text):
        first, last = found[1], found[2] or found[1]
        named += order[order.index(first) : order.index(last) + 1]
    return named
