"""The rules by which every explanation reads.

They are those of DEVELOPERS.md; each is tried on every golden text, and on the texts of the bikes in ``told``.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

import told
from calls import ROOT
from portloom.base.bike import Bike, Load, Switch
from portloom.base.clock import Clock
from portloom.base.figures import NUMBERS, several
from portloom.base.unit import Feed, Output
from portloom.cli.files import read_files
from portloom.explaining.conflicts.find import disjoint_conflicts
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions, Work
from portloom.explaining.explain import DoesNotFit, Undecided, explain
from portloom.explaining.fixes.hunt import Fixes, fixes_of
from portloom.explaining.telling.claim import claim
from portloom.explaining.telling.told import Why, why_nothing_fits
from portloom.inputs.schema import keys
from portloom.job.job import Job
from portloom.rules.book import rules_of
from slices import slices
from told import Told
from told_examples import DATA, every, golden


def test_each_reading_rule_has_its_test() -> None:
    """The rules of DEVELOPERS.md are numbered from 1, and each is cited, in its own words, by one test here."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    section = text.partition("\n## How explanations read\n")[2].partition("\n## ")[0]
    rules = [re.sub(r"\s+", " ", rule) for rule in re.findall(r"^\d+\. .*(?:\n +.*)*", section, re.MULTILINE)]
    written = [match.groups() for rule in rules if (match := re.match(r"(\d+)\. (.*?)[.:](?: |$)", rule))]
    cited = re.findall(r'^    """Reading rule (\d+): (.*?)\.["\n]', Path(__file__).read_text("utf-8"), re.MULTILINE)
    assert written == cited
    assert [number for number, _ in written] == [str(number) for number in range(1, len(written) + 1)]
    assert 10 <= len(written) <= 16


EACH_TIME = slices("about", told.SOME, told.ABOUT)
"""Golden texts, and some of the bikes that are explained anew every time, all of them in the long part."""
PLACE = re.compile(r"\((?:default|(?:([^()]+\.yaml) )?line (\d+))\)")


@EACH_TIME
def test_each_fact_says_where_it_is_written(about: Sequence[str]) -> None:
    """Reading rule 1: A conflict is one paragraph, then a line a fact, each with where it is written at its end."""
    for one, block in every(about):
        assert block.facts, one
        for fact in block.facts:
            assert re.search(PLACE.pattern + "$", fact), fact
    for one in told.made(about):
        for block, conflict in zip(one.blocks, one.conflicts, strict=True):
            assert sum(len(PLACE.findall(fact)) for fact in block.facts) == len(told.said(conflict))


@EACH_TIME
def test_a_file_is_named_once(about: Sequence[str]) -> None:
    """Reading rule 2: A file is named once.

    Each line of a golden text is one where its fact is written: it has a word of it.
    """
    for one, block in every(about):
        last = ""
        for fact in block.facts:
            for place in PLACE.finditer(fact):
                assert place[0] == "(default)" or ((place[1] or last) and place[1] != last), fact
                last = place[1] or last
                if one in golden() and place[2]:
                    words = re.findall(r"[\w.]+", fact[: place.start()])
                    assert set(words) & set(re.findall(r"[\w.]+", _line(one, last, int(place[2])))), fact


def _line(one: Told, file: str, number: int) -> str:
    """Return a line of one of the two files that a text is about."""
    known = (one.files.read_bike.source.file, one.files.read_unit.source.file)
    path = next(path for path in known if Path(path).name == file)
    return Path(path).read_text("utf-8").split("\n")[number - 1]


FIGURE = re.compile(r"\b(draws?|must|(is|are) of kind|gives? a signal|works? down to)\b")


@EACH_TIME
def test_no_fact_is_told_twice(about: Sequence[str]) -> None:
    """Reading rule 3: No fact is told twice, and none that goes without saying."""
    for one, block in every(about):
        assert len(set(block.facts)) == len(block.facts)
        figured = [name for fact in block.facts if FIGURE.search(fact) for name in one.named(fact)]
        there = [name for fact in block.facts if "on the bike" in fact for name in one.named(fact)]
        assert set(figured) & set(there) == set(), block
        assert len(set(there)) == len(there)


