"""Posts as people write them, each with what must be said and what must not. Common practice, no source.

The lists are made up; the unit is the eleven-way, and the bike, where there is one, the Ferry Single.
"""

from dataclasses import dataclass, field


@dataclass(frozen=True)
class PostedText:
    """A post, and what is told of it."""

    text: str
    code: int
    """How the call ends: 0 no rule broken, 1 a rule broken, 2 something that is not clear."""
    says: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    once: tuple[str, ...] = ()
    """What is told as one clash and no more."""
    outputs: dict[str, str] = field(default_factory=dict)
    """What is read on outputs, loads after commas."""
    inputs: dict[str, str] = field(default_factory=dict)
    bike: bool = False


BEAMS = {"out 1": "low beam", "out 2": "high beam"}
APART = "dipped and main beam apart: right; dipped beam on out 1 and main beam on out 2"
OPEN = ("nothing wrong found", "things not judged")
SOUND = ": SOUND"
ALONE = "can't share an output: a brake lamp is alone on its output"
TOGETHER = "left and right would flash together"
BEAM = "\nout 1: low beam H4"

FORMS = {
    "colons": PostedText("out 1: low beam\nout 2: high beam", 0, (*OPEN, APART), (SOUND,), outputs=BEAMS),
    "number and dash": PostedText("1 - low beam\n2 - high beam", 0, (APART,), (SOUND,), outputs=BEAMS),
    "number and bracket": PostedText("1) low beam\n2) high beam", 0, (APART,), outputs=BEAMS),
    "number and dot": PostedText("1. low beam\n2. high beam", 0, (APART,), outputs=BEAMS),
    "number and colon": PostedText("1: low beam\n2: high beam", 0, (APART,), outputs=BEAMS),
    "channels": PostedText("ch 1: low beam\nCH2 - high beam", 0, (APART,), outputs=BEAMS),
    "channels in full": PostedText("Channel 1 = low beam\nchannel 02 = high beam", 0, (APART,), outputs=BEAMS),
    "hashes": PostedText("#1 low beam\n#2: high beam", 0, (APART,), outputs=BEAMS),
    "output in full": PostedText("Output 1 -> low beam\nOUTPUT 2 -> high beam", 0, (APART,), outputs=BEAMS),
    "no sign between": PostedText("out 1 low beam\nout 2 high beam", 0, (APART,), outputs=BEAMS),
    "turned round": PostedText("low beam on out 1\nhigh beam -> output 2", 0, (APART,), outputs=BEAMS),
    "a numbered list of ports": PostedText("1. out 1: low beam\n2. out 2: high beam", 0, (APART,), outputs=BEAMS),
    "sections": PostedText(
        "Outputs:\n1 - low beam\n2 - high beam\n\nInputs:\n3 - kill switch\n4 - clutch switch", 0, (APART,),
        outputs=BEAMS, inputs={"in 3": "kill switch", "in 4": "clutch switch"},
    ),
    "switches tell inputs": PostedText(
        "1 - low beam\n2 - high beam\n3 - kill switch\nch 4 - starter button\n#5 neutral switch", 0, (APART,),
        outputs=BEAMS, inputs={"in 3": "kill switch", "in 4": "starter button", "in 5": "neutral switch"},
    ),
    "inputs in full": PostedText(
        "output 1: low beam\ninput 3: kill switch\nIn4 = side stand switch", 0, OPEN,
        outputs={"out 1": "low beam"}, inputs={"in 3": "kill switch", "in 4": "side stand switch"},
    ),
    "sentence, is on": PostedText("The low beam is on output 1.\nMy high beam sits on output 2.", 0, (APART,)),
    "sentence, feeds": PostedText(
        "Output 4 feeds the tail light and the number plate light.", 0, OPEN,
        outputs={"out 4": "tail light, number plate light"},
    ),
    "sentence, goes to": PostedText("horn 2.5 A goes to out 4", 0, OPEN, outputs={"out 4": "horn"}),
    "sentence, two ports": PostedText("low beam on out 1, high beam on out 2", 0, (APART,)),
    "free ports": PostedText("out 1: low beam\nout 2: high beam\nout 10: spare\nout 11 - free", 0, (APART,)),
    "remarks": PostedText("out 1: low beam  # as wired\nout 2: high beam", 0, (APART,), outputs=BEAMS),
    "YAML": PostedText("outputs:\n  out 1: low beam\n  out 2: high beam", 0, (APART,), outputs=BEAMS),
    "a plug beside": PostedText("eleven-way unit, six-way plug\nout 1: low beam", 2, ("line 1",), ("one unit",)),
    "O and number": PostedText("O1: low beam\nO2 = high beam", 0, (APART,), outputs=BEAMS),
    "pipes": PostedText("low beam | out 1\nhigh beam | out 2", 0, (APART,), outputs=BEAMS),
    "on one line": PostedText("out1=low beam; out2=high beam", 0, (APART,), outputs=BEAMS),
    "figures beside": PostedText(
        "out 1 (8 A, 1 mm2): low beam H4\nout 2, fuse 8A, 1,5 mm²: high beam H4", 0, (APART,),
    ),
}  # fmt: skip
TABLES = {
    "other heads": PostedText("| Pin | Goes to |\n|---|---|\n| 1 | low beam |\n| 2 | high beam |", 0, (APART,)),
    "heads that say nothing": PostedText("| x | y |\n|---|---|\n| low beam | 1 |\n| high beam | 2 |", 0, (APART,)),
    "amperes drawn": PostedText(
        "| Ch | Description | Draw (A) |\n|---|---|---|\n| 1 | low beam | 5 |\n| 4 | horn | 9 |", 1,
        ("horn draws 9 A and needs a trip of 11.25 A",),
    ),
    "amperes of what": PostedText(
        "| Ch | Description | Amps? |\n|---|---|---|\n| 1 | low beam | 5 A |", 0, OPEN, outputs={"out 1": "low beam"}
    ),
    "an ampere column without a word": PostedText(
        "| Ch | Description | Z |\n|---|---|---|\n| 1 | low beam | 8 A |\n| 2 | high beam | 8 A |", 2,
        ("a trip or what is drawn",), (SOUND,),
    ),
    "counts": PostedText(
        "port,load,qty,power\nout 1,spot light,2,80 W", 1, ("114.29 A",)
    ),
    "no head": PostedText("1,low beam\n2,high beam", 0, (APART,), outputs=BEAMS),
    "semicolons": PostedText("Ausgang;what\nout 1;low beam\nout 2;high beam", 0, (APART,)),
    "tabs": PostedText("no\tconsumer\tfuse\n1\tlow beam\t8\n2\thigh beam\t8", 0, (APART,)),
    "main fuse in a row": PostedText(
        "| Port | What |\n|---|---|\n| out 1 | low beam |\n| main fuse | none |", 1, ("main fuse: WRONG",), (SOUND,)
    ),
    "starter motor in a row": PostedText(
        "| Port | What |\n|---|---|\n| out 1 | low beam |\n| starter motor | 80 A |", 1,
        ("a starter motor is in",), (SOUND,)
    ),
    "fuse in a record": PostedText(
        "port,load,amps\nout 1,low beam,4.6\nmain fuse,,60 A", 1, ("35 A at most",), (SOUND,),
    ),
    "wires": PostedText(
        "| out | load | trip | wire |\n|---|---|---|---|\n| 1 | low beam H4 | 13 A | 0.5 mm2 |", 1,
        ("its wire of 0.5 mm2 carries 11 A",),
    ),
    "inputs in a table of their own": PostedText(
        "| out | load |\n|--|--|\n| 1 | low beam |\n| 2 | high beam |\n\n| in | switch |\n|--|--|\n| 3 | kill switch |",
        0, (APART,), outputs=BEAMS, inputs={"in 3": "kill switch"},
    ),
}  # fmt: skip
COMPANY = {
    "brake and tail, plus": PostedText("out 3: rear brake light + tail light", 1, (ALONE,), (SOUND,), (ALONE,)),
    "brake and tail, and": PostedText("stop light and taillight on out 3", 1, (ALONE,), (SOUND,), (ALONE,)),
    "brake and plate": PostedText("3: STOP LAMP & number plate light", 1, (ALONE,), (SOUND,), (ALONE,)),
    "brake and three": PostedText("out 3: brake light, tail light, plate light, side light", 1, (ALONE,), (), (ALONE,)),
    "one of both": PostedText("out 3: tail/brake light", 1, (ALONE,), (SOUND,), (ALONE,)),
    "rear light": PostedText(
        "out 3: rear light", 2, ("may be tail lamp or brake lamp",), (SOUND, "alone on its output: right"),
    ),
    "both beams": PostedText("out 1: low beam, high beam", 1, ("never go out together",), (SOUND,)),
    "headlight, low and high": PostedText(
        "out 1: headlight low, headlight high", 1, ("never go out together",), (SOUND,),
    ),
    "low": PostedText("out 1: H4 low", 2, ("may be dipped beam",), (SOUND,)),
    "no sign between two": PostedText("out 3: tail light brake light", 1, (ALONE,), (SOUND,), (ALONE,)),
    "headlight": PostedText("out 1: headlight 55/60 W", 2, ("may be dipped beam or main beam",), (SOUND,)),
    "all four": PostedText(
        "out 5: all four indicators LED 8 W", 1, (f"all four indicators on out 5: {TOGETHER}",), (SOUND,), (TOGETHER,)
    ),
    "indicators": PostedText("out 5: indicators", 1, (TOGETHER,), (SOUND,), (TOGETHER,)),
    "blinkers": PostedText("out 6 - Blinkers left and right", 1, (TOGETHER,), (SOUND,), (TOGETHER,)),
    "one side each": PostedText("out 5: left indicators\nout 6: right turn signals", 0, OPEN, (TOGETHER,)),
    "both sides named": PostedText("out 5: left blinker, right blinker", 1, (TOGETHER,), (SOUND,), (TOGETHER,)),
    "one indicator": PostedText("out 5: indicator", 2, ("may be left indicator or right indicator",), (SOUND,)),
    "ignition with a lamp": PostedText(
        "out 2: CDI, low beam", 1, ("coils and ignition boxes share only with each other",),
    ),
    "what can't flash": PostedText("out 1: left indicators LED 4 W", 1, ("out 1 does not flash",)),
}  # fmt: skip
COUNTED = {
    **{
        form: PostedText(f"out 1: {text}", 1, ("114.29 A",), (SOUND,))
        for form, text in {
            "2x": "2x 80 W spot lights", "x2": "spot lights 80 W x2", "2 x": "2 x 80W spot lamps",
            "times": "2 × spot light 80 W", "pair of": "pair of 80 W spot lamps", "two": "two 80 W spotlights",
            "in brackets": "spot lights (2x 80 W)",
        }.items()
    },
    "in all": PostedText("out 1: two spot lights 80 W in all", 0, OPEN, ("114.29 A",)),
    "lamps": PostedText("out 9: 2x P21W brake light", 0, ("2 x P21W",)),
    "a name with a figure": PostedText("out 1: H4 low beam", 0, ("H4 dipped",)),
}  # fmt: skip
FUSES = {
    "none": PostedText("main fuse: none" + BEAM, 1, ("no main fuse", "main fuse: WRONG"), (SOUND, "not a fuse")),
    "no fuse": PostedText("no fuse at the battery" + BEAM, 1, ("main fuse: WRONG",), (SOUND, "what is on which port")),
    "no main fuse": PostedText("no main fuse" + BEAM, 1, ("main fuse: WRONG",), (SOUND,)),
    "without a fuse": PostedText("Feed from battery without a fuse." + BEAM, 1, ("main fuse: WRONG",), (SOUND,)),
    "unfused": PostedText("battery feed: unfused" + BEAM, 1, ("main fuse: WRONG",), (SOUND,)),
    "on the battery": PostedText("30A fuse on the battery" + BEAM, 0, ("30 A",), ("main fuse: look again",)),
    "fuse 30A": PostedText("fuse 30A" + BEAM, 0, ("30 A",), ("main fuse: look again",)),
    "main fuse 30A": PostedText("main fuse 30A" + BEAM, 0, ("30 A",), ("main fuse: look again",)),
    "battery fuse": PostedText("Battery fuse = 30 A" + BEAM, 0, ("30 A",), ("main fuse: look again",)),
    "too large": PostedText("60A main fuse" + BEAM, 1, ("35 A at most", "main fuse: WRONG")),
    "no such fuse": PostedText("no 30 A fuse on the battery" + BEAM, 2, ("line 1", "main fuse: not judged"), (SOUND,)),
    "straight": PostedText("unit is fed straight from the battery, no fuse" + BEAM, 1, ("main fuse: WRONG",), (SOUND,)),
    "where it sits": PostedText(
        "main fuse: 30A blade near the battery" + BEAM, 0, ("30 A",), ("main fuse: look again",),
    ),
    "not yet": PostedText("main fuse: not fitted yet" + BEAM, 1, ("main fuse: WRONG",), (SOUND,)),
    "which": PostedText("main fuse: big" + BEAM, 2, ("'big' is not a fuse",), (SOUND,)),
    "of the charger": PostedText(
        "charging lead to the battery, 30 A fuse" + BEAM, 0, ("main fuse: look again",), ("WRONG",),
    ),
}  # fmt: skip
DANGERS = {
    "starter motor, no port": PostedText(
        "starter motor 80 A" + BEAM, 1, ("starter motor", "ABS on the unit: WRONG"), (SOUND, "what is on which port")
    ),
    "starter motor": PostedText("out 7: starter motor" + BEAM, 1, ("a starter motor is on out 7",), (SOUND,)),
    "starter": PostedText("out 7: starter" + BEAM, 2, ("may be starter solenoid or starter motor",), (SOUND,)),
    "solenoid of the starter": PostedText("out 7: starter solenoid 3 A", 0, OPEN, ("starter motor is",)),
    "regulator": PostedText("the regulator/rectifier goes to the unit" + BEAM, 1, ("regulator", "fire"), (SOUND,)),
    "regulator to feed": PostedText(
        "reg/rec -> unit feed" + BEAM, 1, ("regulator", "ABS on the unit: WRONG"), (SOUND,),
    ),
    "charging lead": PostedText("out 10: charging lead" + BEAM, 1, ("battery charger lead is on out 10",), (SOUND,)),
    "stator": PostedText("stator -> out 11" + BEAM, 1, ("is on out 11",), (SOUND,)),
    "ABS": PostedText("ABS pump on out 8" + BEAM, 1, ("is on out 8",), (SOUND,)),
    "regulator in its place": PostedText(
        "regulator to the battery through its own 30 A fuse" + BEAM, 0, OPEN, ("WRONG",),
    ),
    "nothing of it": PostedText(
        "out 1: low beam", 0, ("ABS on the unit: not judged",), ("none is posted", "unit: right"),
    ),
    "a horn too strong": PostedText("out 5: horn 3.5 A", 1, ("can be set to 4 A at most", "kicks back"), (SOUND,)),
}  # fmt: skip
UNREAD = {
    "a line without a port": PostedText(
        "out 1: low beam\nout 2: high beam\nthe blue one somewhere", 2,
        ("line 3", "dipped and main beam apart: not judged", "main fuse: not judged"), (SOUND, ": right"),
    ),
    "no such port": PostedText("out 1: low beam\nout 99: horn 3 A", 2, ("there is no port 'out 99'",), (SOUND,)),
    "a switch on an output": PostedText("out 4: kill switch" + BEAM, 2, ("is a switch",), (SOUND,)),
    "a fuse on an output": PostedText("out 4: ignition fuse" + BEAM, 2, ("a fuse is no load",), (SOUND,)),
    "a flasher relay": PostedText(
        "out 4: flasher relay" + BEAM, 2, ("the unit flashes the indicators itself",), (SOUND,),
    ),
    "what nobody knows": PostedText("out 4: winch 5 A" + BEAM, 0, ("what winch is",), (SOUND, ": right; none")),
    "an alarm word": PostedText("out 4: stop switch\nout 1: low beam", 2, ("may be engine stop switch",), (SOUND,)),
    "several ports": PostedText("outputs 1 and 2: spot lights" + BEAM, 2, ("line 1",), (SOUND,)),
    "a word beside a table": PostedText(
        "The tail is still to do.\n\n| out | load |\n|--|--|\n| 1 | low beam |\n| 2 | high beam |", 2,
        ("line 1", "dipped and main beam apart: not judged"), (SOUND,),
    ),
    "a greeting": PostedText(
        "Hi all, here's my plan for the eleven-way:\n1 - low beam\n2 - high beam\nWhat do you think?", 0, (APART,)
    ),
    "tail and stop": PostedText("out 3: tail & stop", 1, (ALONE,), (SOUND,), (ALONE,)),
    "no such number": PostedText("12 - horn\nout 1: low beam", 2, ("there is no port '12'",), (SOUND,)),
    "twice": PostedText("out 1: horn 3 A\nout 2: horn", 2, ("horn is on out 1 and on out 2",), (SOUND,)),
}  # fmt: skip
TWO_UNITS = {
    "numbered": PostedText("Unit 1\nout 1: low beam\nUnit 2\nout 1: horn", 2, ("one unit at a time",)),
    "front and rear": PostedText("front unit:\nout 1: low beam\nrear unit:\nout 1: horn", 2, ("one unit at a time",)),
    "by their names": PostedText(
        "eight-way behind the headlamp\nout 1: low beam\nsix-way under the seat\nout 1: horn",
        2,
        ("one unit at a time",),
    ),
    "of JSON in lines": PostedText(
        '{\n  "units": [\n    {"outputs": []},\n    {"outputs": []}\n  ]\n}', 2, ("one unit at a time",)
    ),
    "of JSON": PostedText('{"units": [{"outputs": []}, {"outputs": []}]}', 2, ("one unit at a time",)),
    "of one unit": PostedText("unit 1\nout 1: low beam\nout 2: high beam", 2, ("line 1",), ("one unit at a time",)),
}

