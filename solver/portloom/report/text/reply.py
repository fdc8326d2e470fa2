"""An answer in Markdown that somebody who was asked for help can paste as it is: kind, exact, one screen."""

import re
from collections.abc import Iterator, Sequence

from portloom.base.figures import capital, counted
from portloom.base.letters import quoted, shown
from portloom.report.text.post import best_lines, repair_lines, where_judged
from portloom.review.document import Checked
from portloom.rules.clash import Clash

PLAIN = str.maketrans({"[": "(", "]": ")", "@": "(at)", "$": "(dollar)", "\\": "\\ "})
"""Brackets are markup in BBCode too, which knows no sign that takes their meaning; an '@' calls somebody; dollars, and
backslashes before a bracket, begin a formula where a page sets mathematics, even if Markdown took them for text."""
DOT = re.compile(r"(?<=\w)\.(?=[^\W\d_])|(?<=www)\.", re.IGNORECASE)
"""The dot of an address: forums make links of addresses that have no scheme, too."""
SPECIAL = re.compile(r"[\\`*_|#~]")
"""Source: CommonMark 0.31, 2.4 Backslash escapes."""
ENTITY = re.compile(r"&(?=#?\w+;)")
BEGINS = re.compile(r"^(?:(\d+)(?=[.)](?: |$))|(?=[-+=]))")
"""What begins a list or a heading."""
OPENING = "Thank you for posting your plan before the first wire is cut: that is the best time to look it over."
CLOSING = (
    "Battery off first, the main fuse at the battery, and test every circuit before the bike is ridden. "
    "Post the next version, and it can be looked over again."
)
IN_BRACKETS = re.compile(r" \([^()]*\)")
SCREEN, WIDTH = 24, 100
"""Lines of a screen, and the letters of each."""
TITLE = 2
"""Lines that the title of a list takes."""


def reply(checked: Checked) -> str:
    """Return the answer to a posted plan as Markdown; whatever names stand in it are text, never markup."""
    return "\n".join(_lines(checked)) + "\n"


def _lines(checked: Checked) -> Iterator[str]:
    """Return what is not clear, what to change, what is right, what could not be judged; then what was asked more."""
    head = [OPENING, "", f"**{_short_answer(checked)}** {harmless(where_judged(checked))}", *_first(checked)]
    tail = ["", *_in_one_line(checked)]
    left = SCREEN - _rows([*head, *tail, "", CLOSING])
    unclear = [harmless(f"Line {p.line}: {p.what}; {p.right}.") for p in checked.problems]
    clashes = list(_changes(checked))
    first = _section("Not clear to me", unclear, left // 2 if clashes else left)
    yield from (*head, *first, *_section("Please change, most dangerous first", clashes, left - _rows(first)), *tail)
    yield from _section("The fewest moves that fix it", [harmless(line) for line in repair_lines(checked)])
    yield from _section("Compared with the best plan", [harmless(line) for line in best_lines(checked.best)])
    yield from ("", CLOSING)


def _short_answer(checked: Checked) -> str:
    plan = f"on the {harmless(checked.unit.unit)}"
    match checked.status:
        case "broken":
            return f"Not yet: {counted(len(checked.verdict.clashes), 'thing')} to change {plan} before you wire it."
        case "not clear":
            return f"I see nothing wrong {plan} in what I could read, but some of it is not clear to me."
        case "not known":
            return f"I see nothing wrong {plan} in what is posted; whether the switches can be wired I could not tell."
        case "nothing wrong":
            return f"I see nothing wrong {plan}; {counted(len(checked.verdict.not_judged), 'thing')} I could not judge."
        case "sound":
            return f"It is sound {plan}."


def _first(checked: Checked) -> Iterator[str]:
    """Return what comes before all else: which fault leaves the engine running, without what stands in brackets."""
    first = [IN_BRACKETS.sub("", line) for line in checked.first]
    if first and checked.verdict.clashes:  # what would pass is told on every sheet; here room is for what to change
        first = [line.partition("; ")[0] for line in first]
    if first:
        yield _short(f"**First of all:** {harmless('; '.join(first))}.", 4 * WIDTH)
    for rule, reason in checked.set_aside:
        yield harmless(f"Set aside in your bike's file: rule {rule}: {reason}.")


def _changes(checked: Checked) -> Iterator[str]:
    """Return what is wrong, most dangerous first."""
    for concern, clashes in checked.by_concern().items():
        for place, clash in enumerate(clashes):
            yield _change(clash, "" if place else f"*{capital(concern)}.* ")


def _change(clash: Clash, concern: str) -> str:
    return f"{concern}{harmless(capital(clash.sentence))} (`{clash.rule}`)."


def _in_one_line(checked: Checked) -> Iterator[str]:
    """Return what is right, what deserves another look, how names were read, what could not be judged, a line each."""
    verdict, ports = checked.verdict, {*_ports(checked)}
    right = [look.what for look in verdict.looks if look.state == "right"]
    kept = [f"the rules {', '.join(verdict.kept)}"] if verdict.kept else []
    open_ = [line.partition(":")[0] for line in verdict.not_judged]
    open_ += [look.what for look in verdict.looks if look.state == "not judged"]
    told = {
        "Right as it is": [*right, *kept],
        "Worth another look": [f"{look.what}: {look.why}" for look in verdict.looks if look.state == "look again"],
        "As I read it": [
            f"'{quoted(said.text)}' as {name}" for said, name in checked.posted.taken if name not in ports
        ],
        "Not judged": list(dict.fromkeys(open_)),
        "Left aside": list(checked.left_aside),
    }
    if checked.problems and verdict.clashes:
        del told["As I read it"]
    most = WIDTH if checked.problems or verdict.clashes else 2 * WIDTH
    yield from (_short(f"- **{title}:** {harmless('; '.join(said))}.", most) for title, said in told.items() if said)


def _ports(checked: Checked) -> Iterator[str]:
    """Return the names of the unit's ports."""
    yield from (output.name for output in checked.unit.outputs)
    yield from (source.name for source in checked.unit.inputs)


def _short(text: str, most: int) -> str:
    """Cut a line that is longer than so many letters, at a word."""
    return text if len(text) <= most else f"{text[: text.rfind(' ', 0, most - 4)]} ..."


def _section(title: str, lines: Sequence[str], left: int | None = None) -> list[str]:
    """Return a numbered list under a title, as much of it as fits, the first in any case; how many more is told."""
    if not lines:
        return []
    items = [f"{number}. {capital(line)}" for number, line in enumerate(lines, 1)]
    if left is not None and _rows(items) > left - TITLE:
        items = [_short(item, WIDTH) for item in items]  # more of them, each as far as a line goes
    told = len(items)
    while left is not None and told > 1 and _rows(items[:told]) + (told < len(items)) > left - TITLE:
        told -= 1
    more = [f"{told + 1}. ... and {len(items) - told} more."] if told < len(items) else []
    return ["", f"**{title}**", *items[:told], *more]


def _rows(lines: Sequence[str]) -> int:
    """Return how many lines of a screen some lines take."""
    return sum(max(1, -(-len(line) // WIDTH)) for line in lines)


def harmless(text: str) -> str:
    """Return a text that is nothing but text where it is pasted: no markup, no link, nobody called, no formula."""
    line = shown(" ".join(text.split())).translate(PLAIN)
    line = DOT.sub(r"\g<0> ", line).replace("//", "/ /")
    line = SPECIAL.sub(r"\\\g<0>", ENTITY.sub("&amp;", line)).replace("<", "&lt;").replace(">", "&gt;")
    return BEGINS.sub(r"\1\\", line)