@EACH_TIME
def test_what_is_alike_is_said_once(about: Sequence[str]) -> None:
    """Reading rule 4: What several things have in common is said once, their names after it."""
    merged = 0
    for one, block in every(about):
        alike = [one.without_names(PLACE.sub("", fact)) for fact in block.facts]
        alike = [fact for fact in alike if re.match("X (?!and X)", fact)]
        assert len(set(alike)) == len(alike), block
        merged += sum(bool(re.match(r"[^:(]+: .* and ", fact)) for fact in block.facts)
    assert merged > (20 if about is told.ABOUT else 10)


CROWD = re.compile(r"^(?P<many>\w+) (?:loads|switches)(?P<named>, .*?,)? (?:need|can only go on)\b")
PORTS = re.compile(r"(?:has|go on) (?P<ports>\w+)(?: outputs?| inputs?)?, (?P<which>[^.;]*?)\.")


@EACH_TIME
def test_crowds_are_counts(about: Sequence[str]) -> None:
    """Reading rule 5: Crowds are counts.

    One more than there are ports, or at least as many are listed as are one too many.
    """
    crowds = 0
    for one, block in every(about):
        found, ports = CROWD.search(block.sentence), PORTS.search(block.sentence)
        if found is None or ports is None:
            continue
        crowds += 1
        many, room = told.number(found["many"]), told.number(ports["ports"])
        below = re.search(r"The (\w+) below are already one too many", block.sentence)
        listed = told.number(below[1]) if below else many
        things = {name for fact in block.facts if "can't share" not in fact for name in one.named(fact)}
        assert len(things) == listed == room + 1
        assert many >= listed
        assert bool(found["named"]) is (many <= 4 and not below)
        assert len(told.expanded(ports["which"], one.ports)) == room
    assert crowds > (20 if about is told.ABOUT else 10)
    assert all(told.number(word) == number for number, word in enumerate(NUMBERS[1:], 1))


PART = r"[\d.]+ [AV] \((?:[^()]|\([^()]*\))*\)"
SUM = re.compile(rf"(?:(?P<when>[^;.]*?): )?(?P<parts>{PART}(?: \+ {PART})*) = (?P<total>[\d.]+) (?P<unit>[AV])\b")


@EACH_TIME
def test_sums_add_up(about: Sequence[str]) -> None:
    """Reading rule 6: A sum says when, and shows its parts and whose they are.

    In a sum of all that the unit can carry, everything is a part whose current is a fact.
    """
    sums = wholes = 0
    for one, block in every(about):
        for found in SUM.finditer(block.sentence):
            parts = re.findall(r"([\d.]+) ([AV]) \(", found["parts"])
            assert {unit for _, unit in parts} == {found["unit"]}
            assert sum(Decimal(part) for part, _ in parts) == Decimal(found["total"]), block.sentence
            assert found["unit"] == "V" or re.match(MOMENT, found["when"].strip()), block.sentence
            sums += 1
        limited = re.search(r"bank \w+ can supply|the unit can carry", block.sentence)
        assert not limited or SUM.search(block.sentence), one
        for found in re.finditer(SUM.pattern + r", the unit can carry", block.sentence):
            drawn = [name for fact in block.facts if re.search(r"\bdraws?\b", fact) for name in one.named(fact)]
            assert set(one.named(found["parts"])) == set(drawn), block
            wholes += 1
    assert sums > (10 if about is told.ABOUT else 5)
    assert wholes > (1 if about is told.ABOUT else 0)


MOMENT = re.compile(r"(Asleep|Parked|In the run-on|With the key on|While cranking|By day|At night)", re.IGNORECASE)
UNIT = r" (?:[mk]?[AVW]|mm2?|m|m?s|k?Hz|C)\b"


