"""``portloom parts``: the whole catalogue, and all about one part by any word for it."""

import json
import re

import pytest

from calls import Portloom
from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS
from portloom.base.parts.switches import SWITCH_PART
from portloom.cli.help import topic_text

NAMES = (*LOAD_PART, *SWITCH_PART)
NARROW = 80


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_every_part_is_listed(portloom: Portloom) -> None:
    """The document has each load and switch of the catalogue, what is refused, falls away, and is asked."""
    ran = portloom("parts", "--json")
    listed = json.loads(ran.stdout)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert [entry["part"] for entry in listed["loads"]] == list(LOAD_PART)
    assert [entry["part"] for entry in listed["switches"]] == list(SWITCH_PART)
    assert {entry["part"] for entry in (*listed["refused"], *listed["falls_away"])} == {w.name for w in OTHER_WORDS}
    assert [entry["words"] for entry in listed["asked"]] == [list(words.words) for words in AMBIGUOUS]


def test_the_list_fits_a_small_window(portloom: Portloom) -> None:
    """No line of the list is wider than 80 columns, and each part that is refused or asked is on it."""
    ran = portloom("parts")
    assert ran.returncode == 0
    assert max(len(line) for line in ran.stdout.splitlines()) <= NARROW
    flat = _flat(ran.stdout)
    assert [word.name for word in OTHER_WORDS if f"- {word.name}: " not in flat] == []
    assert [words.words for words in AMBIGUOUS if words.words[0] not in flat] == []


@pytest.mark.parametrize("said", ["horn", "Hooter", "HORN", "horns"])
def test_one_part_by_any_word(portloom: Portloom, said: str) -> None:
    """All about the horn, by its name, another word, in capitals or as several."""
    ran = portloom("parts", said)
    flat = _flat(ran.stdout)
    assert ran.returncode == 0
    assert max(len(line) for line in ran.stdout.splitlines()) <= NARROW
    for line in (
        "horn, a load", "also read as: hooter", "kind: horn", "mode: hold", "on in: horn", "share group: none",
        "worked by: horn button", "rules for what it is: inductive, mode;", "never left off",
        "to write: {part: horn, at: headstock, current: 4 A}",
    ):  # fmt: skip
        assert line in flat


def test_words_need_no_quotes(portloom: Portloom) -> None:
    """``portloom parts kill switch`` is understood as one name; its position is asked, with why."""
    ran = portloom("parts", "kill", "switch")
    assert "engine stop switch, a switch" in ran.stdout
    assert "asked: made: run or stop; a wire that breaks must stop the engine" in ran.stdout


def test_a_safety_part_says_why_its_mode_is_not_free(portloom: Portloom) -> None:
    """A starter solenoid in another mode is refused, with the rule and the reason."""
    flat = _flat(portloom("parts", "starter", "relay").stdout)
    assert "unless the rule 'start' is set aside: a starter that is not held back cranks in gear" in flat
    assert "rules for what it is: start, cranking, inductive, mode;" in flat


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("rectifier", "why: its lead goes to the battery side, through a fuse of its own"),
        ("flasher can", "flasher relay, which falls away"),
        ("stop switch", "write: part: engine stop switch"),
    ],
)
def test_words_that_are_no_part(portloom: Portloom, said: str, told: str) -> None:
    """What is refused, falls away or may be several things is told as that."""
    ran = portloom("parts", said)
    assert ran.returncode == 0
    assert told in ran.stdout


@pytest.mark.parametrize(
    ("said", "right"),
    [("feul pump", "write 'fuel pump'"), ("hron", "write 'horn'"), ("zebra", "'portloom parts' lists them all")],
)
def test_an_unknown_word_is_2(portloom: Portloom, said: str, right: str) -> None:
    """A word of no part ends with 2 and the nearest one, if one is near."""
    ran = portloom("parts", said)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == f"portloom parts: there is no part '{said}'; {right}\n"


@pytest.mark.parametrize("name", NAMES)
def test_each_part_has_a_line_to_write(name: str) -> None:
    """Each load says by way of example where it is and what it draws, each switch where it is."""
    part = LOAD_PART.get(name) or SWITCH_PART[name]
    assert part.line.startswith("at: ")
    assert name in SWITCH_PART or re.search(r"\b(lamp|power|current): ", part.line)


def test_the_topic_names_the_command() -> None:
    """The topic of parts says how the list is called up."""
    assert "$ portloom parts horn\n" in topic_text("parts")


RUNS_ENGINE = {"ignition coil", "ignition box", "engine controller", "fuel pump"}
BY_PART = {
    # UN R53 par. 6.3 and 6.4 (from memory) for indicators and stop lamp; else common practice, no source.
    "engine-stop": RUNS_ENGINE,
    "run": RUNS_ENGINE,
    "start": {"starter solenoid"},
    "brake-lamp": {"brake lamp"},
    "indicator-pair": {"left indicator", "right indicator"},
    "engine-run": {"fuel pump", "fuel tap solenoid"},
    "inductive": {
        "horn", "compressor horn", "ignition coil", "fuel pump", "fuel tap solenoid", "starter solenoid", "fan",
    },
    "key-off": {"alarm", "tracker", "immobiliser"},
    "multiplexer": {
        "key switch", "engine stop switch", "side stand switch", "fall sensor", "clutch switch", "neutral switch",
        "front brake switch", "rear brake switch", "starter button",
    },
}  # fmt: skip
"""Rules, and the parts for which they hold by what these are."""


@pytest.mark.parametrize("rule", BY_PART)
def test_rules_hold_by_what_a_part_is(portloom: Portloom, rule: str) -> None:
    """Each rule is told of the loads that it is there for, or of the switches, and of no other."""
    listed = json.loads(portloom("parts", "--json").stdout)
    sort = "switches" if rule == "multiplexer" else "loads"
    assert {entry["part"] for entry in listed[sort] if rule in entry["rules"]} == BY_PART[rule]


def test_what_is_asked_of_the_whole_bike_is_told(portloom: Portloom) -> None:
    """All about a solenoid says that neutral or clutch is asked for, and the stand; of a coil, the engine stop."""
    solenoid, coil = (_flat(portloom("parts", name).stdout) for name in ("starter solenoid", "ignition coil"))
    assert "asked: what keeps it from cranking in gear: a neutral switch, a clutch switch or both" in solenoid
    assert "asked: stand: " in solenoid
    assert "asked: engine_stop: " in coil
    assert "asked: switched_by: " in coil
