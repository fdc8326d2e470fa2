"""What is set on the unit for start, run and with the key off.

Conditions of start and run: common practice, no source.
"""

import pytest

from laid_bikes import EACH_FITTING, laid_example
from portloom.base.vocabulary import Told
from portloom.documents.wiring.settings import OutputSetting, settings_of
from portloom.rules.practice import may_crank

TWO_WAYS = "only in neutral, or with the clutch pulled and the side stand up"


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (("neutral", "clutch", "side stand"), TWO_WAYS),
        (("side stand", "clutch", "neutral"), TWO_WAYS),
        (("neutral", "clutch"), "only in neutral, or with the clutch pulled"),
        (("neutral", "side stand"), "only in neutral and with the side stand up"),
        (("clutch", "side stand"), "only with the clutch pulled and the side stand up"),
        (("neutral",), "only in neutral"),
        (("side stand",), "only with the side stand up"),
        (("neutral", "front brake"), "only in neutral"),
        (("front brake", "rear brake"), "only with front brake or rear brake on"),
        (("rear brake", "side stand"), "only with rear brake on and the side stand up"),
        ((), ""),
    ],
)
def test_when_the_engine_may_be_cranked(told: tuple[Told, ...], said: str) -> None:
    """By what the unit is told, whatever the order."""
    assert may_crank(dict.fromkeys(told, "")) == said


def outputs(bike: str, unit: str) -> dict[str, OutputSetting]:
    """Return the settings of an example's outputs by each load's name."""
    return {load.load: line for line in settings_of(laid_example(bike, unit)).outputs for load in line.loads}


def test_start_and_run_say_what_they_rest_on() -> None:
    """Each condition with the input that tells it."""
    found = outputs("market-parallel", "fourteen-way")
    told = {line.switch: line.port for line in settings_of(laid_example("market-parallel", "fourteen-way")).inputs}
    neutral, clutch, stand = (f"({told[f'{one} switch']})" for one in ("neutral", "clutch", "side stand"))
    assert found["starter solenoid"].conditions == (
        f"cranks only in neutral {neutral}, or with the clutch pulled {clutch} and the side stand up {stand}",
        f"never cranks with engine stop ({told['engine stop switch']})",
    )
    assert found["fuel pump"].conditions == (
        f"off with engine stop ({told['engine stop switch']})",
        f"off with the side stand down {stand}, unless in neutral {neutral}",
        f"only while the engine turns ({told['engine speed signal']})",
    )
    assert found["horn"].conditions == ()


def test_without_a_clutch_lever_the_starter_rests_on_neutral_and_stand() -> None:
    said, _ = outputs("sidecar-hauler", "twenty-way")["starter solenoid"].conditions
    assert said.startswith("cranks only in neutral (")
    assert ") and with the side stand up (" in said


@EACH_FITTING
def test_an_output_is_live_with_the_key_off_only_where_a_load_wants_it(bike: str, unit: str) -> None:
    """Asleep: on; parked, running on, or an event that may come then: for a time; else off, whatever it could do."""
    laid = laid_example(bike, unit)
    file = laid.site.job.bike
    loads = {load.name: load for load in file.loads}
    for line in settings_of(laid).outputs:
        here = [loads[one.load] for one in line.loads if one.load in loads]
        states = {state for load in here for state in load.when or ()}
        states |= {state for name, event in file.events.items() if name in states for state in event.in_ or ()}
        timed = states & {"parked", "run-on"} or any(load.run_on for load in here)
        assert line.key_off == ("always" if "asleep" in states else "timed" if timed else "never")
