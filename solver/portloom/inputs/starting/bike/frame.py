"""What is asked of a bike's name and frame: its points, how far they are apart, and what the loom must pass."""

from collections.abc import Iterator, Sequence
from functools import partial

from portloom.base.letters import quoted
from portloom.base.nearest import nearest, or_list
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.added import Added, own_name
from portloom.inputs.starting.answers import NONE, Answers, as_list, rows, several
from portloom.inputs.starting.bike.entries import MEASURE, SUPPLIED
from portloom.inputs.starting.bike.known import FROM, MORE_POINTS, MOVES, frame_of
from portloom.inputs.starting.frames import FRAMES, Stretch
from portloom.inputs.starting.kinds import Cell, Choice, Kind, Name, NotRight, OneOf, SomeOf, Table, amount
from portloom.inputs.starting.lines import ITEM, Line
from portloom.inputs.starting.question import Question, Questions
from portloom.inputs.tree import LENGTH

MORE, OPENINGS, LATER, ALONGSIDE = "more", "openings", "later", "alongside"
SHORTEST, LONGEST = "20 mm", "5 m"
NARROWEST, WIDEST = "5 mm", "200 mm"
"""Of a leg, and of an opening: what is beyond these is a slip of the pen."""
POINT_EXAMPLE = "tool roll: 300 mm from tail"


def chosen_point(points: Sequence[str], said: str) -> str:
    """Return the point of the frame that is meant; raise NotRight where there is none."""
    found = next((point for point in points if point.casefold() == said.strip().casefold()), None)
    if found is None:
        near = nearest(said, points)
        right = f"'{near}'" if near else or_list(points)
        raise NotRight(f"the frame has no point '{quoted(said.strip())}'; write {right}")
    return found


def _lengths(answers: Answers) -> Table:
    def read(said: str) -> str:
        return amount(said, LENGTH, SHORTEST, LONGEST)

    legs = (leg for leg in frame_of(answers).legs if not leg.said)
    return Table({leg.label: Cell(leg.usual, read) for leg in legs}, "headstock - seat tray: 640 mm")


def _points(answers: Answers) -> Kind:
    there = frame_of({key: said for key, said in answers.items() if key != MORE_POINTS}).points
    return Added(partial(own_name, taken=there), partial(_point, there), POINT_EXAMPLE, there)


def _point(points: Sequence[str], name: str, said: str, before: Sequence[str]) -> str:  # noqa: ARG001 - as every row
    """Return how far a point is from another one: '300 mm from tail', and whether it moves."""
    text, moves = (said[: -len(MOVES)], MOVES) if said.casefold().endswith(MOVES) else (said, "")
    length, word, point = text.partition(FROM)
    if not word:
        raise NotRight(f"'{quoted(said)}' does not say how far it is from which point; write '{POINT_EXAMPLE}'")
    there = chosen_point([*points, *before], point)
    return f"{amount(length, LENGTH, SHORTEST, LONGEST)}{FROM}{there}{moves}"


def _openings(answers: Answers) -> Table:
    def read(said: str) -> str:
        return NONE if said.casefold() == NONE else amount(said, LENGTH, NARROWEST, WIDEST)

    legs = frame_of(answers).legs
    return Table({leg.label: Cell(NONE, read) for leg in legs}, f"{legs[0].label}: 22 mm")


def _frame_lines(answers: Answers) -> Iterator[Line]:
    frame, said, openings = frame_of(answers), rows(answers, "lengths"), rows(answers, OPENINGS)
    for leg in frame.legs:
        length, opening = said.get(leg.label), openings.get(leg.label, NONE)
        comment = "" if length or leg.said else MEASURE
        yield Line(("frame", "legs", ITEM), _leg(leg, length or leg.usual, opening), comment)
    yield Line(("frame", "connectors"), list(frame.connectors), "where the loom can be parted")


def _leg(leg: Stretch, length: str, opening: str) -> dict[str, Plain]:
    passes: dict[str, Plain] = {} if opening == NONE else {"opening": opening}
    moves: dict[str, Plain] = {"moves": "true"} if leg.moves else {}
    heat: dict[str, Plain] = {"ambient": leg.ambient} if leg.ambient else {}
    return {"between": list(leg.ends), "length": length, **passes, **moves, **heat}


def _earth(answers: Answers) -> SomeOf:
    return SomeOf(tuple(map(Choice, frame_of(answers).fixed)), least=1)


def _spots(answers: Answers) -> SomeOf:
    return SomeOf(tuple(Choice(spot.name) for spot in frame_of(answers).spots), least=1)


def _spot_lines(answers: Answers) -> Iterator[Line]:
    for spot in frame_of(answers).spots:
        if spot.name in several(answers, "unit sits"):
            turns: dict[str, Plain] = {"way_round": "either"} if spot.turns else {}
            yield Line(("places", ITEM), {"name": spot.name, "front": spot.front, "rear": spot.rear, **turns})


OF_FRAME: Questions = (
    Question(
        "name", "bike", "What is the bike called?", lambda _: Name(), usual=lambda _: "My bike",
        writes=lambda a: [Line(("bike",), a["name"])],
    ),
    Question(
        "frame", "frame", "Which of these frames is the nearest to it?",
        lambda _: OneOf(tuple(Choice(frame.name, frame.says) for frame in FRAMES.values())),
        "Its points and lengths are a start; what differs is asked next.", asked=True, writes=_frame_lines,
    ),
    Question(
        "lengths", "frame", "How far is it from point to point, along the way that the loom takes?", _lengths,
        "Say what you have measured; the others are marked 'measure' in the file.", lambda _: "",
    ),
    Question(
        MORE, "frame", "Is there any of this on it, too? What you name is asked about.",
        lambda _: SomeOf((
            Choice(MORE_POINTS, "points of the frame that are not among those above"),
            Choice(OPENINGS, "tubes, holes or grommets that the loom must pass"),
            Choice(ALONGSIDE, "wires, hoses, cables in the loom that never touch the unit"),
            Choice(LATER, "what may be added one day; else grips, lamps, a socket"),
            Choice(SUPPLIED, "switches that put battery plus on their wire"),
        )),
        usual=lambda _: NONE,
    ),
    Question(
        MORE_POINTS, "frame", "Which points are there besides, and how far from which?", _points,
        "One that moves with fork or swing arm: '300 mm from tail, moves'.", lambda _: "", gate=MORE,
    ),
    Question(
        OPENINGS, "frame", "How wide, clear, is each hole, tube or grommet that the loom passes?", _openings,
        "The narrowest between two points counts; 'none' where nothing is in the way.", lambda _: "", gate=MORE,
    ),
    Question(
        "earth points", "frame", "At which points can a return be bolted to bare metal?", _earth,
        "Frame or engine, scraped bare; more of them mean shorter wires.", lambda a: as_list(frame_of(a).earth),
        writes=lambda a: [Line(("frame", "earth"), list(several(a, "earth points")), "bare metal, where returns end")],
    ),
    Question(
        "unit sits", "frame", "Where may the unit be fixed?", _spots,
        "Every place that would do: the plan takes the best.", lambda a: frame_of(a).spots[0].name, writes=_spot_lines,
    ),
)  # fmt: skip
