"""The referee that runs on demand: it goes on where it stopped, counts what it found, and can refute."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from conflict_facts import Case
from oracle.starved import starved_case
from referee.command import command
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
