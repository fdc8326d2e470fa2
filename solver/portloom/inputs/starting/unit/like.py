"""A unit that another one is like: what its file says, as answers to what is asked of the new one."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from portloom.inputs.expanding import expand
from portloom.inputs.parsing import parse
from portloom.inputs.starting.answers import NONE, Answers
from portloom.inputs.starting.ports import grouped
from portloom.inputs.starting.question import Question, Questions
from portloom.inputs.starting.unit.lines import FEED
from portloom.inputs.starting.unit.words import NO_BANK, NO_INPUT, NOT_TOLD
from portloom.inputs.tree import plain

Said = Mapping[str, object]
ASKED_FOR = {
    "unit": ("unit", "feed", "banks", "outputs", "inputs", "own_modes", "price", "size"),
    "feed": ("limit", "fuse_max", "wire_max", "standby", "awake", "lowest", "face"),
    "outputs": (
        "name", "limit", "peak", "peak_for", "trip", "pwm", "switch_modes", "face", "wire_max", "bank", "inductive",
        "key_off", "follow",
    ),
    "inputs": ("name", "accepts", "face", "pulse"),
}  # fmt: skip
"""Keys that questions ask for, or that are the other unit's alone."""


class Like:
    """What the file of a unit says, word for word."""

    def __init__(self, text: str, name: str) -> None:
        """Take the text of a unit's file without mistakes; raise BadFile where it can't be parsed."""
        said = plain(expand(parse(text, name, "unit").root)[0])
        self._unit: Said = said if isinstance(said, Mapping) else {}
        self._feed = _keys_of(self._unit.get("feed"))
        self._outputs, self._inputs = (_by_name(self._unit.get(which)) for which in ("outputs", "inputs"))

    @property
    def name(self) -> str:
        """What it is called."""
        return str(self._unit["unit"])

    @property
    def answers(self) -> Answers:
        """What it would be answered for this unit."""
        outputs, both = self._outputs, {FEED: self._feed, **self._outputs}
        banks = _keys_of(self._unit.get("banks"))
        return {
            "name": f"new {self.name}",
            "feed limit": str(self._feed["limit"]),
            "largest main fuse": str(self._feed.get("fuse_max", NOT_TOLD)),
            "lowest supply": str(self._feed.get("lowest", NOT_TOLD)),
            "current asleep": str(self._feed.get("standby", NOT_TOLD)),
            "current awake": str(self._feed.get("awake", NOT_TOLD)),
            "outputs": _said_of(outputs, lambda port: str(port["limit"])),
            "own modes": _words(self._unit.get("own_modes"), NONE),
            "modes": _said_of(outputs, lambda port: _words(port.get("switch_modes"), "steady")),
            "dims": _said_of(outputs, lambda port: "yes" if port.get("pwm") == "true" else "no"),
            "peaks": _said_of(outputs, _peak),
            "trips": _said_of(outputs, lambda port: _words(port.get("trip"), NOT_TOLD)),
            "coils and motors": _said_of(outputs, _inductive),
            "key off": _said_of(outputs, lambda port: str(port.get("key_off", "never"))),
            "banks": _said_of(outputs, lambda port: _bank(port, banks)),
            "inputs": _said_of(self._inputs, lambda port: _words(port.get("accepts"), "earth")),
            "pulses": _said_of(self._inputs, _pulses),
            "follows": _said_of(outputs, lambda port: str(port.get("follow", NO_INPUT))),
            "faces": _said_of({**both, **self._inputs}, lambda port: str(port.get("face", "front"))),
            "thickest wires": _said_of(both, lambda port: str(port.get("wire_max", NOT_TOLD))),
        }

    def not_taken_over(self) -> tuple[str, ...]:
        """Return the keys of its file that no question asks for."""
        found = [key for key in self._unit if key not in ASKED_FOR["unit"]]
        found += [key for key in self._feed if key not in ASKED_FOR["feed"]]
        for which, ports in (("outputs", self._outputs), ("inputs", self._inputs)):
            found += [key for port in ports.values() for key in port if key not in ASKED_FOR[which]]
        return tuple(dict.fromkeys(found))


def usual_as(table: Questions, answers: Answers) -> Questions:
    """Return questions for which these answers are usual; who names them has said what else must be asked."""
    return tuple(_usual_as(question, answers[question.key]) for question in table)


def _usual_as(question: Question, said: str) -> Question:
    return replace(question, usual=lambda answers: question.kind(answers).still(said), asked=False)


def _keys_of(said: object) -> Said:
    return said if isinstance(said, Mapping) else {}


def _by_name(ports: object) -> dict[str, Said]:
    entries = ports if isinstance(ports, Sequence) and not isinstance(ports, str) else ()
    return {str(entry["name"]): entry for entry in entries if isinstance(entry, Mapping)}


def _said_of(ports: Mapping[str, Said], what: Callable[[Said], str]) -> str:
    return grouped({name: what(port) for name, port in ports.items()})


def _words(said: object, usual: str) -> str:
    if isinstance(said, str):
        return said
    return ", ".join(map(str, said)) if isinstance(said, Sequence) else usual


def _peak(port: Said) -> str:
    if "peak" not in port:
        return NOT_TOLD
    return f"{port['peak']} for {port['peak_for']}" if "peak_for" in port else str(port["peak"])


def _inductive(port: Said) -> str:
    return {"true": "yes", "false": "no"}.get(str(port.get("inductive")), NOT_TOLD)


def _bank(port: Said, banks: Said) -> str:
    return f"{port['bank']}, {banks[str(port['bank'])]}" if "bank" in port else NO_BANK


def _pulses(port: Said) -> str:
    pulse = _keys_of(port.get("pulse"))
    return f"{pulse['up_to']}, {pulse['rate']}" if pulse else NOT_TOLD
