"""More posts as people write them: tables of many columns, other words, other counts. Common practice, no source.

The lists are made up; the unit is the eleven-way, and the bike, where there is one, the Ferry Single.
"""

from posted_texts import ALONE, APART, BEAM, BEAMS, OPEN, OUTPUTS, SOUND, PostedText

BOTH = {"out 9": "brake lamp, tail lamp"}
COLUMNS = {
    **{
        form: PostedText(text, 1, (ALONE,), (SOUND, "alone on its output: right"), (ALONE,), outputs=BOTH)
        for form, text in {
            "two of loads": "| Output | Load 1 | Load 2 |\n|--|--|--|\n| 9 | brake lamp | tail lamp |",
            "load and also": "| Output | Load | Also |\n|--|--|--|\n| 9 | brake lamp | tail lamp |",
            "front and rear": "| Out | Front | Rear |\n|--|--|--|\n| 9 | brake lamp | tail lamp |",
            "lamps": "| Out | Load | Lamp |\n|--|--|--|\n| 9 | brake lamp | tail lamp |",
            "records": "out,load a,load b\n9,brake lamp,tail lamp",
        }.items()
    },
    "a second one that is empty": PostedText(
        "| Out | Load | Load 2 |\n|--|--|--|\n| 1 | low beam | |\n| 2 | high beam | - |", 0, (APART,), outputs=BEAMS
    ),
    "what nobody can read": PostedText(
        "| Out | Load | Zing |\n|--|--|--|\n| 1 | low beam | abc |\n| 2 | high beam | |", 2,
        ("the column 'Zing' can't be read", "dipped and main beam apart: not judged"), (SOUND, ": right"),
    ),
    "colours and rows counted": PostedText(
        "| # | Output | Load | Colour |\n|--|--|--|--|\n| 1 | 1 | low beam | red |\n| 2 | 2 | high beam | blue |", 0,
        (APART,), outputs=BEAMS,
    ),
    "a note on company": PostedText(
        "| Out | Load | Notes |\n|--|--|--|\n| 9 | brake lamp | shares with tail lamp |", 2,
        ("the note 'shares with tail lamp' can't be read", "alone on its output: not judged"), (SOUND, ": right"),
    ),
    "a note on fire": PostedText(
        "| Out | Load | Comment |\n|--|--|--|\n| 1 | low beam | no main fuse, regulator to the unit |", 1,
        ("main fuse: WRONG", "a regulator is in the plan", "ABS on the unit: WRONG"), (SOUND,),
    ),
    "a note that says nothing": PostedText(
        "| Out | Load | Remarks |\n|--|--|--|\n| 1 | low beam | as before |\n| 2 | high beam | |", 0, (APART,)
    ),
}  # fmt: skip
READ = {"in 1": "key", "in 2": "kill switch"}
BESIDE = {
    **{
        form: PostedText(
            text, 0, (APART,), (SOUND, "no load", "can't share"), outputs=BEAMS, inputs=READ
        )
        for form, text in {
            "outputs and inputs": (
                "| out | load | in | switch |\n|--|--|--|--|\n"
                "| 1 | low beam | 1 | key |\n| 2 | high beam | 2 | kill switch |"
            ),
            "ports behind": "load,out,switch,in\nlow beam,1,key,1\nhigh beam,2,kill switch,2",
            "letters of the sides": (
                "| Q | load | I | switch |\n|--|--|--|--|\n"
                "| Q1 | low beam | I1 | key |\n| Q2 | high beam | I2 | kill switch |"
            ),
            "one longer than the other": (
                "| out | load | in | switch |\n|--|--|--|--|\n"
                "| | | 1 | key |\n| 1 | low beam | | |\n| 2 | high beam | 2 | kill switch |"
            ),
        }.items()
    },
    "a front brake that is a switch": PostedText(
        "| out | load | in | switch |\n|--|--|--|--|\n"
        "| 7 | starter solenoid | 11 | front brake |\n| 11 | brake light | 12 | rear brake |",
        0, ("alone on its output: right",), (SOUND, "can't share"),
        outputs={"out 7": "starter solenoid", "out 11": "brake light"},
    ),
    "trips of ports that stand behind": PostedText(
        "load,out,trip,draws,switch,in\nlow beam,1,2,5,key,1", 1,
        ("set to trip at 2 A, and low beam draws 5 A",), (SOUND,),
    ),
    "sentences right below": PostedText(
        "| port | load |\n|--|--|\n| 1 | low beam |\nno main fuse. regulator feeds the unit.", 1,
        ("main fuse: WRONG", "ABS on the unit: WRONG"), (SOUND, "there is no port"),
    ),
    "a fuse right below": PostedText(
        "| port | load |\n|--|--|\n| 1 | low beam |\n| 2 | high beam |\n30A fuse on the battery", 0,
        (APART, "main fuse: not judged; 30 A"), (SOUND,), outputs=BEAMS,
    ),
    "what nobody can read right below": PostedText(
        "| port | load |\n|--|--|\n| 1 | low beam |\n| 2 | high beam |\nand that red one", 2,
        ("'and that red one'", "apart: not judged"), (SOUND, ": right"),
    ),
    "a fuse in a line of ports": PostedText(
        "out 1: low beam 55W; out 2: high beam 60W; 30A main fuse", 0, (APART, "30 A"), (SOUND,), outputs=BEAMS
    ),
    "one bank of outputs beside another": PostedText(
        "| out | load | out | load |\n|--|--|--|--|\n"
        "| 1 | low beam | 2 | high beam |", 0, (APART,), (SOUND,), outputs=BEAMS
    ),
    "letter of outputs": PostedText("Q1: low beam\nQ2: high beam", 0, (APART,), (SOUND,), outputs=BEAMS),
    "letter of outputs in a sentence": PostedText(
        "low beam is on Q1, high beam goes to Q2", 0, (APART,), (SOUND,), outputs=BEAMS
    ),
    "bare numbers in sentences": PostedText(
        "I have put the low beam on 1. The high beam is on output 2. "
        "Brake lamp with the tail lamp on 9.", 1,
        (APART, ALONE), (SOUND,),
        outputs={"out 1": "low beam", "out 2": "high beam", "out 9": "brake lamp, tail lamp"},
    ),
    "a bare number that may be more": PostedText(
        "out 1: low beam\nthe horns are on 2 and 3", 2, ("apart: not judged",), (SOUND, ": right")
    ),
}  # fmt: skip
KEYS = {
    "fuse": PostedText("outputs:\n  out 1: low beam\nfuse: 80A", 1, ("80 A", "main fuse: WRONG"), (SOUND,)),
    "fuse of the feed": PostedText(
        "outputs:\n  out 1: low beam\nfeed:\n  fuse: none", 1, ("main fuse: WRONG",), (SOUND,)
    ),
    "a key that nobody knows": PostedText(
        "outputs:\n  out 1: low beam\n  out 2: high beam\nextras: tail lamp on out 1", 2,
        ("line 4: 'extras' is no key of the plan", "apart: not judged"), (SOUND, ": right"),
    ),
    "a key of a port": PostedText(
        "outputs:\n  out 9: {load: brake lamp, also: tail lamp}", 2,
        ("'also' is no key of a port", "alone on its output: not judged"), (SOUND, ": right"),
    ),
    "regulator": PostedText(
        "outputs:\n  out 1: low beam\nregulator: to the unit", 2, ("a regulator is in the plan",), (SOUND,)
    ),
    "what it draws": PostedText(
        "outputs:\n  - {port: out 4, load: horn, current: 9}", 1, ("horn draws 9 A and needs a trip of 11.25 A",)
    ),
}  # fmt: skip
REAR = {
    **{
        text: PostedText(f"out 9: {text}", 1, (ALONE,), (SOUND, "alone on its output: right"), (ALONE,))
        for text in (
            "brake, tail", "Brake+tail", "stop & tail lamp", "Brake/Tail", "brake light with tail light",
            "tail/brake combo", "rear LED (run/brake)", "P21/5W brake/tail",
        )
    },
    "with a bike": PostedText(
        OUTPUTS.replace("11: stop light\n", "").replace("side light, tail light", "side light, tail/brake combo"), 1,
        (ALONE,), (SOUND, "is on no output"), (ALONE,), bike=True,
    ),
    "brake": PostedText("out 9: brake 2 A", 0, ("brake lamp on out 9",), outputs={"out 9": "brake lamp"}),
    "stop": PostedText("out 9: STOP", 0, ("brake lamp on out 9",), outputs={"out 9": "brake lamp"}),
    "a switch": PostedText("out 9: brake switch", 2, ("may be front brake switch",), (SOUND, ": right")),
    "on an input": PostedText("in 3: stop" + BEAM, 0, OPEN, (ALONE,), inputs={"in 3": "stop"}),
    "the end in question": PostedText("out 9: rear light", 2, ("may be tail lamp or brake lamp",), (SOUND, ": right")),
}  # fmt: skip
SENTENCES = {
    "a button in an input": PostedText(
        "horn button in 5" + BEAM, 0, OPEN, (SOUND,), inputs={"in 5": "horn button"}
    ),
    "a button on an input": PostedText(
        "The horn button is on input 5." + BEAM, 0, OPEN, (SOUND,), inputs={"in 5": "horn button"}
    ),
    "earths with a bike": PostedText(
        OUTPUTS, 0, ("earths: not judged; the post does not say where returns end",), ("earths: right", SOUND),
        bike=True,
    ),
}  # fmt: skip
COUNTS = {
    **{
        text: PostedText(f"out 1: {text}", code, (told,), (SOUND,))
        for text, code, told in (
            ("2 fuel pumps 5A each", 0, "fuel pumps: 2 x 5 A"), ("two fuel pumps, 5 A each", 0, "fuel pumps: 2 x 5 A"),
            ("2 fuel pumps 8 A", 1, "draw 16 A"), ("dual horns 5 A", 1, "horns: 2 x 5 A"),
            ("spot lights 20 W, 2 pcs", 0, "spot lights: 2 x 20 W"),
            ("spot lights 2 pcs 20 W", 0, "spot lights: 2 x 20 W"),
            ("2x55W spot lamps", 0, "spot lamps: 2 x 55 W"), ("spot lights 2x55W", 0, "spot lights: 2 x 55 W"),
            ("4x 10W spot lamps", 0, "spot lamps: 4 x 10 W"), ("4x10W LED spot lamps", 0, "spot lamps: 4 x 10 W"),
        )
    },
    "in a table": PostedText(
        "| out | load |\n|--|--|\n| 1 | 2 fuel pumps 8A each |", 1, ("draw 16 A",), (SOUND,)
    ),
    "in all": PostedText("out 1: two spot lamps, 20 W in all", 0, OPEN, ("2 x 20 W", "trips at")),
    "two filaments": PostedText("out 1: double filament spot lamp 20 W", 0, OPEN, ("2 x 20 W",)),
}  # fmt: skip
BEAM_WORDS = {
    "lo and hi": PostedText("out 1: lo beam\nout 2: hi beam", 0, (APART,), (SOUND,)),
    "with a bike": PostedText(
        OUTPUTS.replace("low beam", "lo beam").replace("High Beam", "hi beam"), 0, OPEN, ("is on no", "WRONG"),
        bike=True,
    ),
}  # fmt: skip
FUSES = {
    **{
        text: PostedText(text + BEAM, 1, ("main fuse: WRONG", "there is no main fuse"), (SOUND, "may say more"))
        for text in (
            "No main fuse needed", "I skipped the main fuse.", "unfused", "main fuse: skipped", "main fuse: not needed",
            "No main fuse needed, the fuses are inside the unit.", "We don't use a main fuse", "Main fuse left out.",
        )
    },
    "a remark": PostedText("out 2: high beam  # no main fuse" + BEAM, 1, ("main fuse: WRONG",), (SOUND,)),
    "a heading": PostedText("# regulator to the unit" + BEAM, 1, ("a regulator is in the plan",), (SOUND,)),
    "the unit's own": PostedText(
        "The fuses are inside." + BEAM, 0, ("main fuse: look again; the post names none",), (SOUND, "WRONG")
    ),
    "on the plus": PostedText("30A fuse on the battery +" + BEAM, 0, ("30 A at the battery",), ("look again",)),
    "and another sentence": PostedText(
        "There is a 30A fuse on the battery +. The ECU has its own fuse." + BEAM, 2,
        ("line 1: 'The ECU has its own fuse.'", "main fuse: not judged"), (SOUND, "fuse: the post names none"),
    ),
    "too large and fine": PostedText("main fuse 80A is fine" + BEAM, 1, ("80 A is too large",), (SOUND,)),
    "starter of 150 A": PostedText("starter 150A" + BEAM, 1, ("a starter motor is in the plan",), (SOUND,)),
    "starter of 150 A on an output": PostedText("out 7: starter 150 A" + BEAM, 1, ("a starter motor is on out 7",)),
    "starter in a record": PostedText(
        "port;load;amps\n7;starter;120\n1;low beam;4", 1, ("a starter motor is on out 7",), (SOUND,)
    ),
    "the same with a bike": PostedText(
        OUTPUTS.replace("starter relay", "starter 120 A"), 1, ("a starter motor is on out 7",), (SOUND,), bike=True
    ),
    "starter at the battery": PostedText("starter 150 A at the battery" + BEAM, 0, OPEN, ("WRONG", SOUND)),
    "starter of 3 A": PostedText("out 7: starter 3 A" + BEAM, 2, ("may be starter solenoid or starter motor",)),
}  # fmt: skip
PAIR = "\n1: low beam\n2: high beam"
TALK = {
    **{
        text: PostedText(text + PAIR, 0, (APART, f"left aside: line 1: '{text}'"), (SOUND, "can't be read"))
        for text in (
            "Hi folks,", "My setup, comments welcome:", "**My list**", "My wiring plan for the 11 way:",
            "Here is my setup for the 11-way", "Note: comments welcome", "Thanks, and ride safe!",
        )
    },
    "a heading of loads": PostedText("**Loads**" + PAIR, 0, (APART,), (SOUND,), outputs=BEAMS),
    **{
        text: PostedText(text + PAIR, 2, ("line 1", "apart: not judged"), (SOUND, ": right"))
        for text in (
            "the other goes with it", "everything else as before", "the tial too", "the red wire", "and the winch",
            "My old one: see above", "the battery is big", "spliced to the loom", "Total 40", "the fog",
        )
    },
    "in a table's notes": PostedText(
        "| Out | Load | Notes |\n|--|--|--|\n| 1 | low beam | as before |\n| 2 | high beam | |", 0,
        (APART, "left aside: line 3: 'as before'"), (SOUND,),
    ),
}  # fmt: skip
NOTHING = {
    **{
        text: PostedText(f"out 1: low beam\nout 2: high beam\n{text}", 0, (APART,), (SOUND, "not clear"), outputs=BEAMS)
        for text in (
            "out 3: NOT USED", "out 3 - spare", "3: empty", "3 - tbd", "out 3: N/C", "out 3: ---", "out 3 not used",
            "out 3: (spare)", "out 3 is not used.", "outputs 4 and 5: spare",
        )
    },
    "in cells": PostedText(
        "| out | load |\n|--|--|\n| 1 | low beam |\n| 2 | high beam |\n| 3 | NOT USED |\n| 4 | --- |\n| 5 | N/C |", 0,
        (APART,), (SOUND,), outputs=BEAMS,
    ),
    "several, and nothing behind": PostedText("outputs 4 and 5:\nhorn" + BEAM, 2, ("line 1",), (SOUND, ": right")),
    "nobody knows": PostedText("out 3: ???" + BEAM, 2, ("'???' is no name",), (SOUND,)),
}  # fmt: skip
MORE = {
    f"{title}: {name}": one
    for title, cases in (
        ("columns", COLUMNS), ("beside", BESIDE), ("keys", KEYS),
        ("rear", REAR), ("sentence", SENTENCES), ("counts", COUNTS),
        ("beams", BEAM_WORDS), ("fuses", FUSES), ("talk", TALK),
        ("nothing", NOTHING),
    )
    for name, one in cases.items()
}  # fmt: skip
