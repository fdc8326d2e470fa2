"""A hint leads to what was meant: what people write in a file, how it is taken, or what they are told to write.

Source: common practice, no source.
"""

from pathlib import Path

import pytest

from calls import ROOT, Portloom
from portloom.base.unit import Unit
from portloom.inputs.files import bike_from_text, unit_from_text
from portloom.inputs.problems import BadFile
from small_bikes import OWN_SPARK, small_bike

SOCKET = "{part: socket, at: tail, current: 2 A}"


def told(*loads: str, inputs: tuple[str, ...] = (), own_modes: tuple[str, ...] = ()) -> list[tuple[str, str]]:
    """Return what is wrong with a bike of these loads, and what would be right."""
    try:
        bike_from_text(small_bike(loads or (SOCKET,), inputs, OWN_SPARK), "bike.yaml", own_modes)
    except BadFile as bad:
        return [(problem.what, problem.right) for problem in bad.problems]
    return []


def _quoted(value: str) -> str:
    return value if value.startswith("[") else f'"{value}"'


def lamp(**more: str) -> str:
    """Return an entry of a lamp, with more keys."""
    return (
        "{" + ", ".join(["at: tail", "lamp: W5W", *(f"{key}: {_quoted(value)}" for key, value in more.items())]) + "}"
    )


# --- parts


@pytest.mark.parametrize(
    ("name", "said", "right"),
    [
        ("front right indicator", "indicator", "write 'part: right indicator'"),
        ("rear blinker R", "turn signal", "write 'part: right indicator'"),
        ("left rear", "left indicator", None),
        ("indicator, left, rear", "blinker", "write 'part: left indicator'"),
        ("blinkers", "blinker", "write 'part: left indicator' or 'part: right indicator'"),
        ("tail light", "rear light", "write 'part: tail lamp'"),
        ("rear lamp", "rear lamp", "write 'part: tail lamp' or 'part: brake lamp'"),
        ("head", "headlight", "write 'part: dipped beam' or 'part: main beam'"),
    ],
)
def test_the_side_is_taken_from_the_name(name: str, said: str, right: str | None) -> None:
    """A part that may be several is asked for, and the hint names the one that the load's name tells."""
    found = dict(told(lamp(name=name, part=said)))
    asked = f"'{said}' may be several parts"
    assert found.get(asked) == right


@pytest.mark.parametrize(
    ("said", "right"),
    [
        ("front left blinkr", "write 'part: left indicator'; 'portloom parts' lists them all"),
        ("my horn", "write 'part: horn'"),
        ("horn button", "move it under 'inputs'"),
        ("zebra", "leave 'part' out, or take one: 'portloom parts' lists them all"),
        ("horn fuse", "leave it out: a fuse is no load, and the unit's outputs take the place of fuses"),
        (
            "horn relay",
            "leave the relay out where an output is to feed the load itself; where the relay stays, write 'fed: relay' "
            "at the load that it feeds",
        ),
        (
            "oil light",
            "write 'part: dash' with 'shows: oil pressure switch'; or leave it out, and name what it tells under the "
            "'shows' of a dash",
        ),
    ],
)
def test_a_word_that_is_no_load(said: str, right: str) -> None:
    """It is refused, never taken for another; what is meant by a word in it is told."""
    assert right in [hint for _, hint in told(lamp(name="it", part=said))]


@pytest.mark.parametrize(
    ("key", "right"),
    [
        ("name: Sparrow", "write 'bike'"),
        ("battery: {capacity: 9 Ah}", "move it under 'supply'"),
        ("starter: {at: tail}", "move it under 'supply'"),
        ("legs: []", "move it under 'frame'"),
        ("earth: [tail]", "move it under 'frame'"),
    ],
)
def test_a_key_at_the_wrong_place(key: str, right: str) -> None:
    """A key that the file knows elsewhere is sent there; what is missing is told beside it."""
    with pytest.raises(BadFile) as bad:
        bike_from_text(f"{key}\nloads: [{{part: horn, at: tail, current: 3 A}}]\n", "bike.yaml")
    found = {problem.what: problem.right for problem in bad.value.problems}
    assert found[f"unknown key '{key.partition(':')[0]}'"] == right
    assert {f"'{one}' is missing" for one in ("frame", "supply", "places")} <= found.keys()


def test_what_has_no_name_is_asked_for_its_part() -> None:
    """A load of which the file has neither name nor part is asked what it is, not what it is called."""
    assert ("nothing says what this is", "add part: what it is ('portloom parts' lists them)") in told(
        "{at: tail, current: 1 A}"
    )


