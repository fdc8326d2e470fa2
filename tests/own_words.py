"""Bikes as their builders first write them, in words of the trade, with slips and gaps; and sound ones, broken.

The words are common practice, no source. ``broken`` takes a random bike whose parts are of the catalogue, and spoils
one to five things in it.
"""

import random
from collections.abc import Callable

from yaml.nodes import MappingNode, SequenceNode

from oracle.random_bikes import random_case
from small_bikes import OWN_SPARK, small_bike
from yaml_nodes import composed, drop, lists, put, said, written

BIKES = {
    "a first list": small_bike(
        ["{part: Headlight, at: headlamp shell, lamp: H4}", "{part: Rear Light, at: tail, power: 5 W}",
         "{part: Stop, at: tail, lamp: P21W}", "{part: Hooter, at: headstock, current: 4 A}",
         "{part: rad fan, at: radiator, current: 6 A}", "{part: CDI, at: engine, current: 2 A}"],
        ["{part: stop light switch, at: pedal}", "{part: killswitch, at: right handlebar}"],
    ),
    "slips in every part": small_bike(
        ["{part: diped beem, at: headlamp shell, lamp: H4 dipped}",
         "{part: HIHG BEAM, at: headlamp shell, lamp: H4 main}",
         "{part: tial light, at: tail, lamp: P21/5W tail}", "{part: brkae light, at: tail, lamp: P21/5W brake}",
         "{part: ignition coli, at: engine, current: 3 A}", "{part: strater relay, at: engine, current: 9 A}"],
        ["{part: nuetral switch, at: engine}", "{part: clucth switch, at: left handlebar}",
         "{part: front brake swich, at: right handlebar}"],
    ),
    "four blinkers": small_bike(
        ["{part: blinker, at: headstock, lamp: PY21W}", "{part: blinker, at: headstock, lamp: PY21W}",
         "{part: blinker, at: tail, lamp: PY21W}", "{part: blinker, at: tail, lamp: PY21W}",
         "{part: flasher relay, at: seat tray, current: 1 A}"],
        ["{part: blinker button, at: left handlebar}", "{part: blinker button, at: left handlebar}"], OWN_SPARK,
    ),
    "things that no unit feeds": small_bike(
        ["{part: starter, at: engine, current: 90 A}", "{part: reg/rec, at: seat tray, current: 1 A}",
         "{part: horn fuse, at: seat tray, current: 4 A}", "{part: horn relay, at: seat tray, current: 0.2 A}",
         "{part: oil light, at: headlamp shell, power: 2 W}", "{part: ABS pump, at: seat tray, current: 9 A}",
         "{part: kill switch, at: right handlebar}"],
        ["{part: horn, at: headstock, current: 4 A}", "{part: ignition pick-up, at: engine}"],
    ),
    "words of nobody": small_bike(
        ["{part: flux box, at: seat tray, power: 20 W}", "{name: radio, part: wireless, at: seat tray, current: 1 A}",
         "{part: fog light, at: tail, power: 4 W, kind: LED}"],
        ["{part: gizmo switch, at: left handlebar}"], OWN_SPARK,
    ),
    "brakes in doubt": small_bike(
        ["{part: rear lamp, at: tail, lamp: P21W}", "{part: tail lamp, at: tail, lamp: R5W}"],
        ["{part: brake switch, at: right handlebar}", "{part: brake switch, at: pedal}"], OWN_SPARK,
    ),
    "wrong modes": small_bike(
        ["{part: horn, at: headstock, current: 4 A, mode: togle}",
         "{part: left indicator, at: tail, lamp: PY21W, mode: blinky}",
         "{part: fuel pump, at: tank, current: 5 A, mode: engine run}",
         "{part: ecu, at: seat tray, current: 2 A, mode: hold}"],
        ["{part: horn button, at: left handlebar}"],
    ),
    "missing figures": small_bike(
        ["{part: starter solenoid, at: engine}", "{part: dip beam, at: headlamp shell}", "{part: fan, current: 5 A}",
         "{part: heated grips, at: left handlebar, power: 36}"], ["{part: engine stop, at: right handlebar}"],
    ),
    "keys with slips": small_bike(
        ["{part: starter solenoid, at: engine, curent: 9 A}", "{part: horn, at: headstock, amps: 4}",
         "{part: coil, at: engine, current: 3 A, swiched_by: points}",
         "{part: brake lamp, at: tail, lamp: P21W, mod: flash}"],
        ["{part: side stand switch, at: side stand, maid: up}"], "enginestop: key", "stand: center",
    ),
    "names that follow parts": small_bike(
        ["{part: rad fan motr, at: radiator, current: 5 A}", "{part: spotlite, at: headstock, power: 20 W, kind: led}"],
        ["{name: fan switch, at: left handlebar, operates: [rad fan motr]}",
         "{name: spots, at: left handlebar, signal: earth, operates: [spotlite]}"], OWN_SPARK,
    ),
    "who runs the pump": small_bike(
        ["{part: injection comptuer, at: seat tray, current: 2 A}", "{part: pump, at: tank, current: 5 A}"],
        ["{part: tacho lead, at: engine}", "{part: tip-over switch, at: seat tray}"],
    ),
    "lists mixed up": small_bike(
        ["{part: horn button, at: left handlebar}", "{part: front brake, at: right handlebar, lamp: P21W}",
         "{part: neutral light, at: headlamp shell, power: 1 W}"],
        ["{part: low beam, at: headlamp shell, lamp: H7}", "{part: neutral light, at: headlamp shell}"], OWN_SPARK,
    ),
    "warning lamps": small_bike(
        ["{part: turn warning lamp, at: headlamp shell, power: 1 W}",
         "{part: idiot lights, at: headlamp shell, power: 1 W}",
         "{part: charge lamp, at: headlamp shell, power: 2 W}", "{part: pilot light, at: headlamp shell, power: 4 W}"],
        [], OWN_SPARK,
    ),
    "two powers": small_bike(
        ["{part: headlight, at: headlamp shell, power: 60/55 W, kind: filament}"],
        ["{part: headlight switch, at: left handlebar}"], OWN_SPARK,
    ),
    "an automatic": small_bike(
        ["{part: start relay, at: engine, current: 3 A}", "{part: ingition, at: engine, current: 3 A, kind: coil}"],
        ["{part: stop button, at: right handlebar}", "{part: starter buton, at: right handlebar}"], "clutch: automatc",
    ),
}  # fmt: skip
"""Each asks its builder for more than one thing, of which one hangs on another."""
SEVERAL = {
    "left indicator": "blinker", "right indicator": "turn signal", "front brake switch": "stop light switch",
    "rear brake switch": "Brake Switch", "dipped beam": "headlight", "main beam": "Headlamp", "tail lamp": "rear light",
    "brake lamp": "stop", "fuel pump": "pump", "starter solenoid": "starter", "engine stop switch": "stop switch",
    "position lamp": "pilot lamp", "compressor horn": "compressor", "front fog lamp": "fog light",
}  # fmt: skip
"""Words for parts that may be several."""
LEFT_OUT = ("at", "current", "power", "lamp", "kind", "made", "switched_by", "pull_in", "goes_to", "from", "operates")


