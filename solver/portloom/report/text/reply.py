"""An answer in Markdown that somebody who was asked for help can paste as it is: kind, exact, with cautions."""

import re
from collections.abc import Iterator, Sequence

from portloom.base.figures import capital, counted
from portloom.documents.assumed import CAUTIONS
from portloom.report.text.post import best_lines, repair_lines, where_judged
from portloom.review.document import Checked
from portloom.rules.book import RULES

SPECIAL = re.compile(r"([\\`*_\[\]<>|#~])")
MARKS = {"right": "right", "wrong": "**not yet right**", "look again": "worth another look", "not judged": "open"}
PROTECTS = {rule.slug: rule.protects for rule in RULES}
OPENING = "Thank you for posting your plan before the first wire is cut: that is the best time to look it over."
CLOSING = (
    "Nothing here is meant as a grade: most plans change a few times before they are wired. "
    "Post the next version, and it can be looked over again."
)


def reply(checked: Checked) -> str:
    """Return the answer to a posted plan as Markdown; whatever names stand in it are text, never markup."""
    return "\n".join(_lines(checked)) + "\n"


def _lines(checked: Checked) -> Iterator[str]:
    yield from (OPENING, "")
    yield from (f"**{_short_answer(checked)}** {_text(where_judged(checked))}", "")
    yield from _set_aside(checked)
    yield from _section("What I looked at first", _looks(checked))
    yield from _changes(checked)
    yield from _section("The fewest moves that fix it", map(_text, repair_lines(checked.repair)))
    yield from _section("Compared with the best plan", map(_text, best_lines(checked.best)))
    yield from _section("What is right as it is", _right(checked))
    yield from _section(
        "What is not clear to me", (_text(f"{p.what}; {p.right} (line {p.line})") for p in checked.problems)
    )
    yield from _section("What I could not check", map(_text, checked.verdict.not_judged))
    yield from _section("How I read your post", map(_text, checked.taken))
    yield from _section("Before you start", map(_text, CAUTIONS))
    yield CLOSING


def _short_answer(checked: Checked) -> str:
    plan = f"on the {_text(checked.unit.unit)}"
    if checked.status == "broken":
        return f"Not yet: {counted(len(checked.verdict.clashes), 'thing')} to change {plan} before you wire it."
    if checked.status == "not clear":
        return f"I see nothing wrong {plan} in what I could read, but some of it is not clear to me."
    return f"It looks sound {plan}, as far as I could check it."


def _set_aside(checked: Checked) -> Iterator[str]:
    aside = [_text(f"rule {rule}: {reason}") for rule, reason in checked.set_aside]
    yield from _section("First: what your bike's file sets aside", aside)


def _looks(checked: Checked) -> Iterator[str]:
    for look in checked.verdict.looks:
        yield f"{_text(capital(look.what))}: {MARKS[look.state]}" + (
            "" if look.state == "wrong" else f" ({_text(look.why)})"
        )


def _changes(checked: Checked) -> Iterator[str]:
    """Return what is wrong, numbered, most dangerous first, each with what its rule protects."""
    if not checked.verdict.clashes:
        return
    yield from ("### Please change, most important first", "")
    number = 0
    for about, clashes in checked.by_concern().items():
        for clash in clashes:
            number += 1
            why = f" The rule `{clash.rule}` protects {_text(PROTECTS[clash.rule])}." if clash.rule in PROTECTS else ""
            yield f"{number}. *{capital(about)}.* {_text(capital(clash.sentence))}.{why}"
    yield ""


def _right(checked: Checked) -> Iterator[str]:
    for rule in checked.verdict.kept:
        yield f"The rule `{rule}` is kept, which protects {_text(PROTECTS[rule])}."


def _section(title: str, lines: Iterator[str] | Sequence[str]) -> Iterator[str]:
    items = [f"- {capital(line)}" for line in lines]
    if items:
        yield from (f"### {title}", "", *items, "")


def _text(text: str) -> str:
    """Return a text in which nothing is taken for markup."""
    return SPECIAL.sub(r"\\\1", " ".join(text.split()))