def test_a_headlight_of_two_powers_is_two_loads() -> None:
    """55/60 W are the filaments of both beams; nobody picks one of them."""
    found = dict(told("{part: headlight, at: tail, power: 55/60 W, kind: filament}"))
    dipped = "{part: dipped beam, power: 55 W, at: tail, kind: filament}"
    main = "{part: main beam, power: 60 W, at: tail, kind: filament}"
    right = f"write two loads in its place, one for each filament: {dipped} and {main}"
    assert found["'headlight' may be several parts"] == right


def test_a_tell_tale_among_the_inputs() -> None:
    """A neutral light is a lamp; the neutral switch is what it shows."""
    right = "move it under 'loads', for a lamp is a load; what it shows is an input, such as 'part: neutral switch'"
    assert ("'neutral light' is no part", right) in told(inputs=("{part: neutral light, at: tail}",))


def test_a_switch_whose_load_says_no_part() -> None:
    """A horn without a part is worked by no horn button; the hint gives it its part, which brings its rules."""
    found = dict(told("{name: horn, at: tail, current: 3 A}", inputs=("{part: horn button, at: tail}",)))
    right = found["this input neither operates nor tells anything"]
    assert right.startswith("write 'part: horn' at 'horn' (line ")


def test_a_load_among_the_inputs() -> None:
    """A horn is no switch: it is to be moved, and is asked there what any horn is."""
    found = told(inputs=("{part: horn, at: tail}",))
    assert ("'horn' is a load", "move it under 'loads'") in found
    assert [what for what, _ in found if not what.startswith("once it is under 'loads': ")] == ["'horn' is a load"]


@pytest.mark.parametrize(("said", "part"), [("speedo", "dash"), ("Rev-Counters", "dash"), ("USB", "socket")])
def test_another_word_for_a_part_is_taken_and_told(said: str, part: str) -> None:
    """How a word was read stands with the plan."""
    text = small_bike([f"{{part: {said}, at: tail, current: 1 A}}"], (), OWN_SPARK)
    bike = bike_from_text(text, "bike.yaml")
    assert bike.loads[0].part == part
    assert bike.as_read.words == (f"'{said}' (line {_line(text, said)}) is read as '{part}'",)


def _line(text: str, word: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if word in line)


def test_what_was_taken_is_printed(portloom: Portloom, tmp_path: Path) -> None:
    """A plan prints that the speedo is read as the dash, and a halogen as a filament."""
    loads = [
        "{part: speedo, at: headlamp shell, current: 0.4 A}",
        "{part: instrument lamps, at: headlamp shell, power: 3 W, kind: Halogen}",
    ]
    text = small_bike(loads, (), OWN_SPARK)
    (tmp_path / "bike.yaml").write_text(text, "utf-8")
    ran = portloom("plan", "bike.yaml", "--unit", "six-way", "--only", "assumed", folder=tmp_path)
    flat = " ".join(ran.stdout.split())
    assert ran.returncode == 0
    assert f"'speedo' (line {_line(text, 'speedo')}) is read as 'dash'" in flat
    assert f"'Halogen' (line {_line(text, 'Halogen')}) is read as 'filament'" in flat


# --- kinds, modes, states and events


@pytest.mark.parametrize(
    ("said", "kind"), [("LED", "led"), ("Led", "led"), ("FILAMENT", "filament"), ("HID", "discharge")]
)
def test_kinds_in_any_capitals(said: str, kind: str) -> None:
    """``kind: LED`` is a led."""
    text = small_bike([f"{{part: tail lamp, at: tail, power: 5 W, kind: {said}}}"], (), OWN_SPARK)
    assert bike_from_text(text, "bike.yaml").loads[0].kind == kind


def test_an_unknown_kind_gives_the_nearest() -> None:
    """A slip in a kind is told with the right one."""
    assert told("{part: tail lamp, at: tail, power: 5 W, kind: ledd}") == [
        ("'ledd' is not accepted as 'kind'", "write 'led'")
    ]


def test_modes_states_and_events_in_any_capitals() -> None:
    """On loads, on what lies alongside, and where an event is changed."""
    load = "{name: lamp, at: tail, lamp: W5W, mode: [Steady, HOLD], when: [Day, Main Beam], except: [Hazard]}"
    events = "events: {Hazard: {in: [Parked, Key On], excludes: [Braking]}}"
    pipe = "alongside: [{name: stator, from: engine, to: tail, size: 1 mm2, current: 2 A, when: [NIGHT]}]"
    bike = bike_from_text(small_bike([load], (), OWN_SPARK, events, pipe), "bike.yaml")
    one = bike.loads[0]
    assert (one.mode, one.when, one.except_) == (("steady", "hold"), ("day", "main beam"), ("hazard",))
    assert (bike.events["hazard"].in_, bike.events["hazard"].excludes) == (("parked", "key on"), ("braking",))
    assert (list(bike.events), bike.alongside[0].when) == (["hazard"], ("night",))


