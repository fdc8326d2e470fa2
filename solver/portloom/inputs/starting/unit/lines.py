"""The lines of a unit's file: its feed, its banks, its outputs and inputs by groups that are alike."""

from collections.abc import Iterator, Mapping

from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.answers import Answers, listed
from portloom.inputs.starting.lines import ITEM, Line
from portloom.inputs.starting.ports import of_each, value_at
from portloom.inputs.starting.unit import words
from portloom.inputs.starting.unit.words import NO_BANK, NO_INPUT, NOT_TOLD

FEED = "feed"
"""The supply terminal, among the ports that have a face and a terminal."""
OF_FEED = {
    "fuse_max": "largest main fuse", "lowest": "lowest supply", "standby": "current asleep", "awake": "current awake",
}  # fmt: skip
"""Keys of the feed that the sheet may not tell, and the questions for them."""


def outputs_of(answers: Answers) -> tuple[str, ...]:
    """Return the outputs that are named by now."""
    return tuple(of_each(answers.get("outputs", "")))


def inputs_of(answers: Answers) -> tuple[str, ...]:
    """Return the inputs that are named by now."""
    return tuple(of_each(answers.get("inputs", "")))


def counting_pulses(answers: Answers) -> tuple[str, ...]:
    """Return the inputs that read pulses."""
    return tuple(port for port, said in of_each(answers.get("inputs", "")).items() if "pulse" in listed(said))


def feed_lines(answers: Answers) -> Iterator[Line]:
    """Return the line of the feed."""
    known = {key: answers[question] for key, question in OF_FEED.items() if answers[question] != NOT_TOLD}
    yield Line((FEED,), {"limit": answers["feed limit"], **known, **_terminal(answers, FEED)})


def _terminal(answers: Answers, port: str) -> dict[str, Plain]:
    """Return the face of a terminal, and the thickest wire that it takes."""
    wire = value_at(answers["thickest wires"], port, NOT_TOLD) if port not in inputs_of(answers) else NOT_TOLD
    face = value_at(answers["faces"], port, words.FACE.usual)
    thickest: dict[str, Plain] = {} if wire == NOT_TOLD else {"wire_max": wire}
    return {"face": face, **thickest}


def bank_lines(answers: Answers) -> Iterator[Line]:
    """Return the line of the banks, if there are any."""
    banks = dict(said.split(", ", 1) for said in of_each(answers["banks"]).values() if said != NO_BANK)
    if banks:
        yield Line(("banks",), banks)


def output_lines(answers: Answers) -> Iterator[Line]:
    """Return the lines of the outputs."""
    return _alike("outputs", {port: _output(answers, port) for port in outputs_of(answers)})


def _output(answers: Answers, port: str) -> dict[str, Plain]:
    """Return the keys of one output."""

    def said(question: str, usual: str) -> str:
        return value_at(answers[question], port, usual)

    peak, _, peak_for = said("peaks", NOT_TOLD).partition(" for ")
    bank, _, _ = said("banks", NO_BANK).partition(", ")
    inductive = {"yes": "true", "no": "false"}.get(said("coils and motors", NOT_TOLD), NOT_TOLD)
    trips = said("trips", NOT_TOLD)
    told: dict[str, Plain] = {
        "limit": said("outputs", ""), "peak": peak, "peak_for": peak_for or NOT_TOLD,
        "trip": NOT_TOLD if trips == NOT_TOLD else list(listed(trips)),
        "pwm": "true" if said("dims", "no") == "yes" else NOT_TOLD,
        "switch_modes": list(listed(said("modes", ""))), **_terminal(answers, port),
        "bank": NOT_TOLD if bank == NO_BANK else bank, "inductive": inductive,
        "key_off": said("key off", words.KEY_OFF.usual),
        "follow": NOT_TOLD if said("follows", NO_INPUT) == NO_INPUT else said("follows", NO_INPUT),
    }  # fmt: skip
    return {key: value for key, value in told.items() if value != NOT_TOLD}


def input_lines(answers: Answers) -> Iterator[Line]:
    """Return the lines of the inputs."""
    return _alike("inputs", {port: _input(answers, port) for port in inputs_of(answers)})


def _input(answers: Answers, port: str) -> dict[str, Plain]:
    pulses = value_at(answers.get("pulses", ""), port, NOT_TOLD)
    up_to, _, rate = pulses.partition(", ")
    counts: dict[str, Plain] = {} if pulses == NOT_TOLD else {"pulse": {"up_to": up_to, "rate": rate}}
    return {"accepts": list(listed(value_at(answers["inputs"], port, ""))), **_terminal(answers, port), **counts}


def _alike(which: str, ports: Mapping[str, Mapping[str, Plain]]) -> Iterator[Line]:
    """Return a line for each run of ports that are alike."""
    runs: list[list[str]] = []
    for port in ports:
        if runs and ports[runs[-1][0]] == ports[port]:
            runs[-1].append(port)
        else:
            runs.append([port])
    for run in runs:
        named: dict[str, Plain] = {"names": run} if len(run) > 1 else {"name": run[0]}
        yield Line((which, ITEM), {**named, **ports[run[0]]})
