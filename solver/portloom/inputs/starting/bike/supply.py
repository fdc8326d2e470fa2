"""What is asked of a bike's name, frame, supply and of the wire that there is."""

from collections.abc import Iterator

from portloom.base.parts.others import ALTERNATOR
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.answers import Answers, as_list, rows, several
from portloom.inputs.starting.bike.entries import MEASURE, point_of
from portloom.inputs.starting.bike.known import frame_of
from portloom.inputs.starting.frames import BATTERY, FRAMES, Stretch
from portloom.inputs.starting.kinds import Amount, Cell, Choice, Name, OneOf, Sizes, SomeOf, Table, amount
from portloom.inputs.starting.lines import ITEM, Line
from portloom.inputs.starting.question import Question, Questions
from portloom.inputs.tree import CHARGE, CURRENT, LENGTH, POWER, VOLTAGE

UNKNOWN = "not known"


def _lengths(answers: Answers) -> Table:
    def read(said: str) -> str:
        return amount(said, LENGTH, "20 mm", "5 m")

    return Table({leg.label: Cell(leg.usual, read) for leg in frame_of(answers).legs}, "headstock - seat tray: 640 mm")


def _frame_lines(answers: Answers) -> Iterator[Line]:
    frame, said = frame_of(answers), rows(answers, "lengths")
    for leg in frame.legs:
        length = said.get(leg.label)
        yield Line(("frame", "legs", ITEM), _leg(leg, length or leg.usual), "" if length else MEASURE)
    yield Line(("frame", "connectors"), list(frame.connectors), "where the loom can be parted")


def _leg(leg: Stretch, length: str) -> dict[str, Plain]:
    moves: dict[str, Plain] = {"moves": "true"} if leg.moves else {}
    heat: dict[str, Plain] = {"ambient": leg.ambient} if leg.ambient else {}
    return {"between": list(leg.ends), "length": length, **moves, **heat}


def _earth(answers: Answers) -> SomeOf:
    return SomeOf(tuple(map(Choice, frame_of(answers).fixed)), least=1)


def _spots(answers: Answers) -> SomeOf:
    return SomeOf(tuple(Choice(spot.name) for spot in frame_of(answers).spots), least=1)


def _spot_lines(answers: Answers) -> Iterator[Line]:
    for spot in frame_of(answers).spots:
        if spot.name in several(answers, "unit sits"):
            turns: dict[str, Plain] = {"way_round": "either"} if spot.turns else {}
            yield Line(("places", ITEM), {"name": spot.name, "front": spot.front, "rear": spot.rear, **turns})


def _known_power(said: str) -> str:
    return said if said == UNKNOWN else amount(said, POWER, "10 W", "2 kW")


def _known_fuse(said: str) -> str:
    return said if said == UNKNOWN else amount(said, CURRENT, "5 A", "150 A")


GIVES = Table(
    {
        "at idle": Cell(UNKNOWN, _known_power),
        "at cruising speed": Cell(UNKNOWN, _known_power),
        "fuse of its lead": Cell(UNKNOWN, _known_fuse),
    },
    "at idle: 110 W",
)
CHARGING = {"at idle": "idle", "at cruising speed": "cruise", "fuse of its lead": "fuse"}


def _battery_lines(answers: Answers) -> Iterator[Line]:
    battery: dict[str, Plain] = {"capacity": answers["battery"], "at": point_of(answers, BATTERY, BATTERY)}
    yield Line(("supply", "battery"), battery)


def _alternator_lines(answers: Answers) -> Iterator[Line]:
    known = {CHARGING[row]: said for row, said in rows(answers, ALTERNATOR.name).items() if said != UNKNOWN}
    if known:
        yield Line(("supply", "charging"), known)


OF_FRAME: Questions = (
    Question(
        "name", "bike", "What is the bike called?", lambda _: Name(), usual=lambda _: "My bike",
        writes=lambda a: [Line(("bike",), a["name"])],
    ),
    Question(
        "frame", "frame", "Which of these frames is the nearest to it?",
        lambda _: OneOf(tuple(Choice(frame.name, frame.says) for frame in FRAMES.values())),
        "Its points and lengths are a start; more are added in the file.", asked=True, writes=_frame_lines,
    ),
    Question(
        "lengths", "frame", "How far is it from point to point, along the way that the loom takes?", _lengths,
        "Say what you have measured; the others are marked 'measure' in the file.", lambda _: "",
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
OF_SUPPLY: Questions = (
    Question(
        "battery", "supply", "What does the battery hold? It stands on it.", lambda _: Amount(CHARGE, "1 Ah", "80 Ah"),
        usual=lambda a: frame_of(a).battery, writes=_battery_lines,
    ),
    Question(
        "running", "supply", "What does a meter read across the battery, the engine at a fast idle?",
        lambda _: Amount(VOLTAGE, "12.8 V", "15 V"), usual=lambda _: "14.0 V",
        writes=lambda a: [Line(("supply", "running"), a["running"])],
    ),
    Question(
        ALTERNATOR.name, "supply", "What does the alternator give? Leave what you do not know.", lambda _: GIVES,
        "Without it nobody can tell whether the battery is charged in town.", lambda _: "", writes=_alternator_lines,
    ),
    Question(
        "wire", "shop", "Which sizes of wire are in the shop?", lambda _: Sizes(),
        "Such as 1 mm2, 2.5 mm2 or 16 AWG; all of them, with commas.",
        lambda _: as_list(("0.5 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2")),
        writes=lambda a: [Line(("reels",), list(several(a, "wire")))],
    ),
)  # fmt: skip
