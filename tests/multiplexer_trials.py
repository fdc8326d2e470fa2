"""Bikes that just keep the rule of multiplexers, and bikes that break it by the smallest step; made up."""

from rule_bikes import LAMP, OUT, Trial, bike, unit

ONE = f"{LAMP}, current: 1 A"
BUTTON = "name: button, at: neck, signal: earth, operates: lamp"
BOX = "name: gatherer, at: neck"
CODED = "name: in 1, accepts: coded"


def _bike(*inputs: str, box: str) -> str:
    return bike(ONE, inputs="}, {".join(inputs), more=f"multiplexers: [{{{BOX}, {box}}}]")


MULTIPLEXED = (
    Trial(
        "multiplexer",
        "a switch that goes straight to the unit",
        lambda does: (
            _bike(BUTTON, f"name: switch, at: neck, signal: earth, {does}", box="ways: 2, takes: earth"),
            unit(OUT, inputs=CODED),
        ),
        "operates: lamp",
        "tells: key",
    ),
    Trial(
        "multiplexer",
        "the starter's button",
        lambda part: (
            bike(
                f"{ONE}, part: {part}",
                inputs=f"{BUTTON}}}, {{name: gear, at: neck, signal: supply, tells: neutral",
                more=f"multiplexers: [{{{BOX}, ways: 1, takes: earth}}]",
            ),
            unit(
                f"{OUT}, inductive: true, switch_modes: [hold, start]",
                inputs=f"{CODED}}}, {{name: in 2, accepts: supply",
            ),
        ),
        "horn",
        "starter solenoid",
    ),
    Trial(
        "multiplexer",
        "a signal that it does not take",
        lambda takes: (_bike(BUTTON, box=f"ways: 1, takes: {takes}"), unit(OUT, inputs=CODED)),
        "earth",
        "pulse",
    ),
    Trial(
        "multiplexer",
        "more switches than ways",
        lambda ways: (
            _bike(BUTTON, BUTTON.replace("button", "other button"), box=f"ways: {ways}, takes: earth"),
            unit(OUT, inputs=CODED),
        ),
        "2",
        "1",
    ),
    Trial(
        "multiplexer",
        "an input that reads no coded signal",
        lambda accepts: (
            _bike(BUTTON, box="ways: 1, takes: earth"),
            unit(OUT, inputs=f"name: in 1, accepts: {accepts}"),
        ),
        "coded",
        "supply",
    ),
)
