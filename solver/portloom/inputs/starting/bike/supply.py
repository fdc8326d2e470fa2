"""What is asked of a bike's supply, and of the wire that there is."""

from collections.abc import Iterator

from portloom.base.parts.others import ALTERNATOR
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.answers import Answers, as_list, rows, several
from portloom.inputs.starting.bike.entries import point_of
from portloom.inputs.starting.bike.known import frame_of
from portloom.inputs.starting.frames import BATTERY
from portloom.inputs.starting.kinds import Amount, Cell, Sizes, Table, amount
from portloom.inputs.starting.lines import Line
from portloom.inputs.starting.question import Question, Questions
from portloom.inputs.tree import CHARGE, CURRENT, POWER, VOLTAGE

UNKNOWN = "not known"


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
