"""Bikes that just keep, and just break, the rules of engine, brake lamp, indicators, ports and cranking.

The bikes are made up. Voltages while cranking follow from U = I x R and the currents that each kind of load draws
at 9 V; what must be told, and what a port takes, is common practice, no source, and the unit's profile.
"""

from dataclasses import replace

from heat_trials import HOT
from outcomes import reseated
from portloom.job.assignment import Assignment
from rule_bikes import IN, LAMP, OUT, SECOND, Texts, Trial, bike, unit

SWITCH = "name: switch, at: tray, signal: earth"
ALL_TOLD = "neutral, clutch, side stand, engine stop, engine turning, front brake, rear brake"
BRAKE_LAMP = f"{LAMP}, current: 2 A, part: brake lamp, when: braking"
LEFT = "part: left indicator, at: neck, current: 1 A, when: indicating left"


def told(load: str, what: str, more: str = "", modes: str = "steady") -> Texts:
    """Write a bike with one load on the unit, and one switch that tells something."""
    inputs = f"{SWITCH}, tells: [{what}]"
    return bike(load, inputs=inputs, more=more), unit(f"{OUT}, switch_modes: [{modes}]", inputs=IN)


def without(*left_out: str) -> str:
    """Return what is told, less some of it."""
    return ", ".join(word for word in ALL_TOLD.split(", ") if word not in left_out)


SOLENOID = f"{LAMP}, current: 2 A, part: starter solenoid, when: cranking"
ENGINE_MODES = {"ignition box": "steady", "engine controller": "steady", "fuel pump": "engine-run"}
OWN = "own switch"


def by_two(load: str, word: str, inputs: str, modes: str = "steady") -> Texts:
    """Write a bike with one load, a switch that tells one thing, and one that tells all else."""
    switches = f"{SWITCH}, tells: [{without(word)}]}}, {{{SWITCH.replace('switch', OWN)}, tells: {word}"
    port = f"names: [{inputs}], accepts: earth"
    return bike(load, inputs=switches), unit(f"{OUT}, switch_modes: [{modes}]", inputs=port)


def own_switch_off(plan: Assignment) -> Assignment:
    """Take the switch that tells one thing off its input, and leave the other on the first."""
    kept = (line for line in plan.inputs if OWN not in line.switches)
    return reseated(plan, inputs=tuple(replace(line, port="in 1") for line in kept))


def not_wired(rule: str, load: str, word: str, modes: str = "steady") -> Trial:
    """Return the trial of a unit without an input for the switch of one thing: no rule lets that switch be left off."""
    return Trial(
        rule,
        f"{load.partition('part: ')[2].partition(',')[0]}, and the switch that tells {word} is on no input",
        lambda inputs: by_two(load, word, inputs, modes),
        "in 1, in 2",
        "in 1",
        own_switch_off,
        alone=False,
    )


ENGINE = (
    *(not_wired("start", SOLENOID, word, "start") for word in ("neutral", "clutch", "side stand")),
    Trial(
        "start",
        "with an automatic clutch, neither neutral nor a brake",
        lambda what: told(SOLENOID, what, "clutch: automatic", "start"),
        "rear brake",
        "clutch",
    ),
    *(
        not_wired("run", f"{LAMP}, current: 2 A, part: {part}", word, modes)
        for word in ("side stand", "neutral")
        for part, modes in ENGINE_MODES.items()
    ),
    *(
        Trial(
            "engine-stop",
            f"{part}, and nobody tells of engine stop",
            lambda what, part=part, modes=modes: told(f"{LAMP}, current: 2 A, part: {part}", what, modes=modes),  # type: ignore[misc]
            ALL_TOLD,
            without("engine stop"),
        )
        for part, modes in ENGINE_MODES.items()
    ),
    Trial(
        "engine-stop",
        "where the key alone stops it, nothing more is needed",
        lambda more: told(f"{LAMP}, current: 2 A, part: ignition box", "key", more),
        "engine_stop: key",
        "",
    ),
)


def pair(part: str) -> tuple[tuple[str, str], ...]:
    """Return the ends of a side and what sits there."""
    return (("front", "left indicator"), ("rear", part))


