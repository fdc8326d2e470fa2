"""Conflicts that are told where nothing fits, judged by edits of their files.

What is told of a conflict is: these facts alone, all else left out or without limit, have no plan; without any one of
them there is one. So the files are written in which all else is left out or without limit (``conflict_files``) and
planned, and once more without each fact. What dropping a fact means is written there anew; nothing is taken from the
package's own way to drop it. Bikes are made up.
"""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from calls import ROOT, Portloom
from conflict_bikes import EVERY_FAMILY, conflict_case
from conflict_drafts import EASIER, HARDER
from conflict_facts import Case, keys_of
from conflict_files import said
from conflict_judged import Judged, judged
from conflict_lifts import lifted
from conflict_sentences import untrue
from explained import questions_on
from here import command_in
from portloom.explaining.json import conflict_json
from portloom.explaining.telling.told import why_nothing_fits
from portloom.inputs.files import bike_from_text, unit_from_text
from portloom.inputs.problems import BadFile
from portloom.rules.facts import by_default
from slices import first_of
from told_examples import DATA, REASONS, unit_named

Conflict = dict[str, Any]
QUICK = (("coils", 7003), ("untold", 7006), ("sums", 7002), ("held", 32), ("alike", 13), ("held", 4), ("held", 39))
SEEDS = range(9000, 9008)
EACH_FAMILY = pytest.mark.parametrize("family", EVERY_FAMILY)
BY_CALL = ("kicks-back", "narrow-tube")
UNITS = dict(REASONS)


@cache
def told(family: str, seed: int) -> tuple[Case, tuple[Conflict, ...]]:
    """Return a random bike and its conflicts as JSON has them; none where it fits."""
    written = conflict_case(seed, family)
    questions = questions_on(written)
    if questions.has_plan(questions.instance.everything):
        return Case(*written), ()
    why = why_nothing_fits(questions, by_default)
    return Case(*written), tuple(conflict_json(conflict, proof=True) for conflict in why.conflicts)


@cache
def judgements(family: str, seed: int) -> tuple[Judged, ...]:
    case, conflicts = told(family, seed)
    return tuple(judged(case, conflict) for conflict in conflicts)


def unit_file(bike: str) -> Path:
    """Return the file of the unit of a small bike."""
    name = unit_named(UNITS[bike])
    return ROOT / name if "/" in name else ROOT / "profiles" / f"{name}.yaml"


def small(bike: str) -> Case:
    return Case((DATA / f"{bike}.yaml").read_text("utf-8"), unit_file(bike).read_text("utf-8"))


def told_by_call(portloom: Portloom, bike: str) -> list[Conflict]:
    call = ("why", f"tests/data/reasons/{bike}.yaml", "--unit", unit_named(UNITS[bike]), "--json", "--proof")
    return list(json.loads(portloom(*call).stdout)["conflicts"])


# --- random bikes


def check_random(family: str, seed: int) -> None:
    case, conflicts = told(family, seed)
    for conflict, judgement in zip(conflicts, judgements(family, seed), strict=True):
        assert judgement.wrong == (), conflict
        faults = [untrue(case, *pair) for pair in _sentences(case, conflict)]
        assert [fault for fault in faults if fault] == []
        assert [verdict.claim for verdict in lifted(case, conflict) if verdict.holds is False] == []


def _sentences(case: Case, conflict: Conflict) -> list[tuple[tuple[str, ...], str]]:
    return [(key, fact["sentence"]) for key, fact in zip(keys_of(case, conflict), conflict["facts"], strict=True)]


@first_of(("family", "seed"), QUICK, 3)
def test_a_conflict_is_one_by_its_files(family: str, seed: int) -> None:
    """Its facts alone have no plan, without any one there is one; sentences are true, what lifts it does."""
    assert judgements(family, seed)
    check_random(family, seed)
    assert all(judgement.whole for judgement in judgements(family, seed))


@pytest.mark.long
@EACH_FAMILY
def test_conflicts_of_random_bikes_are_conflicts_by_their_files(family: str) -> None:
    """No file refutes what is told, and each sentence is true of the files."""
    for seed in SEEDS:
        check_random(family, seed)


@pytest.mark.long
def test_most_conflicts_can_be_judged_in_full() -> None:
    """Of five at least four: all that they say can be said by edits of files."""
    every = [judgement for family in EVERY_FAMILY for seed in SEEDS for judgement in judgements(family, seed)]
    assert len(every) >= 100
    assert sum(judgement.whole for judgement in every) >= 0.8 * len(every)


# --- small bikes, by the command


NOT_JUDGED = {"earth-lifted": ["lifted by wire of 2.5 mm2, under 'reels:'"]}
"""What no edit of files can say: that a conflict is lifted whose return the whole bike judges. That it fits can."""