@pytest.mark.parametrize(
    ("said", "right"),
    [
        ("right", "write 'indicating right'"),
        ("Left", "write 'indicating left'"),
        ("turning left", "write 'indicating left'"),
        ("brake", "write 'braking'"),
        ("high beam", "write 'main beam'"),
        ("starting", "write 'cranking'"),
        ("key off", "write 'asleep'"),
        ("nigth", "write 'night'"),
        ("always", "write [key on, day, night], and more states if it is on with the key off"),
    ],
)
def test_other_words_for_states_and_events(said: str, right: str) -> None:
    """``when: [right]`` is told to be 'indicating right', not the nearest in letters."""
    assert told(lamp(name="lamp", when=f"[{said}]")) == [(f"there is no state or event '{said}'", right)]


def test_a_hint_for_an_event_is_an_event() -> None:
    """Where only an event can stand, no state is offered."""
    events = "events: {reversing: {in: [crank], excludes: [off, right]}}"
    with pytest.raises(BadFile) as refused:
        bike_from_text(small_bike([SOCKET], (), OWN_SPARK, events), "bike.yaml")
    rights = {problem.what: problem.right for problem in refused.value.problems}
    assert rights["there is no state 'crank'"] == "write 'cranking'"
    assert rights["there is no event 'right'"] == "write 'indicating right'"
    assert "asleep" not in rights["there is no event 'off'"]


def test_an_unknown_mode_is_refused_with_the_nearest() -> None:
    """Unless the unit's file lists it among its own."""
    entry = lamp(name="lamp", mode="pulse")
    ((what, right),) = told(entry)
    assert what == "there is no mode 'pulse'"
    assert right.endswith("or one that the unit's file lists under 'own_modes'")
    assert told(lamp(name="lamp", mode="flsh")) == [("there is no mode 'flsh'", "write 'flash'")]
    assert told(entry, own_modes=("Pulse",)) == []


def _unit(modes: str, own: str = "") -> Unit:
    outputs = f"outputs: [{{names: [a, b], limit: 5 A, switch_modes: {modes}}}]"
    text = f"unit: two-way\nfeed: {{limit: 20 A}}\n{own}\n{outputs}\n"
    return unit_from_text(text, "unit.yaml")


def test_a_units_modes_are_the_usual_ones_or_its_own() -> None:
    """In any capitals; a slip is told once with the nearest, an own one with where to list it."""
    assert _unit("[Steady, FLASH]").outputs[1].switch_modes == ("steady", "flash")
    assert _unit("[steady, breathe]", "own_modes: [breathe]").outputs[0].switch_modes == ("steady", "breathe")
    with pytest.raises(BadFile) as refused:
        _unit("[steady, flsh, breathe]")
    assert [(one.what, one.right) for one in refused.value.problems] == [
        ("there is no mode 'flsh'", "write 'flash'"),
        (
            "there is no mode 'breathe'",
            "write one of steady, hold, toggle, flash, dim, engine-run, start or timed, or list it under 'own_modes'",
        ),
    ]


# --- keys that files do not have, and files that are the other one


@pytest.mark.parametrize("key", ["port", "output", "Port", "pin"])
def test_a_port_on_a_load(key: str) -> None:
    """Which port a load goes on is what the plan finds: the key is to be left out, not to be another one."""
    assert told(SOCKET.replace("}", f", {key}: out 3}}")) == [
        (f"unknown key '{key}'", "leave it out: which port it goes on is what the plan finds")
    ]


@pytest.mark.parametrize(
    ("key", "right"),
    [("watts", "write 'power', such as power: 55 W"), ("amps", "write 'current', such as current: 4 A"),
     ("type", "write 'part' for what it is, or 'kind' for what it is electrically")],
)  # fmt: skip
def test_other_words_for_keys(key: str, right: str) -> None:
    """Watts, amps and type are told what they are called."""
    assert (f"unknown key '{key}'", right) in told(SOCKET.replace("}", f", {key}: 5}}"))


def test_the_files_of_a_call_swapped(portloom: Portloom) -> None:
    """A unit's file given as the bike's, and a bike's as the unit's, are told as that and nothing else."""
    bike, unit = "examples/bare-single.yaml", "profiles/six-way.yaml"
    ran = portloom("plan", unit, "--unit", bike, folder=ROOT)
    assert ran.returncode == 2
    assert ran.stderr.splitlines() == [
        f"{bike}:{_first(bike)}:1: this is a bike's file, and a unit's file is wanted here; "
        "give it as the BIKE of the call",
        f"{unit}:{_first(unit)}:1: this is a unit's file, and a bike's file is wanted here; give it after --unit",
    ]


