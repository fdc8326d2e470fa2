"""The questions of a unit in their order, and the file that their answers make."""

from collections.abc import Callable, Iterator, Mapping

from portloom.base.fuse_steps import FuseRating
from portloom.base.quantities import StandbyCurrent
from portloom.inputs.starting.answers import NONE, Answers, several
from portloom.inputs.starting.commented import for_editors
from portloom.inputs.starting.kinds import Amount, Cell, Kind, Name, Or, Words
from portloom.inputs.starting.lines import Line, file_of
from portloom.inputs.starting.ports import Groups, of_each, span, value_at
from portloom.inputs.starting.question import Question, Questions, lines_of
from portloom.inputs.starting.unit import words
from portloom.inputs.starting.unit.lines import (
    FEED,
    bank_lines,
    counting_pulses,
    feed_lines,
    input_lines,
    inputs_of,
    output_lines,
    outputs_of,
)
from portloom.inputs.starting.unit.words import NOT_TOLD
from portloom.inputs.tree import CURRENT, VOLTAGE, measure_of

ORDER = ("unit", "own_modes", "feed", "banks", "outputs", "inputs")
HEAD = "# Made by 'portloom new unit' from its sheet. Every key that there is: portloom keys unit\n"
FUSE, ASLEEP = measure_of(FuseRating), measure_of(StandbyCurrent)
Ports = Callable[[Answers], tuple[str, ...]]


def _groups(cell: Cell, example: str, ports: Ports = outputs_of) -> Callable[[Answers], Kind]:
    return lambda answers: Groups(cell, example, ports(answers))


def _modes(answers: Answers) -> Kind:
    return Groups(words.modes(several(answers, "own modes")), "out 1 to out 4: steady, hold", outputs_of(answers))


def _taken(*names: str) -> Callable[[Mapping[str, str]], str]:
    """Return what says which port has a name that another terminal has."""

    def wrong(said: Mapping[str, str]) -> str:
        twice = [port for port in said if port.casefold() in {name.casefold() for name in names}]
        return f"'{twice[0]}' is another terminal's name; write another one" if twice else ""

    return wrong


def _inputs(answers: Answers) -> Kind:
    return Groups(words.SIGNALS, "in 1 to in 8: earth, supply", (), _taken(FEED, *outputs_of(answers)), defines=True)


def _peaks(answers: Answers) -> Kind:
    limits = of_each(answers.get("outputs", ""))
    example = "out 1, out 2: 90 A for 100 ms"
    return Groups(words.PEAK, example, tuple(limits), lambda said: words.peaks_too_low(limits, said))


def _trips(answers: Answers) -> Kind:
    limits = of_each(answers.get("outputs", ""))
    return Groups(words.TRIPS, "all: 2 A, 5 A, 8 A", tuple(limits), lambda said: words.trips_too_high(limits, said))


def _banks(answers: Answers) -> Kind:
    return Groups(words.BANK, "out 1 to out 4: A, 22 A", outputs_of(answers), words.banks_at_odds)


def _follows(answers: Answers) -> Kind:
    return Groups(words.following(inputs_of(answers)), "out 14: in 2", outputs_of(answers))


