"""What a bike's answers say so far, in the catalogue's words: which parts it has, and what usually goes with them."""

from collections.abc import Iterator

from portloom.base.lamps import LAMPS
from portloom.base.letters import quoted
from portloom.base.nearest import nearest, or_list
from portloom.base.parts import loads
from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.parts.words import part_words
from portloom.base.values import dataclass
from portloom.inputs.starting.answers import Answers, rows, several
from portloom.inputs.starting.frames import FRAMES, SINGLE, FrameToStartFrom, Stretch
from portloom.inputs.starting.kinds import NotRight, amount
from portloom.inputs.tree import CURRENT, POWER

INDICATORS = "indicators"
"""All four, as builders say it."""
OWN, POINTS, BOX, CONTROLLER = "own", "coil and points", "coil and box", "coil and controller"
BOX_ALONE = "box"
"""What makes the spark."""
SPARKS: dict[str, tuple[LoadPart, ...]] = {
    POINTS: (loads.IGNITION_COIL,),
    BOX: (loads.IGNITION_COIL, loads.IGNITION_BOX),
    BOX_ALONE: (loads.IGNITION_BOX,),
    CONTROLLER: (loads.IGNITION_COIL, loads.ENGINE_CONTROLLER),
}
SWITCHED_BY = {POINTS: "points", BOX: loads.IGNITION_BOX.name, CONTROLLER: loads.ENGINE_CONTROLLER.name}


@dataclass(frozen=True)
class LoadAsked:
    """A load of the bike: its own name, what it is, and the row of its figure."""

    name: str
    part: LoadPart
    row: str


def frame_of(answers: Answers) -> FrameToStartFrom:
    """Return the frame, the plainest where none is said yet, with the points that the builder adds."""
    frame = FRAMES.get(answers.get("frame", ""), SINGLE)
    return frame.with_legs(added_leg(name, said) for name, said in rows(answers, MORE_POINTS).items())


MORE_POINTS = "points"
FROM, MOVES = " from ", ", moves"


def added_leg(name: str, said: str) -> Stretch:
    """Return the leg to a point that is added, as it is kept: '300 mm from tail', '300 mm from tail, moves'."""
    length, _, there = said.partition(FROM)
    return Stretch((there.removesuffix(MOVES), name), length, moves=there.endswith(MOVES), said=True)


def example_of(part: LoadPart | SwitchPart) -> dict[str, str]:
    """Return what stands beside a part in a file, by way of example: its keys and what they say."""
    pairs = (pair.partition(": ") for pair in part.line.split(", "))
    return {key: said for key, _, said in pairs}


def lamps_of(answers: Answers) -> Iterator[LoadAsked]:
    """Return the lamps that are on the bike."""
    for name in several(answers, "lamps"):
        if name != INDICATORS:
            yield LoadAsked(name, LOAD_PART[name], name)
            continue
        for part, side in ((loads.LEFT_INDICATOR, "left"), (loads.RIGHT_INDICATOR, "right")):
            yield from (LoadAsked(f"{end} {side} indicator", part, f"{end} indicators") for end in ("front", "rear"))


def others_of(answers: Answers) -> Iterator[LoadAsked]:
    """Return the loads that are no lamps: the engine's, and the extras."""
    parts = list(SPARKS.get(answers.get("spark", ""), ()))
    fuel = {"pump": loads.FUEL_PUMP, "tap": loads.FUEL_TAP_SOLENOID}
    parts += [fuel[answers["fuel"]]] if answers.get("fuel") in fuel else []
    parts += [loads.STARTER_SOLENOID] if cranks(answers) else []
    parts += [LOAD_PART[name] for name in several(answers, "extras")]
    yield from (LoadAsked(part.name, part, part.name) for part in parts)


def has_lamp(answers: Answers, *names: str) -> bool:
    """Tell whether any of these lamps is on the bike."""
    return any(name in several(answers, "lamps") for name in names)


def has_extra(answers: Answers, *names: str) -> bool:
    """Tell whether any of these extras is on the bike."""
    return any(name in several(answers, "extras") for name in names)


def cranks(answers: Answers) -> bool:
    """Tell whether it has an electric starter."""
    return answers.get("starter") == "button"


def has_controller(answers: Answers) -> bool:
    """Tell whether it has an engine controller."""
    return answers.get("spark") == CONTROLLER