@EACH_TIME
def test_figures_have_their_units(about: Sequence[str]) -> None:
    """Reading rule 7: A figure has its unit, on the same line."""
    for one in golden():
        assert not re.search(rf"\d\n\s*{UNIT.strip()}", one.text), one
    for one, block in every(about):
        for line in block.lines:
            bare = one.without_names(PLACE.sub("", line))
            bare = re.sub(r"'[^']*'|1\.25 x|\d+ x |^\d+ (?:loads|switches)|(?:has|The|return) \d+\b", "", bare)
            assert re.findall(rf"(?<![\w.])\d[\d.]*(?!{UNIT}|[\d.])", bare) == [], bare


A, V, MM = r"([\d.]+) A", r"([\d.]+) V", r"([\d.]+) mm"
BEYOND = (
    rf"= {A}, bank \w+ can supply {A}",
    rf"= {A}, the unit can carry {A}",
    rf"= {V} with [^,]*, the thickest[^,]*, (?:it|they) may lose {V}",
    rf"by {V}, an input reads it reliably up to {V}",
    rf"draws? {A} at switch-on, .*? can pass {A} at most",
    rf"needs? a trip of {A} \(1\.25 x\), .*? can be set to {A} at most",
    rf"needs a trip of {A}, the thickest wire [^,]*, [^,]*, carries {A}",
    rf"must carry .*?{A}.*?; [^;]*, carries {A} there",
    rf"the main fuse must be {A}.*?takes a main fuse of {A} at most",
    rf"the main fuse must be {A}.*?carries {A}",
    rf"is {MM} thick, the opening leaves {MM}",
    rf"are {MM} wide side by side, the opening leaves {MM}",
    rf"works down to {V}, of the [\d.]+ V .*?, {V} reach",
)
TAILS = rf"tails of [^,]* that carry {A}, out \d would trip at {A}"


@EACH_TIME
def test_limits_are_told_with_what_goes_beyond_them(about: Sequence[str]) -> None:
    """Reading rule 8: A limit is told with what goes beyond it."""
    for pattern in BEYOND:
        found = [pair for _, block in every(about) for pair in re.findall(pattern, block.sentence)]
        assert found, pattern
        assert [pair for pair in found if not Decimal(pair[0]) > Decimal(pair[1])] == [], pattern
    tails = [pair for _, block in every(about) for pair in re.findall(TAILS, block.sentence)]
    assert tails
    assert [(carried, trip) for carried, trip in tails if not Decimal(trip) > Decimal(carried)] == []


@EACH_TIME
def test_every_port_has_its_refusal(about: Sequence[str]) -> None:
    """Reading rule 9: Of a thing that no port takes it is told by what each port refuses it."""
    named = 0
    for one, block in every(about):
        found = re.match(r"No (output|input) of the [\w -]+ takes [^:]+: (.*)\.", block.sentence)
        if found is None:
            continue
        order = one.outputs if found[1] == "output" else one.inputs
        told_of = told.expanded(found[2], order)
        assert not told_of or set(told_of) == set(order), block.sentence
        named += bool(told_of)
    assert named > (20 if about is told.ABOUT else 10)


ORDER = ("NOTHING FITS", "\n1. ", "\n  - ", "\n  Rule", "\nWhat would make it fit\n", "\nCAUTION\n")


@EACH_TIME
def test_context_comes_first(about: Sequence[str]) -> None:
    """Reading rule 10: Context comes first, then what to do."""
    for one in (*golden(), *told.made(about)):
        places = [one.text.index(mark) for mark in ORDER]
        assert places == sorted(places)
        for block in one.blocks:
            bike, unit = (Path(read.source.file).name for read in (one.files.read_bike, one.files.read_unit))
            files = [place[1] for fact in block.facts for place in PLACE.finditer(fact) if place[1]]
            assert files in ([], [bike], [unit], [bike, unit])
            counts = [bool(re.match("the (in|out)puts: ", fact)) for fact in block.facts]
            assert counts == sorted(counts)


