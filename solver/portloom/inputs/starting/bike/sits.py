"""What is asked of where a bike's parts sit: each at a point of its frame."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial

from portloom.inputs.starting.answers import Answers
from portloom.inputs.starting.bike.entries import usual_point
from portloom.inputs.starting.bike.frame import chosen_point
from portloom.inputs.starting.bike.known import frame_of, lamps_of, others_of
from portloom.inputs.starting.bike.more import switches_of
from portloom.inputs.starting.frames import BATTERY
from portloom.inputs.starting.kinds import Cell, NotRight, Table
from portloom.inputs.starting.question import Question, Questions


def _points(answers: Answers, usual: Mapping[str, str]) -> Table:
    """Return a table of where things sit, which takes the points of the frame."""
    points = frame_of(answers).points
    row = next((name for name in usual if name != BATTERY), BATTERY)
    read = partial(chosen_point, points)
    return Table({name: Cell(at, read) for name, at in usual.items()}, f"{row}: {points[0]}", points)


def _fixed_point(points: tuple[str, ...], fixed: tuple[str, ...], said: str) -> str:
    found = chosen_point(points, said)
    if found not in fixed:
        raise NotRight(f"'{found}' moves, and a battery does not; write such as '{fixed[-1]}' or '{BATTERY}'")
    return found


def _lamps(answers: Answers) -> Table:
    return _points(answers, {lamp.name: usual_point(answers, lamp) for lamp in lamps_of(answers)})


def _loads(answers: Answers) -> Table:
    there = {load.name: usual_point(answers, load) for load in others_of(answers)}
    table = _points(answers, {BATTERY: BATTERY} | there)
    fixed = Cell(BATTERY, partial(_fixed_point, frame_of(answers).points, frame_of(answers).fixed))
    return replace(table, cells={**table.cells, BATTERY: fixed})


def _switches(answers: Answers) -> Table:
    return _points(answers, dict(_usual_of_switches(answers)))


def _usual_of_switches(answers: Answers) -> Iterator[tuple[str, str]]:
    """Return each switch that has a line of the file by now, and where it usually sits."""
    for name, line in switches_of(answers):
        yield name, str(line["at"])


OF_SITES: Questions = (
    Question(
        "lamps sit", "places", "At which point of the frame does each lamp sit?", _lamps,
        usual=lambda _: "", when=lambda a: any(lamps_of(a)),
    ),
    Question("loads sit", "places", "Where does everything else sit?", _loads, usual=lambda _: ""),
    Question("switches sit", "places", "Where does each switch sit?", _switches, usual=lambda _: ""),
)  # fmt: skip