def broken(seed: int) -> str:
    """Return a random bike with one to five things spoilt."""
    dice = random.Random(seed)
    root = composed(random_case(seed, "catalogue")[0])
    for _ in range(dice.randint(1, 5)):
        listed = dice.choice([value for name, value in lists(root).items() if name != "later" and value.value])
        dice.choice(SPOILERS)(root, listed, dice.choice(listed.value), dice)
    return written(root)


Spoil = Callable[[MappingNode, SequenceNode, MappingNode, random.Random], None]


def _slip(word: str, dice: random.Random) -> str:
    """Return a word with two letters changed over, or one left out."""
    at = dice.randrange(max(1, len(word) - 1))
    return word[:at] + word[at + 1 : at + 2] + word[at : at + 1] * dice.randint(0, 1) + word[at + 2 :]


def _misspelt(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    for key in ("part", "mode", "kind", "lamp", "action"):
        found = said(entry, key)
        if found and (key == "part" or dice.random() < 0.3):
            found.value = _slip(found.value, dice)
            return


def _capitals(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    if found := said(entry, "part"):
        found.value = dice.choice([found.value.upper(), found.value.title()])


def _unknown(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    if found := said(entry, "part"):
        found.value = dice.choice(["gizmo", "flux box", "thingamajig"])


def _ambiguous(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    if (found := said(entry, "part")) and found.value in SEVERAL:
        found.value = SEVERAL[found.value]
    elif found:
        found.value = f"my {found.value} {dice.choice(['thing', 'left', 'two'])}"


def _wrong_mode(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    if said(entry, "signal") is None and said(entry, "from") is None:
        put(entry, "mode", dice.choice(["toggle", "flash", "steady", "timed", "blinking", "engine run", "start"]))


def _no_key(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    has = [key for key in LEFT_OUT if said(entry, key) is not None]
    if has:
        drop(entry, dice.choice(has))


def _key_slip(_: MappingNode, __: SequenceNode, entry: MappingNode, dice: random.Random) -> None:
    key = dice.choice([key for key, _ in entry.value if len(key.value) > 3] or [entry.value[0][0]])
    key.value = _slip(key.value, dice)


def _gone(_: MappingNode, listed: SequenceNode, entry: MappingNode, __: random.Random) -> None:
    if len(listed.value) > 1:
        listed.value.remove(entry)


def _no_word(root: MappingNode, _: SequenceNode, __: MappingNode, dice: random.Random) -> None:
    has = [key.value for key, _ in root.value if key.value in ("ignition", "engine_stop", "stand", "clutch", "brakes")]
    if has:
        key = dice.choice(has)
        if dice.random() < 0.5:
            drop(root, key)
        else:
            put(root, key, "perhaps")


def _bare(_: MappingNode, __: SequenceNode, entry: MappingNode, ___: random.Random) -> None:
    for key in ("current", "power", "pull_in"):
        if found := said(entry, key):
            found.value = found.value.split()[0]


SPOILERS: tuple[Spoil, ...] = (
    _misspelt, _misspelt, _capitals, _unknown, _ambiguous, _ambiguous, _wrong_mode, _no_key, _key_slip, _gone, _no_word,
    _bare,
)  # fmt: skip