FIRST = r"(?:WARNING, before anything else:\n(?:  .*\n)+\n)?"
"""What may keep the engine running stands before any answer."""
PROVED = ("proved best", "not proved best: the time limit was reached")
BUT = r", except (?:what stands above, and )?more of the same kinds, alone or with others\."
ENDINGS = (
    rf"Least effort first\. Proved: nothing with less effort works{BUT}",
    rf"Least effort first\. Proved: nothing with less effort than the last works{BUT} Not every change of more effort "
    r"was tried, so there may be others\.",
    rf"Least effort first\. Proved, but where it says otherwise: nothing with less effort works{BUT} Not every change "
    r"was tried, so there may be others\.",
    r"Each one was tried and works\. Not every change was tried, so there may be others, of less effort too\.",
    r"Proved: no change that this program knows makes it fit\.",
    r"Proved: no change that was tried makes it fit; what may help, and was not tried, stands above\.",
    r"None was found\. Not every change was tried, so there may be one\.",
    r"Proved: nothing else that was tried makes it fit; what does stands above\.",
    r"Proved: no change that was tried makes it fit; what lifts a conflict by itself stands above\.",
)


@EACH_TIME
def test_how_far_it_is_proved_is_said(about: Sequence[str]) -> None:
    """Reading rule 11: How far a claim is proved is always said."""
    for one in (*golden(), *told.made(about)):
        assert re.match(FIRST + r".* on the .*: NOTHING FITS, proved\.\n", one.text)
        assert sum(bool(re.search(ending, _unfolded(one.text))) for ending in ENDINGS) == 1
        fits = re.findall(r"then it fits: (.*)", one.text)
        assert all(plan.endswith(PROVED) for plan in fits)
        assert len(fits) == len(re.findall(r"^  \d+\. ", one.text, re.MULTILINE))
    assert all(block.help.startswith("May help, not tried: ") for _, block in every(about) if block.help)
    lifts = [(block.lifts, "; " in block.lifts) for _, block in every(about) if block.lifts]
    assert lifts
    assert all(
        re.match("Any one of these " if many else "What (lifts it|makes it fit), proved: ", s) for s, many in lifts
    )
    texts = [_unfolded(one.text) for one in (*golden(), *told.made(about))]
    found = {ending for ending in ENDINGS for text in texts if re.search(ending, text)}
    assert found >= {ENDINGS[0], *ENDINGS[4:8]}


def _unfolded(text: str) -> str:
    return " ".join(text.split())


def test_what_is_proved_of_fixes_is_what_each_says() -> None:
    """That least effort is proved is said of all, of some, or of none, as each fix has it."""
    files = read_files(DATA / "tails-too-thin.yaml", str(DATA / "units" / "late-two-way.yaml"))
    answer = explain(files.bike, files.unit).answer
    assert isinstance(answer, DoesNotFit)
    fix = answer.fixes.found[0]
    proved, not_proved = replace(fix, least=True), replace(fix, least=False)
    for found, ending in (((proved,), 1), ((proved, not_proved), 2), ((not_proved,), 3)):
        assert re.fullmatch(ENDINGS[ending], claim(Fixes(found, complete=False), ()))


def test_a_limit_is_not_called_impossible() -> None:
    """Reading rule 12: A limit of time that was reached is never called impossible."""
    files = read_files(DATA / "crowd-of-loads.yaml", "six-way")
    late = explain(files.bike, files.unit, time_limit=1e-9)
    assert isinstance(late.answer, Undecided)
    assert "UNKNOWN, the time limit was reached" in told.printed(late)
    job = Job(files.bike, files.unit)
    found = why_nothing_fits(Questions(Instance(job, rules_of(job)), Clock(None)), files.where)
    stopped = told.printed(told.why_not_of(files, Why(found.conflicts, complete=False), Fixes((), complete=False)))
    assert "The time limit was reached: there may be more conflicts. What is listed here is proved." in stopped
    assert "Not every change was tried" in stopped
    for text in (told.printed(late), stopped):
        assert not re.search(r"impossible|no change that this program knows|fix any one", text, re.IGNORECASE)