OF_UNIT: Questions = (
    Question(
        "name", "unit", "What is the unit called?", lambda _: Name(), usual=lambda _: "new unit",
        writes=lambda a: [Line(("unit",), a["name"])],
    ),
    Question(
        "feed limit", "feed", "How much can the unit carry in all, for hours?",
        lambda _: Amount(CURRENT, "2 A", "300 A"), "The limit of its supply terminal, not the sum of its outputs.",
        asked=True, writes=feed_lines,
    ),
    Question(
        "largest main fuse", "feed", "Which main fuse may stand before it at most?",
        lambda _: Or(Amount(FUSE, "1 A", "80 A"), NOT_TOLD), usual=lambda _: NOT_TOLD,
    ),
    Question(
        "lowest supply", "feed", "Down to which voltage does it work?",
        lambda _: Or(Amount(VOLTAGE, "3 V", "12 V"), NOT_TOLD), usual=lambda _: NOT_TOLD,
    ),
    Question(
        "current asleep", "feed", "What does it draw with the key off?",
        lambda _: Or(Amount(ASLEEP, "0 mA", "100 mA"), NOT_TOLD), usual=lambda _: NOT_TOLD,
    ),
    Question(
        "current awake", "feed", "What does it draw with the key on, and nothing else?",
        lambda _: Or(Amount(ASLEEP, "0 mA", "2 A"), NOT_TOLD), usual=lambda _: NOT_TOLD,
    ),
    Question(
        "outputs", "outputs", "Which outputs has it, and what does each carry for hours?",
        lambda _: Groups(words.LIMIT, "out 1 to out 4: 15 A", (), _taken(FEED), defines=True),
        "Group by group; several on a line with ';' between.",
        asked=True, writes=output_lines,
    ),
    Question(
        "own modes", "outputs", "Has it switch modes of its maker's own?", lambda _: Words(),
        "Beside steady, hold, toggle, flash, engine-run, start, timed.", lambda _: NONE,
        writes=lambda a: [Line(("own_modes",), list(several(a, "own modes")))] if several(a, "own modes") else [],
    ),
    Question(
        "modes", "outputs", "How can each output be driven?", _modes,
        "steady, hold, toggle, flash, engine-run, start, timed: see 'portloom help modes'.", asked=True,
    ),
    Question("dims", "outputs", "Which outputs can dim (PWM)?", _groups(words.DIMS, "out 9, out 10: yes"),
             usual=lambda _: ""),
    Question("peaks", "outputs", "What does each output pass for a moment, and how long?", _peaks, usual=lambda _: ""),
    Question("trips", "outputs", "To what can each output's electronic fuse be set?", _trips, usual=lambda _: ""),
    Question(
        "coils and motors", "outputs", "Which outputs may switch coils, motors and horns?",
        _groups(words.INDUCTIVE, "out 1 to out 4: yes"), "With no suppressor at the load.", lambda _: "",
    ),
    Question("key off", "outputs", "Which outputs can be live with the key off: never, timed, always?",
             _groups(words.KEY_OFF, "out 5, out 6: timed"), usual=lambda _: ""),
    Question("banks", "outputs", "Which outputs share a limit? Name the bank, and what it carries.", _banks,
             usual=lambda _: "", writes=bank_lines),
    Question(
        "inputs", "inputs", "Which inputs has it, and which signals does each read?",
        _inputs,
        "earth: a switch to earth; supply: one to plus; pulse; sender; coded.", asked=True, writes=input_lines,
    ),
    Question(
        "pulses", "inputs", "Which pulses do those take: the highest voltage, and the highest rate?",
        _groups(words.PULSES, "in 8: 30 V, 1 kHz", counting_pulses), usual=lambda _: "",
        when=lambda a: bool(counting_pulses(a)),
    ),
    Question(
        "follows", "inputs", "Does an output always follow one input's switch, by fixed logic?", _follows,
        usual=lambda _: "",
    ),
    Question("faces", "terminals", "On which face is each terminal: front, or rear?",
             _groups(words.FACE, "feed: rear", lambda a: (FEED, *outputs_of(a), *inputs_of(a))), usual=lambda _: ""),
    Question("thickest wires", "terminals", "What is the thickest wire that each terminal takes?",
             _groups(words.WIRE, "feed: 10 mm2", lambda a: (FEED, *outputs_of(a))), usual=lambda _: ""),
)  # fmt: skip
"""All that is asked of a unit's sheet, in this order: each hangs on answers before it alone."""
UNTOLD_OF_FEED = {
    "largest main fuse": "the largest main fuse (till then the next one below the feed's limit)",
    "lowest supply": "the lowest supply", "current asleep": "the current asleep", "current awake": "the current awake",
}  # fmt: skip
UNTOLD_OF_PORTS = {
    "peaks": "the peak of {} (till then the limit: cold lamps may not fit)", "trips": "the trips of {}",
    "coils and motors": "whether {} may switch coils and motors", "thickest wires": "the thickest wire of {}",
}  # fmt: skip


def unit_file(answers: Answers) -> str:
    """Return the unit's file that complete answers make."""
    untold = "".join(f"#   {what}\n" for what in not_told(answers))
    head = f"# Not told by its sheet, so ask its maker for:\n{untold}" if untold else ""
    return f"{for_editors('unit')}{HEAD}{head}{file_of(lines_of(OF_UNIT, answers), ORDER)}"


def not_told(answers: Answers) -> Iterator[str]:
    """Return what the sheet left open, to be asked of the maker."""
    yield from (what for key, what in UNTOLD_OF_FEED.items() if answers[key] == NOT_TOLD)
    for key, what in UNTOLD_OF_PORTS.items():
        ports = (FEED, *outputs_of(answers)) if key == "thickest wires" else outputs_of(answers)
        left = [port for port in ports if value_at(answers[key], port, NOT_TOLD) == NOT_TOLD]
        if left:
            yield what.format(span(left))