def test_a_file_of_answers_is_no_bike(portloom: Portloom) -> None:
    """It lies beside the bike that was made of it, and has keys of its own."""
    answers = "examples/fen-single.answers"
    ran = portloom("plan", answers, "--unit", "six-way", folder=ROOT)
    assert (ran.returncode, ran.stderr.splitlines()) == (2, [
        f"{answers}:{_first(answers)}:1: this is a file of answers, and a bike's file is wanted here; "
        "give the file that was made of them; 'portloom new' makes one with --answers",
    ])  # fmt: skip


def _first(file: str) -> int:
    """Return the first line of a file that is no comment."""
    lines = (ROOT / file).read_text("utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if line and not line.startswith("#"))


# --- sides


@pytest.mark.parametrize(
    ("said", "right"),
    [
        ("L/R blinker", ("left", "right")),
        ("LR/RR blinkers", ("left", "right")),
        ("XF blinker", ("left", "right")),
        ("rt blinker", ("left", "right")),
        ("lft blinker", ("left",)),
        ("rigt indicator", ("right",)),
    ],
)
def test_a_side_is_never_guessed(said: str, right: tuple[str, ...]) -> None:
    """Letters that may be either side are asked with both; only a slip for a side is hinted as that side."""
    (hint,) = [hint for what, hint in told(lamp(part=said)) if said in what]
    assert [side for side in ("left", "right") if f"'part: {side} indicator'" in hint] == list(right)


# --- what a dash shows

DASHED = (
    "{part: dash, at: headlamp shell, current: 0.4 A, shows: [%s]}",
    "{part: left indicator, at: tail, lamp: PY21W}",
    "{part: right indicator, at: tail, lamp: PY21W}",
    "{part: injectors, at: engine, current: 2 A}",
    "{part: fuel pump, at: tank, current: 5 A}",
    "{part: tail lamp, at: tail, lamp: W5W}",
    "{part: plate lamp, at: tail, lamp: W5W}",
)
SENDERS = (
    "{part: fuel level sender, at: tank}",
    "{part: oil pressure switch, at: engine}",
    "{part: temperature switch, at: radiator}",
)


def hinted(word: str, inputs: tuple[str, ...] = SENDERS) -> str:
    """Return what would be right for a word under ``shows``."""
    found = dict(told(DASHED[0] % word, *DASHED[1:], inputs=inputs))
    return found[f"there is no input and no load '{word}'"]


@pytest.mark.parametrize("word", ["indicators", "blinkers", "turn signals", "turn signal", "turn lights"])
def test_a_dash_shows_both_sides(word: str) -> None:
    """A word for the indicators of both sides is answered with both groups, never with injectors."""
    assert hinted(word) == "write 'left indicators' and 'right indicators'"


@pytest.mark.parametrize(
    ("word", "right"),
    [
        ("fuel", "fuel level sender"),
        ("oil", "oil pressure switch"),
        ("oil light", "oil pressure switch"),
        ("temperature", "temperature switch"),
        ("temp", "temperature switch"),
    ],
)
def test_a_dash_reads_what_is_on_the_bike(word: str, right: str) -> None:
    """A word for what a dash reads leads to its sender or switch, where the bike has it, and else to adding it."""
    assert hinted(word) == f"write '{right}'"
    line = f"{{part: {right}, at: engine}}"
    assert hinted(word, ()) == f"add to 'inputs' {line}, or leave it out; there is none on the bike"


def test_a_long_list_is_shortened() -> None:
    """A word that means nothing is answered with some of the names, and how many more there are."""
    hint = hinted("xyzzy")
    assert hint.endswith(" or one of 4 more")  # three inputs and seven loads, of which six are named
    assert len(hint.partition(": ")[2].partition(" or one of")[0].split(", ")) == 6


# --- brakes


@pytest.mark.parametrize("end", ["front", "rear"])
def test_what_an_input_is_of_a_brake_is_its_switch(end: str) -> None:
    """Under inputs a brake can only be its switch; under loads it may be the lamp, and is asked."""
    text = small_bike(
        ["{part: brake lamp, at: tail, lamp: P21W}"],
        [f"{{part: {end} brake, at: engine}}"],
        OWN_SPARK,
        "brakes: one",
    )
    assert [switch.part for switch in bike_from_text(text, "bike.yaml").inputs] == [f"{end} brake switch"]
    assert dict(told(lamp(part=f"{end} brake")))[f"'{end} brake' may be several parts"].startswith(
        "write 'part: brake lamp', or move it under 'inputs' and write 'part: "
    )