NO_WORDS = re.compile(
    r"\b(in|un)?feasib|constrain|\bliteral|\bvariable|\bcolumns?\b|\bsolve|\bassumption|\bunsat|\bsatisf|\bviolat|"
    r"\bminimal|\bsubset|\bmatching|\bHall\b|\boptim|\bobjective|\bmodel\b|\bbounds?\b|\bbudget|\bNone\b(?! was found)|"
    r"\bTrue\b|\bFalse\b|\bnull\b|\w_\w|[{}<>=]{2}|\\|\0|\(like it|\bcores?\b|\bslack\b|\bpresolve"
)


@EACH_TIME
def test_words_are_of_the_trade(about: Sequence[str]) -> None:
    """Reading rule 13: Only words of the trade.

    So are the keys that a bike's or a unit's file may have.
    """
    keys_of_files = re.compile(
        "|".join(key for entry in (Bike, Load, Switch, Feed, Output) for key in keys(entry) if "_" in key)
    )
    for one in (*golden(), *told.made(about)):
        text = keys_of_files.sub("", one.text)
        assert not (found := NO_WORDS.search(text)), (one, found)


@EACH_TIME
def test_verbs_agree(about: Sequence[str]) -> None:
    """Reading rule 14: Verbs agree with names.

    By the looks of a name, as its owner writes it; a list, and a range of ports, is of several.
    """
    more = (
        "heated grips",
        "auxiliary lamps",
        "out 1 and out 2",
        "out 9 to out 11",
        "A1 to A5",
        "a, b",
        "radio and plotter",
    )
    single = ("horn", "dash", "compass", "out 1", "in 14", "chassis", "way to go", "bus")
    assert [name for name in (*more, *single) if several(name)] == list(more)
    wrong = {False: r"(draw|need|have|give|work|are|take|pass|do|lack)\b", True: r"(\w+[^s]s|is|has|does)\b"}
    for one, block in every(about):
        for line in block.lines:
            for name in one.things:
                assert not re.search(rf"(?<!and )\b{re.escape(name)} {wrong[several(name)]}", line), line
            assert not re.search(r"(?<!and )(?<!to )\bout \d+ (give|pass|take|do|lack)\b", line), line
            assert not re.search(r"\b(and|to) out \d+ (gives|passes|takes|does|lacks|is)\b", line), line


@EACH_TIME
def test_sentences_are_whole(about: Sequence[str]) -> None:
    """Reading rule 15: A sentence begins with a capital letter and ends with a full stop; a fact does neither."""
    for _, block in every(about):
        assert re.match(r"[A-Z0-9].*[^.]\.$", block.sentence), block.sentence
        assert not any(re.search(r"  | [,;:.]|[,;:]\.|\.\.|:,|\(\)", line) for line in block.lines), block
        for line in (*block.facts, *block.nowhere):
            assert line[0].islower()
            assert not line.endswith(".")


def test_something_can_be_done() -> None:
    """Reading rule 16: No conflict is left without what can be done about it."""
    for one in golden():
        fixes = re.search(r"^  1\. ", one.text, re.MULTILINE)
        for block in one.blocks:
            assert fixes or block.lifts or block.help or "no change that this program knows makes it fit" in one.text, (
                block
            )
        assert bool(fixes) is ("--apply NUMBER" in one.text)


@pytest.mark.parametrize(("columns", "ending"), [(1, 3), (400, 1), (3_000, 0)])
def test_work_that_ends_is_said(columns: int, ending: int) -> None:
    """Where no work is left for a first question, or for a further one, it is said that not all was tried."""
    files = read_files(DATA / "crowd-of-sixteen.yaml", str(DATA / "units" / "held-sixteen-way.yaml"))
    job = Job(files.bike, files.unit)
    instance = Instance(job, rules_of(job))
    conflict = next(disjoint_conflicts(Questions(instance, Clock(None))))
    fixes = fixes_of(Questions(instance, Clock(None), Work(columns)), [conflict.keys], ())
    assert fixes.complete is (ending == 0)
    assert [number for number, text in enumerate(ENDINGS) if re.search(text, claim(fixes, ()))] == [ending]