SAFETY = (
    *(
        Trial(
            "brake-lamp",
            f"nobody tells of the {word}",
            lambda what: told(BRAKE_LAMP, what, modes="hold"),
            "front brake, rear brake",
            "front brake" if word == "rear brake" else "rear brake",
        )
        for word in ("front brake", "rear brake")
    ),
    Trial(
        "brake-lamp",
        "one brake is enough where there is one",
        lambda brakes: told(BRAKE_LAMP, "rear brake", f"brakes: {brakes}", "hold"),
        "one",
        "two",
    ),
    Trial(
        "brake-lamp",
        "neither brake, where there is one",
        lambda what: told(BRAKE_LAMP, what, "brakes: one", "hold"),
        "front brake",
        "key",
    ),
    Trial(
        "indicator-pair",
        "one alone",
        lambda part: (
            bike(*(f"name: {end}, {LEFT.replace('left indicator', is_a)}, mode: flash" for end, is_a in pair(part))),
            unit(f"{OUT}, switch_modes: flash", f"{SECOND}, switch_modes: flash"),
        ),
        "left indicator",
        "tail lamp",
    ),
    Trial(
        "indicator-pair",
        "one that does not flash",
        lambda mode: (
            bike(f"name: front, {LEFT}, mode: flash", f"name: rear, {LEFT}, mode: {mode}"),
            unit(*(f"{out}, switch_modes: [steady, flash]" for out in (OUT, SECOND))),
        ),
        "flash",
        "steady",
    ),
    Trial(
        "indicator-pair",
        "worked by different switches",
        lambda operated: (
            bike(
                *(f"name: {end}, {LEFT}, mode: flash" for end in ("front", "rear")),
                inputs=f"{SWITCH}, operates: [{operated}]",
            ),
            unit(f"{OUT}, switch_modes: flash", f"{SECOND}, switch_modes: flash", inputs=IN),
        ),
        "front, rear",
        "front",
    ),
)
PORTS = (
    *(
        Trial(
            "inductive",
            f"a bare {kind}",
            lambda takes, kind=kind: (  # type: ignore[misc]
                bike(f"{LAMP}, current: 2 A, kind: {kind}"),
                unit(f"{OUT}, inductive: {takes}"),
            ),
            "true",
            "false",
        )
        for kind in ("motor", "horn", "ignition coil", "relay coil")
    ),
    Trial(
        "inductive",
        "its suppressor",
        lambda has: (bike(f"{LAMP}, current: 2 A, kind: horn, suppressed: {has}"), unit(f"{OUT}, inductive: false")),
        "true",
        "false",
    ),
    Trial(
        "inductive",
        "fed from a lamp's circuit",
        lambda kind: (
            bike(f"{LAMP}, current: 2 A", f"name: buzzer, at: neck, current: 1 A, kind: {kind}, from: lamp"),
            unit(f"{OUT}, inductive: false"),
        ),
        "electronics",
        "horn",
    ),
    *(
        Trial(
            "key-off",
            about,
            lambda live, when=when: (bike(f"{LAMP}, current: 2 A, {when}"), unit(f"{OUT}, key_off: {live}")),  # type: ignore[misc]
            keeps,
            breaks,
        )
        for about, when, keeps, breaks in (
            ("asleep", "when: [asleep, day]", "always", "timed"),
            ("parked", "when: [parked, day]", "timed", "never"),
            ("in run-on", "when: [run-on, day]", "timed", "never"),
            ("a fan after the ride", "when: fan running", "timed", "never"),
            ("with a time to run on", "when: day, run_on: 3 min", "timed", "never"),
        )
    ),
    Trial(
        "key-off",
        "an event that comes when parked",
        lambda states: (
            bike(f"{LAMP}, current: 2 A, when: hazard", more=f"events: {{hazard: {{in: [{states}]}}}}"),
            unit(f"{OUT}, key_off: never"),
        ),
        "key on, day",
        "parked, day",
    ),
    # 50 mohm x 10 A at the earth point of the neck, where the switch has its earth too.
    Trial(
        "signal",
        "its earth lifted",
        lambda current: (
            bike(
                f"{LAMP}, current: {current}",
                inputs=f"{SWITCH.replace('tray', 'neck')}, operates: lamp",
                more="assume: {earth point: 50 mohm}",
            ),
            unit(OUT, inputs=IN),
        ),
        "10 A",
        "10.001 A",
    ),
)
# 4 A at 14 V are 6.223 A at 9 V. A plan is judged with 150 mV on the feed's wire; the main fuse of 20 A loses 31.115
# mV, the earth point 12.446 mV, output and its plug 93.345 mV, the load's plug 31.115 mV, 509 mm of 1 mm2 at 85 C,
# 19.5 x 0.509 x 319.5 / 254.5 = 12.4605 mohm, 77.542 mV.
STARTING = f"{LAMP}, current: 4 A, kind: electronics, when: [cranking, day]"
CRANKING = (
    Trial(
        "cranking",
        "the unit",
        lambda lowest: (bike(STARTING), unit(OUT, feed=f"limit: 40 A, fuse_max: 20 A, lowest: {lowest}")),
        "8.818 V",
        "8.819 V",
    ),
    Trial(
        "cranking",
        "a load",
        lambda low: (bike(f"{STARTING}, lowest: {low}"), unit(OUT, feed="limit: 40 A, fuse_max: 20 A")),
        "8.604 V",
        "8.605 V",
    ),
)
FULL = (*ENGINE, *SAFETY, *PORTS, *CRANKING, *HOT)