OUTPUTS = """1: low beam
2: petrol pump
3: High Beam
4: side light, tail light, number plate light
5: CDI
6: hooter
7: starter relay
8: fan relay
9: left indicators
10: right turn signals
11: stop light
"""
INPUTS = """in 1: ignition switch
in 2: kill switch
in 3: start button
in 4: clutch lever switch
in 5: gear switch
in 6: kickstand switch
in 7: right blinker button
in 8: tacho lead
in 9: hooter button
in 10: thermo switch
in 11: front brake light switch
in 12: brake pedal switch
in 13: indicator switch left
in 14: high/low switch
"""
MISSING = "is on no"
WITH_BIKE = {
    "other words": PostedText(OUTPUTS, 0, (*OPEN, "names no inputs"), (MISSING, SOUND, "WRONG"), bike=True),
    "inputs too": PostedText(
        OUTPUTS + INPUTS, 0, (*OPEN, "cut by the engine stop: right"), (MISSING, SOUND, "WRONG"), bike=True
    ),
    "a load left out": PostedText(
        OUTPUTS.replace("11: stop light\n", ""), 1, ("brake lamp is on no output",), (SOUND,), (MISSING,), bike=True
    ),
    "left out, and a line unread": PostedText(
        OUTPUTS.replace("11: stop light", "and the red one at the back"), 2,
        ("line 11", "alone on its output: not judged"),
        ("is on no output", SOUND), bike=True,
    ),
    "a relay's load on an output": PostedText(
        OUTPUTS.replace("8: fan relay", "8: radiator fan"), 1,
        ("fan bypasses the unit in the bike's file, here on out 8", "fan draws 7 A and needs a trip of 8.75 A"),
        (SOUND,),
        bike=True,
    ),
    "and its kind": PostedText(
        OUTPUTS.replace("8: fan relay\n", "").replace("9: left", "9: cooling fan, left"), 1,
        ("fan kicks back", "can't share an output"), (SOUND,), bike=True,
    ),
    "headlight": PostedText(
        OUTPUTS.replace("1: low beam\n", "1: headlight\n"), 2, ("may be dipped beam or main beam",), (MISSING,),
        bike=True,
    ),
    "starter": PostedText(
        OUTPUTS.replace("starter relay", "starter"), 2, ("may be starter solenoid or starter motor",), (MISSING, SOUND),
        bike=True,
    ),
    "all four": PostedText(
        OUTPUTS.replace("9: left indicators\n10: right turn signals", "9: all four indicators"), 1,
        (f"all four indicators on out 9: {TOGETHER}",), (MISSING, SOUND), (TOGETHER,), bike=True,
    ),
    "brake beside tail": PostedText(
        OUTPUTS.replace("11: stop light\n", "").replace("tail light", "tail light + stop light"), 1, (ALONE,), (SOUND,),
        (ALONE,), bike=True,
    ),
    "dip": PostedText(OUTPUTS.replace("1: low beam", "1: dip"), 0, OPEN, (MISSING, "WRONG"), bike=True),
    "a side by its part": PostedText(
        OUTPUTS.replace("left indicators", "left indicator").replace("right turn signals", "blinker R"), 0, OPEN,
        (MISSING, "WRONG"), bike=True,
    ),
    "front and rear of a side": PostedText(
        OUTPUTS.replace("left indicators", "front left winker and rear left winker"), 0, OPEN, (MISSING,
        "WRONG"), bike=True
    ),
    "a group or a lamp": PostedText(
        OUTPUTS.replace("side light, tail light, number plate light", "position lamps"), 2,
        ("may be position lamp or all of position lamp, tail lamp, plate lamp",), ("is on no output", "WRONG"),
        bike=True,
    ),
    "three by strokes": PostedText(
        OUTPUTS.replace("side light, tail light, number plate light", "side/tail/plate lights"), 2,
        ("may be position lamp, tail lamp or plate lamp",), ("is on no output", "WRONG"), bike=True,
    ),
    "a relay's own words": PostedText(
        OUTPUTS.replace("fan relay", "relay for the fan"), 0, OPEN, (MISSING, "WRONG"), bike=True
    ),
    "a stop switch": PostedText(
        OUTPUTS + INPUTS.replace("kill switch", "stop switch"), 2,
        ("may be engine stop switch, front brake switch or rear brake switch", "cut by the engine stop: not judged"),
        ("no input tells", "is on no input", "WRONG"), bike=True,
    ),
    "inputs by their loads": PostedText(
        OUTPUTS + INPUTS.replace("hooter button", "horn").replace("start button", "starter"), 0, OPEN,
        (MISSING, "WRONG"),
        bike=True,
    ),
    "an engine stop on a starter's input": PostedText(
        OUTPUTS + INPUTS.replace("in 2: kill switch\n", "").replace("in 3: ", "in 3: kill switch, "), 1,
        ("can't share an input",), (SOUND, "look again; engine stop"), ("can't share an input",), bike=True,
    ),
    "no fuse": PostedText(OUTPUTS + "no fuse to the battery", 1, ("main fuse: WRONG",), (SOUND,), bike=True),
    "fuse too small": PostedText(
        OUTPUTS + "15 A fuse at the battery", 1, ("needs 24.5", "main fuse: WRONG"), bike=True,
    ),
    "a switch left out": PostedText(
        OUTPUTS + INPUTS.replace("in 2: kill switch\n", ""), 0,
        ("engine stop switch: on no input in the post", "some way exists, proved",
         "cut by the engine stop: look again; engine stop switch is on no input in the post"),
        (SOUND, "cut by the engine stop: right"), bike=True,
    ),
    "a starter motor besides": PostedText(
        OUTPUTS + "starter motor 80 A", 1, ("ABS on the unit: WRONG",), (SOUND, MISSING), bike=True
    ),
}  # fmt: skip
EVERY = {
    **{f"{title}: {name}": one
       for title, cases in (("form", FORMS), ("table", TABLES), ("company", COMPANY), ("count", COUNTED),
                            ("fuse", FUSES),
                            ("danger", DANGERS), ("unread", UNREAD), ("two units", TWO_UNITS), ("bike", WITH_BIKE))
       for name, one in cases.items()},
}  # fmt: skip