@pytest.mark.parametrize(
    "bike", [one if one in BY_CALL else pytest.param(one, marks=pytest.mark.long) for one in UNITS]
)
def test_what_the_command_tells_is_so_by_files(portloom: Portloom, bike: str) -> None:
    """No file refutes it; sentences are true, and stand where they say."""
    case = small(bike)
    for conflict in told_by_call(portloom, bike):
        assert judged(case, conflict).wrong == ()
        verdicts = list(lifted(case, conflict))
        assert [verdict.claim for verdict in verdicts if verdict.holds is False] == []
        assert [verdict.claim for verdict in verdicts if verdict.holds is None] == NOT_JUDGED.get(bike, [])
        assert [fault for pair in _sentences(case, conflict) if (fault := untrue(case, *pair))] == []
        assert [fact for fact in conflict["facts"] if not _stands_there(fact, bike)] == []


WRITTEN = {
    "total": ("limit",), "fuse": ("fuse_max", "limit"), "unit lowest": ("lowest",), "terminal": ("wire_max",),
    "load lowest": ("lowest",), "opening": ("opening",), "told": ("tells", "follow"), "bank": ("banks",),
    "ways": ("ways",),
}  # fmt: skip


def _stands_there(fact: Conflict, bike: str) -> bool:
    """Tell whether the line that a fact names has its name, or the key by which it is written."""
    if fact["where"] == "default":
        return True
    path, _, line = fact["where"].rpartition(":")
    file = DATA / f"{bike}.yaml" if path.endswith(f"/{bike}.yaml") else unit_file(bike)
    text = file.read_text("utf-8").splitlines()[int(line) - 1]
    names = [fact["subject"], *fact["subject"].split(", ")]
    return any(word in text for word in (*names, *WRITTEN.get(fact["fact"], ())))


def test_the_command_finds_no_plan_until_a_fact_is_left_out(
    portloom: Portloom, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of the files that the command itself takes: all facts, exit code 1; without one, 0."""
    here, codes = command_in(tmp_path, monkeypatch, capsys), []
    for bike in BY_CALL:
        case = small(bike)
        keys = keys_of(case, told_by_call(portloom, bike)[0])
        for gone in (None, *keys):
            files = said(case, [key for key in keys if key != gone], rather=EASIER if gone is None else HARDER)
            for number, (text, unit) in enumerate(files.files):
                name = f"{bike} {number}.yaml"
                (tmp_path / name).write_text(text, "utf-8")
                (tmp_path / "unit.yaml").write_text(unit, "utf-8")
                codes.append((gone is None, here("plan", name, "--unit", "unit.yaml").returncode))
    assert set(codes) == {(True, 1), (False, 0)}


@pytest.mark.long
def test_most_edited_files_are_taken_by_the_command(portloom: Portloom) -> None:
    """Of the small bikes four in five are read without a question; others ask what no conflict is about."""
    taken = []
    for bike in UNITS:
        for conflict in told_by_call(portloom, bike):
            case = small(bike)
            taken += [_is_read(*pair) for pair in said(case, keys_of(case, conflict), rather=EASIER).files]
    assert len(taken) >= 30
    assert sum(taken) >= 0.8 * len(taken)


def _is_read(bike: str, unit: str) -> bool:
    try:
        bike_from_text(bike, "bike", unit_from_text(unit, "unit").own_modes)
    except BadFile:
        return False
    return True


# --- that it can fail


def test_a_set_that_is_no_conflict_is_refuted() -> None:
    """One fact too few has a plan; one too many can be dropped and there is still none."""
    case, conflicts = told(*QUICK[0])
    facts = conflicts[0]["facts"]
    few = judged(case, {"facts": facts[1:]})
    assert [verdict.claim for verdict in few.wrong] == ["these facts alone have no plan"]
    told_keys = set(keys_of(case, conflicts[0]))
    spare = next(key for key in sorted(case.facts) if key[0] == "load" and key not in told_keys)
    more = {"fact": "load", "subject": spare[1], "rule": "cover", "sentence": f"{spare[1]} is on the bike"}
    many = judged(case, {"facts": [*facts, more]})
    assert f"without load {spare[1]} there is a plan" in [verdict.claim for verdict in many.wrong]


def test_a_sentence_with_another_figure_is_not_true() -> None:
    """By hand: 26.5 W at 13.5 V are 1.963 A (UN R37), an opening of 5 mm leaves 4 mm in a sleeve of 1 mm."""
    case = small("narrow-tube")
    key = ("opening", "seat tray - headlamp shell")
    said_so = (
        "the opening of seat tray - headlamp shell is 5 mm, {} mm without the sleeve, and may be opened up to 8 mm"
    )
    assert untrue(case, key, said_so.format(4)) == ""
    assert untrue(case, key, said_so.format(4.1)) != ""
    assert untrue(case, ("current", "dipped beam"), "dipped beam draws 3 A") == ""
    assert untrue(case, ("current", "dipped beam"), "dipped beam draws 3.1 A") != ""
    assert untrue(case, ("load", "dipped beam"), "main beam is on the bike") != ""