def runs_by_unit(answers: Answers) -> bool:
    """Tell whether the unit keeps the engine running, as far as that is said."""
    return answers.get("spark") != OWN or answers.get("fuel") == "pump"


def needs_speed(answers: Answers) -> bool:
    """Tell whether a load runs while the engine turns, so that the unit must know that it does."""
    pump = answers.get("fuel") == "pump" and answers.get("pump by") != "controller"
    return pump or answers.get("fuel") == "tap"


LED_INDICATOR = "2 W led"
"""What rebuilt bikes mostly have. Common practice, no source."""


def usual_figure(load: LoadAsked) -> str:
    """Return what a load usually draws: a lamp's word, '8 W led', '4 A'."""
    if load.part.name in loads.SIDES:
        return LED_INDICATOR
    example = example_of(load.part)
    if "power" not in example:
        return example.get("lamp") or example["current"]
    if load.part.is_lamp or load.part.kind in LAMP_KINDS:
        return f"{example['power']} {load.part.kind or example['kind']}"
    return example["power"]


def lamp_figure(part: LoadPart, said: str) -> str:
    """Return a lamp as it is kept: a word of the regulation with its filament, or watts with what it is."""
    word = next((lamp for lamp in LAMPS if lamp.casefold() in (said.casefold(), *_with_filament(part, said))), None)
    if word is not None:
        _check_filament(part, word)
        return word
    if said[:1].isdigit():
        return _watts(said)
    near = nearest(said, LAMPS)
    right = f"'{near}'" if near else "such as H4, W5W"
    raise NotRight(f"'{quoted(said)}' is no lamp that is known; write {right} or '5 W led'")


def _watts(said: str) -> str:
    watts, _, kind = said.rpartition(" ")
    if kind.casefold() in LAMP_KINDS:
        return f"{amount(watts, POWER, '0.1 W', '120 W')} {kind.casefold()}"
    right = amount(said, POWER, "0.1 W", "120 W")
    raise NotRight(f"{right} of what? write {or_list(f'{right} {kind}' for kind in LAMP_KINDS)}")


LAMP_KINDS = ("led", "filament", "discharge")


def _with_filament(part: LoadPart, said: str) -> list[str]:
    return [f"{said} {filament}".casefold() for filament in part.filaments]


def _check_filament(part: LoadPart, word: str) -> None:
    bulb, blank, filament = word.rpartition(" ")
    if blank and part.filaments and filament not in part.filaments:
        raise NotRight(f"'{word}' is the other filament; write '{bulb} {part.filaments[0]}'")


def load_figure(said: str) -> str:
    """Return what any other load draws: amperes, or watts."""
    if said.rstrip().endswith(("W", "w")):
        return amount(said, POWER, "0.1 W", "400 W")
    return amount(said, CURRENT, "5 mA", "40 A")


def figure(answers: Answers, load: LoadAsked) -> tuple[dict[str, str], bool]:
    """Return the keys of a load's figure, and whether the builder said it."""
    said = (rows(answers, "bulbs") | rows(answers, "draws")).get(load.row)
    return figure_keys(load.part, usual_figure(load) if said is None else said), said is not None


def figure_keys(part: LoadPart | None, said: str) -> dict[str, str]:
    """Return the keys of what a load draws, as it is kept: '8 W led', 'W5W', '4 A'."""
    if said in LAMPS:
        return {"lamp": said}
    watts, _, kind = said.rpartition(" ")
    if watts.endswith("W"):
        return {"power": watts} | ({} if part is not None and part.kind == kind else {"kind": kind})
    return {"power" if said.endswith("W") else "current": said}


def meant(said: str) -> str | None:
    """Return the part that other words mean; raise NotRight where they mean several."""
    found = part_words(said)
    if found is None:
        return None
    if found.sort == "asked":
        choices = [INDICATORS if name in loads.SIDES else name for name in found.choices]
        if set(choices) == {INDICATORS}:
            return INDICATORS
        raise NotRight(f"'{quoted(said)}' may be {or_list(dict.fromkeys(choices))}; write which")
    if found.sort in ("refused", "falls away"):
        raise NotRight(f"'{quoted(said)}' is not asked for: {found.why}")
    return INDICATORS if found.name in loads.SIDES else found.name
