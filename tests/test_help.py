"""``portloom help`` and ``portloom glossary``: the topics leave nothing out, and their commands do what they say."""

import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from calls import ROOT, Portloom
from portloom.base.events import EVENTS, STATES
from portloom.base.vocabulary import MODES
from portloom.cli.commands import app
from portloom.cli.help import glossary, topic_text, topics
from portloom.inputs.key_table import MODELS, key_rows
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE
from portloom.rules.book import RULES

WISHED = ("parts", "keys", "modes", "states", "sharing", "looms", "explaining", "units", "exit codes")
ALL = "\n".join(topic_text(topic) for topic in topics())
COMMAND = re.compile(r"^    \$ (?P<call>portloom[^#\n]*?)(?:  # ends with (?P<code>\d+))?$", re.MULTILINE)
NARROW = 78
"""Columns that an old window has, two of them left free."""
TRADE_WORDS = (
    "load", "output", "input", "port", "switch mode", "circuit", "run", "leg", "opening", "place", "earth", "return",
    "splice", "connector", "trip", "multiplexer", "state", "event", "case", "later load", "spare-port loss", "rule",
    "clash", "fact", "fix", "conflict", "effort", "headroom", "feed", "main fuse", "inrush", "steady", "drop", "bank",
)  # fmt: skip
"""Words of the trade, and of answers, that a first reader asks for."""


def _stands(word: str, text: str = ALL) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", " ".join(text.split())) is not None


def test_topics_are_all_there() -> None:
    """Each topic that was promised has a text, and a first line that says what it is about."""
    assert sorted(set(WISHED) - set(topics())) == []
    assert [topic for topic in topics() if not topic_text(topic).splitlines()[0].strip()] == []


@pytest.mark.parametrize(
    ("topic", "words"),
    [
        ("keys", {row.key for file in MODELS for row in key_rows(file)}),
        ("modes", set(MODES)),
        ("states", {*STATES, *EVENTS}),
        ("rules", {rule.slug for rule in RULES}),
        ("exit codes", {"0", "1", "2", "3", "4", "130", "143"}),
    ],
    ids=lambda part: part if isinstance(part, str) else "",
)
def test_a_topic_leaves_nothing_out(topic: str, words: set[str]) -> None:
    """Every key, mode, state, event, rule and exit code stands in its topic."""
    assert sorted(word for word in words if not _stands(word, topic_text(topic))) == []


def test_every_command_is_told() -> None:
    """Each command that is no shell's stands in the topic of commands, and no other."""
    known = {
        one.name or str(one.callback and one.callback.__name__) for one in app.registered_commands if not one.hidden
    }
    told = re.findall(r"^  ([a-z]+) {2,}\S", topic_text("commands"), re.MULTILINE)
    assert sorted(told) == sorted(known)


def test_what_can_t_be_set_aside_is_told() -> None:
    """The topic of rules names those, as many as it says, and no other."""
    count, named = re.findall(r"(\w+) can't be set aside: ([^.]*)\.", " ".join(topic_text("rules").split()))[0]
    told = re.split(r", | and ", named)
    assert (count, sorted(told)) == ("Seven", sorted(NEVER_SET_ASIDE))
    assert len(told) == 7


def test_each_rule_says_how_to_set_it_right(portloom: Portloom) -> None:
    """Each rule of the book has its own way, and tells it when it is asked for by name."""
    ways = {rule.slug: rule.right for rule in RULES}
    assert [slug for slug, right in ways.items() if len(right) < 20] == []
    assert len(set(ways.values())) == len(ways)
    assert "to set it right: an output that drives the brake lamp alone" in portloom("rules", "brake-lamp").stdout


def test_lines_are_narrow() -> None:
    """No line but a command is wider than an old window."""
    lines = [line for line in ALL.splitlines() if not line.startswith("    $ ")]
    assert [line for line in lines if len(line) > NARROW] == []


def test_what_is_pointed_to_is_there() -> None:
    """Topics that texts, and errors of files, point to are topics."""
    pointed = {word.strip() for word in re.findall(r"portloom help ([a-z]+(?: codes)?)", ALL)}
    code = "".join(path.read_text("utf-8") for path in (ROOT / "solver/portloom/inputs").rglob("*.py"))
    pointed |= set(re.findall(r'about\("([a-z ]+)"', code))
    pointed |= set(re.findall(r'_flaws, "([a-z ]+)"\)', code))
    assert len(pointed) > 8
    assert sorted(pointed - set(topics())) == []


def _calls() -> Iterator[tuple[str, int]]:
    for topic in topics():
        for found in COMMAND.finditer(topic_text(topic)):
            yield found["call"].strip(), int(found["code"] or 0)


def test_every_command_in_a_topic_is_found() -> None:
    """No line that shows a command escapes the test below."""
    assert ALL.count("    $ ") == len(list(_calls())) > 20


LONG = ("portloom compare ", "portloom why examples/winter-trail", "portloom sheets examples/harbour-trail")
"""Commands that take seconds; their options are tried in every run by tests of their own."""


def _marks(call: str) -> list[pytest.MarkDecorator]:
    return [pytest.mark.long] if call.startswith(LONG) else []


@pytest.mark.parametrize(
    ("call", "code"), [pytest.param(*call, id=call[0], marks=_marks(call[0])) for call in dict.fromkeys(_calls())]
)
def test_commands_run(portloom: Portloom, tmp_path: Path, call: str, code: int) -> None:
    """Each command in a topic ends as it is said to, and prints something, in a folder with the examples."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    for what in ("bike", "unit"):
        if f"my-{what}.yaml" in call and "new" not in call:
            portloom("new", what, "--out", f"my-{what}.yaml", folder=tmp_path)
    ran = portloom(*shlex.split(call)[1:], folder=tmp_path)
    assert (ran.returncode, bool(ran.stdout or ran.stderr)) == (code, True), ran.stderr


def test_without_a_topic_they_are_listed(portloom: Portloom) -> None:
    """Each topic with its first line."""
    told = portloom("help").stdout
    assert [topic for topic in topics() if f"  {topic} " not in told] == []


def test_a_topic_is_found_by_its_words(portloom: Portloom) -> None:
    """With a hyphen, in capitals, in two words; a command's name gives its own help; a slip gives the nearest."""
    wanted = portloom("help", "exit", "codes").stdout
    assert wanted.startswith("How a command ends")
    assert portloom("help", "Exit-Codes").stdout == wanted
    assert portloom("help", "plan").stdout.startswith("Usage: portloom plan")
    slip = portloom("help", "sharign")
    assert (slip.returncode, slip.stderr) == (2, "portloom help: there is no topic 'sharign'; write 'sharing'\n")


def test_the_glossary_has_the_trades_words(portloom: Portloom) -> None:
    """Each word of the trade has an entry; one alone can be asked for."""
    known = {word for term in glossary() for word in term.word.split(", ")}
    assert sorted({*TRADE_WORDS} - known) == []
    assert portloom("glossary", "Later", "load").stdout.startswith("later load: ")
    assert portloom("glossary", "trap").stderr == "portloom glossary: 'trap' is not in it; write 'trip'\n"


def test_h_is_help_everywhere(portloom: Portloom) -> None:
    """``-h`` prints what ``--help`` does."""
    for command in ((), ("plan",), ("keys",), ("rules",), ("help",)):
        assert portloom(*command, "-h").stdout == portloom(*command, "--help").stdout != ""
