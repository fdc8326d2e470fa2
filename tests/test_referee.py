"""The referee that runs on demand: it goes on where it stopped, counts what it found, and can refute."""

import random
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from conflict_facts import Case
from oracle.random_bikes import random_case
from oracle.starved import starved_case
from referee import repairs, wishes
from referee.command import Command, command
from referee.conflicts import finding_of
from referee.record import HELD, REFUTED, Finding, Judged, Trial, judged, kept, line_of, summed


def trials(asked: list[str]) -> Iterator[Trial]:
    """Return three bikes of two findings each, which note that they were asked."""

    def judge(name: str) -> list[Finding]:
        asked.append(name)
        return [Finding(HELD), Finding(REFUTED, (f"not so of {name}",))]

    for name in ("one", "two", "three"):
        yield Trial(name, lambda name=name: judge(name))  # type: ignore[misc]


def test_what_was_judged_is_not_judged_again(tmp_path: Path) -> None:
    """A run that has enough stops; the next goes on from its file."""
    file, asked = tmp_path / "kept.jsonl", list[str]()
    first = list(judged(trials(asked), [], count=2, minutes=1))
    file.write_text("".join(map(line_of, first)), "utf-8")
    assert kept(file) == first
    assert [one.trial for one in judged(trials(asked), kept(file), count=4, minutes=1)] == ["two"]
    assert asked == ["one", "two"]
    assert list(judged(trials(asked), [], count=9, minutes=0)) == []


def test_figures_say_what_is_refuted() -> None:
    """How many bikes and findings, of which commit, and each that does not hold."""
    every = [Judged("one", "abc", (Finding(HELD), Finding(REFUTED, ("not so",))))]
    assert summed(every) == [
        "1 bikes, 2 findings", "      1 held", "      1 refuted", "of commit abc: 1 bikes", "REFUTED one: not so",
    ]  # fmt: skip


@pytest.mark.parametrize(("left_out", "outcome"), [(0, HELD), (1, REFUTED)])
def test_a_set_that_is_no_conflict_is_refuted_by_the_command(left_out: int, outcome: str) -> None:
    """A conflict as the command tells it holds; with a fact less its files have a plan, by the command too."""
    case = Case(*starved_case(7003, "coils"))
    with command() as call:
        told = call.plan(case.bike_text, case.unit_text)["conflicts"][0]
        assert finding_of(call, case, {**told, "facts": told["facts"][left_out:]}).outcome == outcome


@pytest.fixture
def call() -> Iterator[Command]:
    """Lend the command."""
    with command() as lent:
        yield lent


def best_of(call: Command, texts: tuple[str, str]) -> dict[str, Any]:
    """Return the printed plan of a bike that fits."""
    best = call.plan(*texts)
    assert best["status"] == "planned"
    return best


def test_an_answer_to_why_not_is_refuted_by_the_file_in_which_the_wish_is_decided(
    call: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every answer holds; not one with another price, and none that tells the opposite."""
    texts = random_case(1001, "sharing")
    best = best_of(call, texts)
    cost, asked = Decimal(str(best["cost_mm"])), wishes.wishes(random.Random(2), *texts, best)
    found = [wishes.finding(call, texts, cost, wish) for wish in asked]
    assert {one.outcome for one in found} == {HELD}
    assert {one.note for one in found} == {wishes.ALONE, wishes.WITH_THE_REST, wishes.POSSIBLE}

    why = Command.why
    for note, spoil in (
        (wishes.POSSIBLE, {"price": {"cost_mm": 987}}),
        (wishes.POSSIBLE, {"answer": wishes.ALONE}),
        (wishes.WITH_THE_REST, {"answer": wishes.POSSIBLE}),
    ):
        wish = next(wish for wish, one in zip(asked, found, strict=True) if one.note == note)

        def lie(*words: Any, spoil: dict[str, Any] = spoil) -> dict[str, Any]:
            return {"why_not": why(*words)["why_not"] | spoil}

        monkeypatch.setattr(Command, "why", lie)
        assert wishes.finding(call, texts, cost, wish).outcome == REFUTED


@pytest.mark.parametrize(
    ("spoil", "outcome"),
    [
        ({}, HELD), ({"moves": 3}, REFUTED), ({"cost_mm": 0}, REFUTED), ({"answer": "nothing fits"}, REFUTED),
    ],
)  # fmt: skip
def test_a_repair_is_refuted_by_posts(
    call: Command, monkeypatch: pytest.MonkeyPatch, spoil: dict[str, Any], outcome: str
) -> None:
    """One that is told holds; not with another count of moves, nor cheaper than its file, nor that there is none."""
    texts = random_case(1001, "sharing")
    post = repairs.Post(*texts, best_of(call, texts))
    check = Command.check

    def lie(*words: Any) -> dict[str, Any]:
        told = check(*words)
        return told | ({"repair": told["repair"] | spoil} if "repair" in told else {})

    monkeypatch.setattr(Command, "check", lie)
    assert repairs.finding(call, post, post.disturbed(random.Random(3))).outcome == outcome
