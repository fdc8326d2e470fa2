"""What a plan tells of when the engine cranks. Source: common practice, no source."""

import pytest

from portloom.documents.by_part import by_part, without_part
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from small_bikes import OWN_SPARK, small_bike
from unasked import bike_from_text

UNIT = "unit: two way\nfeed: {limit: 40 A}\noutputs: [{name: out 1, limit: 10 A, peak: 60 A, trip: [10 A]}]\n"
STARTER = "{part: starter solenoid, at: engine, current: 3 A}"
HORN = "{part: horn, at: headstock, current: 3 A}"
SWITCHES = {
    "neutral": "{part: neutral switch, at: engine}",
    "brake": "{part: rear brake switch, at: pedal}",
    "stand": "{part: side stand switch, at: side stand, made: up}",
}
BY_BRAKE = "the engine cranks only with a brake on"
NO_NEUTRAL = ": no switch tells the unit of neutral"


def told(load: str, switches: str, *keys: str) -> list[str]:
    """Return what is told of cranking, for a bike with these switches."""
    text = small_bike([load], [SWITCHES[name] for name in switches.split()], OWN_SPARK, *keys)
    lines = by_part(Job(bike_from_text(text, "bike"), unit_from_text(UNIT, "unit")))
    return [line for line in lines if "cranks" in line]


@pytest.mark.parametrize(
    ("load", "switches", "clutch", "said"),
    [
        (STARTER, "brake", "automatic", [BY_BRAKE + NO_NEUTRAL]),
        (STARTER, "brake stand", "automatic", [f"{BY_BRAKE} and the side stand up{NO_NEUTRAL}"]),
        (STARTER, "brake neutral", "automatic", []),
        (STARTER, "brake neutral", "lever", ["the engine cranks only in neutral: the unit is told of nothing else"]),
        (HORN, "brake", "automatic", []),
    ],
)
def test_a_brake_lets_an_automatic_crank(load: str, switches: str, clutch: str, said: list[str]) -> None:
    """With no clutch lever and no neutral switch the starter is held back until a brake is on; that is told."""
    assert told(load, switches, f"clutch: {clutch}") == said


def test_rules_that_go_by_parts_alone_are_named() -> None:
    """Brake lamps, indicators, what stops, runs and starts the engine: no other rule needs a part to judge a load."""
    thing = "{name: thing, at: headstock, current: 3 A, kind: motor}"
    bike = bike_from_text(small_bike([thing], [], OWN_SPARK), "bike")
    slugs = "brake-lamp, indicator-pair, engine-stop, run and start"
    assert list(without_part(bike)) == [f"thing has no 'part': the rules {slugs} are not judged for it"]
