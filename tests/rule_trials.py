"""A bike that just keeps each rule, and one that breaks it by the smallest step.

The bikes are made up. The limits that they meet exactly are those of the rules' own sources: 12 A x 1.25 on
15 A (common practice, no source); 20 A on 1 mm2 (33 CFR 183.425 Table 5, 18 AWG) and 11 A on 0.5 mm2 (from
memory); steps of 15 and 20 A (ISO 8820-3); lost voltage by U = I x R.
"""

from full_trials import FULL
from multiplexer_trials import MULTIPLEXED
from rule_bikes import IN, LAMP, OTHER, OUT, SECOND, Trial, all_on_the_first, bike, unit

TWO_LAMPS = bike(f"{LAMP}, current: 5 A", f"{OTHER}, current: 5 A")
ONE, TWO = f"{LAMP}, current: 1 A", f"{OTHER}, current: 1 A"
BLINKING = ((LAMP, "indicating left"), (OTHER, "indicating right"))
SHARED = f"{OUT}, trip: 2.5 A, switch_modes: [steady, flash]"
HORN = "name: horn, at: bracket, current: 2 A"
BUTTON = "name: button, at: neck, signal: earth"

COVERING = (
    Trial(
        "cover",
        "a load without an output",
        lambda loads: (bike(*loads.split("; ")), unit(OUT)),
        f"{LAMP}, current: 5 A",
        f"{LAMP}, current: 5 A; {OTHER}, current: 5 A",
    ),
    Trial(
        "cover",
        "a fed load that is cut off",
        lambda leg: (bike(ONE, f"{HORN}, fed: fuse, own_switch: tray, avoid: [{leg}]"), unit(OUT)),
        "",
        "neck - bracket",
    ),
    Trial(
        "outputs",
        "more circuits than outputs",
        lambda second: (TWO_LAMPS, unit(OUT, *second.split("; "))),
        SECOND,
        f"{OUT.replace('out 1', 'out 3')}, switch_modes: flash",
        all_on_the_first,
    ),
    Trial(
        "inputs",
        "more switches than inputs",
        lambda names: (
            bike(ONE, inputs=f"{BUTTON}, operates: lamp}}, {{{BUTTON.replace('button', 'key')}, operates: lamp"),
            unit(OUT, inputs=f"names: [{names}], accepts: earth"),
        ),
        "in 1, in 2",
        "in 1",
        all_on_the_first,
    ),
)
CURRENTS = (
    Trial(
        "trip", "its highest value", lambda steady: (bike(f"{LAMP}, current: {steady}"), unit(OUT)), "12 A", "12.001 A"
    ),
    Trial("trip", "the peak", lambda inrush: (bike(f"{ONE}, inrush: {inrush}"), unit(OUT)), "60 A", "60.001 A"),
    # An inrush of twice the trip is held for 1 s.
    Trial(
        "trip",
        "its curve",
        lambda time: (
            bike(f"{LAMP}, current: 2 A, inrush: 30 A, inrush_for: {time}", f"{OTHER}, current: 12 A"),
            unit(*(f"{out}, trip_curve: [[2 x, 1 s], [6 x, 50 ms]]" for out in (OUT, SECOND))),
        ),
        "1 s",
        "1001 ms",
    ),
    # Out 1, where the lamp alone would trip at 2 A, is needed by the other.
    Trial(
        "main-fuse",
        "a trip as high",
        lambda trip: (
            bike(ONE, f"{TWO}, mode: flash"),
            unit(
                f"{OUT}, trip: 2 A, switch_modes: [steady, flash]",
                f"{SECOND}, trip: {trip}",
                feed="limit: 40 A, fuse_max: 3 A",
            ),
        ),
        "2.999 A",
        "3 A",
    ),
    # 12 A x 1.25 is 15 A, above the trip of 15 A comes 20 A.
    Trial(
        "main-fuse",
        "a feed too thin for it",
        lambda size: (bike(f"{LAMP}, current: 12 A"), unit(OUT, feed=f"limit: 40 A, wire_max: {size}")),
        "1 mm2",
        "0.75 mm2",
        alone=False,  # which main fuses there may be is settled before any rule is asked
    ),
    # 12 A x 1.25 is 15 A, above the trip of 15 A comes 20 A.
    Trial(
        "main-fuse",
        "a unit too small for it",
        lambda most: (bike(f"{LAMP}, current: 12 A"), unit(OUT, feed=f"limit: 40 A, fuse_max: {most}")),
        "20 A",
        "15 A",
    ),
    # A unit that does not say what main fuse it takes: the largest step within its limit.
    Trial(
        "main-fuse",
        "a limit just below a step",
        lambda limit: (bike(f"{LAMP}, current: 12 A"), unit(OUT, feed=f"limit: {limit}")),
        "20 A",
        "19.999 A",
    ),
    Trial(
        "main-fuse",
        "more than it carries for good",
        lambda steady: (
            bike(f"{LAMP}, current: 8 A", f"{OTHER}, current: {steady}"),
            unit(f"{OUT}, trip: 10 A", f"{SECOND}, trip: 10 A", feed="limit: 40 A, fuse_max: 20 A"),
        ),
        "8 A",
        "8.001 A",
        alone=False,
    ),
    Trial(
        "bank",
        "its limit",
        lambda limit: (TWO_LAMPS, unit(f"{OUT}, bank: A", f"{SECOND}, bank: A", banks=f"A: {limit}")),
        "10 A",
        "9.999 A",
    ),
    # Left and right never come together; with hazard, both do.
    Trial(
        "bank",
        "its limit in one case",
        lambda hazard: (
            bike(*(f"{lamp}, current: 5 A, when: [{when}{hazard}]" for lamp, when in BLINKING)),
            unit(f"{OUT}, bank: A", f"{SECOND}, bank: A", banks="A: 5 A"),
        ),
        "",
        ", hazard",
    ),
    Trial(
        "unit-total",
        "its limit",
        lambda limit: (
            TWO_LAMPS,
            unit(f"{OUT}, trip: 8 A", f"{SECOND}, trip: 8 A", feed=f"limit: {limit}, fuse_max: 15 A"),
        ),
        "10 A",
        "9.999 A",
    ),
)
WIRES = (
    # 2 A: fuse of 4 A 50 mV, output and its plug 30.79 mV, the lamp's plug 10 mV, earth point 4 mV, and on the feed
    # 5.09 m of 19.5 mohm/m at 85 C, 19.5 x 5.09 x 319.5 / 254.5 = 124.605 mohm, 249.21 mV: together 344 mV.
    Trial(
        "wire",
        "the voltage lost",
        lambda limit: (
            bike(
                f"{LAMP}, current: 2 A", neck="5090 mm", more=f"reels: [1 mm2]\nlimits: {{drop: {{other: {limit}}}}}"
            ).replace("front: tray", "front: neck"),
            unit(f"{OUT}, trip: 3 A, resistance: 10.395 mohm", feed="limit: 40 A, fuse_max: 4 A"),
        ),
        "344 mV",
        "343 mV",
    ),
    Trial(
        "wire",
        "tails that the trip does not protect",
        lambda trip: (bike(f"{ONE}, leads: 0.5 mm2"), unit(f"{OUT}, trip: {trip}")),
        "11 A",
        "11.001 A",
    ),
    Trial(
        "wire",
        "a terminal too small for the trip",
        lambda trip: (bike(ONE), unit(f"{OUT}, trip: {trip}, wire_max: 0.5 mm2")),
        "11 A",
        "11.001 A",
        alone=False,  # there is no wire that could be laid
    ),
    # Four of 2 mm: 1.25 x sqrt(4 x 4) = 5 mm, and the sleeve's 1 mm.
    Trial(
        "opening",
        "its area",
        lambda opening: (
            bike(
                ONE,
                leg=f", opening: {opening}",
                more="alongside: [{name: pipes, from: neck, to: bracket, diameter: 2 mm, count: 4}]",
            ),
            unit(OUT),
        ),
        "6 mm",
        "5.999 mm",
    ),
    # 3 mm and 2 mm side by side are 5 mm, and 1.25 x sqrt(9 + 4) is only 4.507 mm; the sleeve's 1 mm.
    Trial(
        "opening",
        "two side by side",
        lambda opening: (
            bike(
                ONE,
                leg=f", opening: {opening}",
                more="alongside: [{name: hose, from: neck, to: bracket, diameter: 3 mm}, "
                "{name: pipe, from: neck, to: bracket, diameter: 2 mm}]",
            ),
            unit(OUT),
        ),
        "6 mm",
        "5.999 mm",
    ),
)
DRIVING = (
    Trial(
        "mode",
        "an output that can't dim",
        lambda dims: (bike(f"{ONE}, kind: heater, mode: dim"), unit(f"{OUT}, pwm: {dims}")),
        "true",
        "false",
    ),
    Trial(
        "mode",
        "a load that can't be dimmed",
        lambda dims: (bike(f"{ONE}, kind: led, mode: dim, dims: {dims}"), unit(f"{OUT}, pwm: true")),
        "true",
        "false",
    ),
    *(
        Trial(
            "share",
            about,
            lambda more: (bike(f"{ONE}, share: lamps", f"{TWO}, {more}"), unit(SHARED)),
            "share: lamps",
            breaks,
            # The search groups only what names a common group; brake lamp and ignition ask for more than this rule.
            alone="share: lamps" in breaks and "part" not in breaks,
        )
        for about, breaks in (
            ("another group", "share: others"),
            ("no group", "part: tail lamp"),
            ("another mode", "share: lamps, mode: [steady, flash]"),
            ("another time", "share: lamps, when: day"),
            ("another exception", "share: lamps, except: night"),
            ("a brake lamp", "share: lamps, part: brake lamp"),
            ("an ignition", "share: lamps, part: ignition"),
        )
    ),
    Trial(
        "share",
        "another switch",
        lambda operated: (
            bike(f"{ONE}, share: lamps", f"{TWO}, share: lamps", inputs=f"{BUTTON}, operates: [{operated}]"),
            unit(SHARED, inputs=IN),
        ),
        "lamp, other",
        "lamp",
    ),
    Trial(
        "share",
        "dipped and main beam",
        lambda part: (
            bike(f"{ONE}, part: dipped beam, share: beams", f"{TWO}, part: {part}, share: beams"),
            unit(SHARED),
        ),
        "dipped beam",
        "main beam",
    ),
    Trial(
        "engine-run",
        "nobody tells that the engine turns",
        lambda told: (
            bike(f"{ONE}, mode: engine-run", inputs=f"{BUTTON}, tells: {told}"),
            unit(f"{OUT}, switch_modes: engine-run", inputs=IN),
        ),
        "engine turning",
        "neutral",
    ),
    Trial(
        "follow",
        "an output away from its switch",
        lambda operated: (
            bike(ONE, TWO, inputs=f"{BUTTON}, operates: [{operated}]"),
            unit(f"{OUT}, follow: in 1", f"{SECOND}, follow: in 1", inputs=IN),
        ),
        "lamp, other",
        "other",
    ),
)
PULSING = "name: in 1, accepts: pulse, pulse: {up_to: 30 V, rate: 1 kHz}"
SIGNALS = (
    Trial(
        "signal",
        "a signal that is not read",
        lambda read: (bike(ONE, inputs=f"{BUTTON}, operates: lamp"), unit(OUT, inputs=f"name: in 1, accepts: {read}")),
        "[supply, earth]",
        "supply",
    ),
    *(
        Trial(
            "signal",
            about,
            lambda figures: (
                bike(ONE, inputs=f"name: sensor, at: neck, signal: pulse, tells: neutral, {figures}"),
                unit(OUT, inputs=PULSING),
            ),
            keeps,
            breaks,
        )
        for about, keeps, breaks in (
            ("pulses too high", "level: 30 V", "level: 30.001 V"),
            ("pulses too fast", "rate: 1 kHz", "rate: 1000.001 Hz"),
        )
    ),
    *(
        Trial(
            "signal",
            about,
            lambda other: (
                bike(
                    ONE,
                    TWO,
                    inputs=f"{BUTTON}, operates: [lamp, other], share: beams}}, {{name: flash, at: neck, {other}",
                ),
                unit(OUT, SECOND, inputs=IN),
            ),
            "signal: earth, operates: [other, lamp], share: beams",
            breaks,
            alone="share: beams" in breaks,  # the search groups only what names a common group
        )
        for about, breaks in (
            ("switches of another group", "signal: earth, operates: [lamp, other], share: others"),
            ("switches that do not say the same", "signal: earth, operates: [other], share: beams"),
            ("switches unlike at rest", "signal: earth, operates: [lamp, other], share: beams, normally: closed"),
            ("switches that pull another way", "signal: coded, operates: [lamp, other], share: beams"),
        )
    ),
)
SMALL = "name: out 2, limit: 2 A"
CODED = "name: in 1, accepts: earth}, {name: in 2, accepts: coded"
DECIDED = (
    Trial(
        "decided",
        "a load held to an output",
        lambda port: (bike(f"{LAMP}, current: 5 A, on: {port}"), unit(OUT, SMALL)),
        "out 1",
        "out 2",
    ),
    Trial(
        "decided",
        "a load kept off an output",
        lambda port: (bike(f"{LAMP}, current: 5 A, not_on: {port}"), unit(OUT, SMALL)),
        "out 2",
        "out 1",
    ),
    Trial(
        "decided",
        "an output out of use",
        lambda port: (bike(f"{LAMP}, current: 5 A", more=f"out_of_use: {{{port}: burnt}}"), unit(OUT, SMALL)),
        "out 2",
        "out 1",
    ),
    Trial(
        "decided",
        "a switch held to an input",
        lambda port: (bike(ONE, inputs=f"{BUTTON}, operates: lamp, on: {port}"), unit(OUT, inputs=CODED)),
        "in 1",
        "in 2",
    ),
)
ALIKE = (
    Trial(
        "alike",
        "two loads on outputs of two limits",
        lambda limit: (
            TWO_LAMPS + "alike: [[lamp, other]]\n",
            unit(f"{OUT}, trip: 10 A", f"name: out 2, limit: {limit}, trip: 10 A"),
        ),
        "15 A",
        "15.001 A",
    ),
    Trial(
        "alike",
        "two loads on outputs with other trips",
        lambda trips: (
            TWO_LAMPS + "alike: [[lamp, other]]\n",
            unit(f"{OUT}, trip: [8 A, 10 A]", f"{SECOND}, trip: [{trips}]"),
        ),
        "10 A, 8 A",
        "10 A, 8.001 A",
    ),
)
TRIALS = (*DECIDED, *ALIKE, *COVERING, *CURRENTS, *WIRES, *DRIVING, *SIGNALS, *MULTIPLEXED, *FULL)
