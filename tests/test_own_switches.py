"""Loads with a switch of their own, by hand: both wires that are cut count, and so does a relay's coil on its way back.

Resistances: IEC 60228 class 5 at 20 C, 26.0 ohm/km for 0.75 mm2, 39.0 for 0.5 mm2; at 85 C times (234.5 + 85) /
(234.5 + 20), FAA AC 43.13-1B par. 11-66. Ampacities: 11 A for 0.5 mm2 (common practice, from memory), 45 A for
4 mm2 (12 AWG: 33 CFR 183.425 Table 5, 105 C). The bikes are made up.
"""

from fractions import Fraction

import pytest

from laid_bikes import laid_text, solved
from outcomes import planned
from portloom.base.quantities import MilliAmps
from portloom.documents.energy import energy_of
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.wiring.pieces import wiring_of
from portloom.job.consumers import Return
from portloom.job.fixed import first_conductor
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, fault_demands

HOT = Fraction("234.5") + 85, Fraction("234.5") + 20
BIKE = """
bike: trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs: [{between: [tray, neck], length: 1 m}, {between: [neck, bars], length: 3 m OPENING}]
  earth: [neck]
places: [{name: on the tray, front: tray}]
later: []
reels: [0.75 mm2]
loads: [LOADS]
inputs: []
"""
OUTPUTS = ", ".join(f"{{name: out {number}, limit: 8 A, trip: [4 A, 8 A], peak: 40 A}}" for number in (1, 2, 3))
UNIT = f"unit: trial way\nfeed: {{limit: 60 A}}\noutputs: [{OUTPUTS}]\ninputs: []\n"
PUMP = "{name: pump, at: neck, current: 3 A, kind: motor, own_switch: %s}"


def bike(*loads: str, opening: str = "") -> str:
    """Return the bike with these loads."""
    return BIKE.replace("LOADS", ", ".join(loads)).replace("OPENING", opening)


def volts(milliohms: str, metres: int, amperes: int) -> Fraction:
    """Return what is lost on so many metres of a wire of so many milliohms a metre at 20 C, hot, in microvolts."""
    return 1000 * Fraction(milliohms) * HOT[0] / HOT[1] * metres * amperes


def drop(text: str, load: str = "pump") -> Fraction:
    """Return what a load is said to lose in the best plan."""
    return next(lost.drop for line in planned(text, UNIT).outputs for lost in line.drops if lost.load == load)


# --- on a spur


def test_both_stretches_on_a_spur_lose() -> None:
    """3 A on 3 m there and 3 m back, 26.0 mohm/m x 319.5 / 254.5: 587.5 mV more than with the switch at the pump."""
    more = volts("26.0", 3 + 3, 3)
    assert float(more) == pytest.approx(587_529, abs=1)
    assert drop(bike(PUMP % "bars")) - drop(bike(PUMP % "neck")) == more


def test_the_list_cuts_what_the_plan_counts() -> None:
    """4 m to the switch and 3 m back; the plan's run is the tree, 4 m, and the spur's loom has two wires."""
    laid, found = laid_text(bike(PUMP % "bars"), UNIT), planned(bike(PUMP % "bars"), UNIT)
    assert [line.wire.run for line in found.outputs] == [4_000_000]
    (wires,) = (made for made in wiring_of(laid).circuits.values() if made[0].kind == "output")
    assert [(wire.end.kind, wire.run) for wire in wires] == [("own switch", 4_000_000), ("load", 3_000_000)]
    counts = {leg.name: leg.wires for leg in found.legs}
    without = {leg.name: leg.wires for leg in planned(bike(PUMP % "neck"), UNIT).legs}
    assert {name: counts[name] - without[name] for name in counts} == {"tray - neck": 0, "neck - bars": 2}


def test_the_bench_sheet_expects_what_both_stretches_leave() -> None:
    """A motor draws its 3 A at the bench as well: 587.5 mV less at the pump."""
    lost = {}
    for at in ("bars", "neck"):
        steps = bench_test(laid_text(bike(PUMP % at), UNIT)).steps
        (lost[at],) = (step.loses for step in steps if step.title == "pump" and step.loses is not None)
    assert lost["bars"] - lost["neck"] == volts("26.0", 6, 3)


def test_others_of_the_circuit_have_a_wire_without_the_switch() -> None:
    """A fan at the bars, 2 A, shares the output: 5 A on the way there and in a splice, then the pump's 3 A alone."""
    shared = [
        f"{load[:-1]}, share: both}}" for load in (PUMP % "bars", "{name: fan, at: bars, current: 2 A, kind: motor}")
    ]
    limit = UNIT.replace("8 A", "9 A")
    laid = laid_text(bike(*shared), limit)
    (wired,) = laid.outputs
    pump, fan = (next(load for load in wired.circuit.loads if load.name == name) for name in ("pump", "fan"))
    assert wired.legs == (0, 1, 1)
    assert wired.flows == {0: (5000,), 1: (5000, 3000)}
    plug = Fraction(wired.output.resistance + 5000) * 5
    assert wired.drop(fan, wired.drawn) == plug + volts("26.0", 4, 5) + 1000 * 5
    assert wired.drop(pump, wired.drawn) - wired.drop(fan, wired.drawn) == volts("26.0", 3, 3)


def test_a_load_beyond_its_switch_has_one_wire_more_only_where_the_circuit_goes_on() -> None:
    """With the switch on the way to the pump, one wire in each leg, as ever."""
    laid = laid_text(bike("{name: pump, at: bars, current: 3 A, kind: motor, own_switch: neck}"), UNIT)
    assert laid.outputs[0].legs == (0, 1)
    assert laid.outputs[0].flows == {0: (3000,), 1: (3000,)}


def test_both_wires_heat_what_lies_beside_them() -> None:
    """There and back on the spur, and a fan's wire and return: with 3 A and 2 A four loaded wires in one leg."""
    laid = laid_text(bike(PUMP % "bars", "{name: fan, at: bars, current: 2 A, kind: motor}"), UNIT)
    job = laid.site.job
    assert {Bundles(laid).loaded(1, case) for case in range(len(job.steady))} == {2 + 1 + 1}


@pytest.mark.parametrize(("opening", "fits"), [("4.8 mm", True), ("4.799 mm", False)])
def test_an_opening_holds_both(opening: str, *, fits: bool) -> None:
    """Two of 0.75 mm2, 1.9 mm thick (trade column), side by side are 3.8 mm, and the sleeve is 1 mm."""
    assert (solved(bike(PUMP % "bars", opening=f", opening: {opening}"), UNIT) is not None) is fits


# --- a relay's coil

RELAY = "{name: fan, at: %s, current: %s, kind: motor, fed: relay, own_switch: neck}"
LAMP = "{name: lamp, at: neck, current: 5 A, kind: motor}"
RETURN = """
bike: trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, neck], length: LENGTH}], earth: [tray]}
places: [{name: on the tray, front: tray}]
later: []
loads: [LOADS]
inputs: []
"""


def from_neck(length: str, *loads: str) -> Laid:
    """Return the best plan of a bike with its earth at the tray and these loads."""
    return laid_text(RETURN.replace("LENGTH", length).replace("LOADS", ", ".join(loads)), UNIT)


def worst(job: Job, number: int = 1) -> MilliAmps:
    """Return the most that a return from the neck carries."""
    return max(job.returned(Return("neck", number), case) for case in job.cases)


def test_the_coil_comes_back_by_the_return_at_its_switch() -> None:
    """Lamp 5 A, fan 3.5 A, coil 0.15 A: 8.65 A are told, and the lamp loses 0.15 A more on 100 mm and a splice.

    Of 1 mm2, 19.5 mohm/m, as a fault asks; the splice 1 mohm. With the switch at the tray, where the earth point is,
    the coil comes back by no wire, and by the earth point all the same.
    """
    lost = {}
    for at, returned in (("neck", 8650), ("tray", 8500)):
        fan = (RELAY % ("neck", "3.5 A")).replace("own_switch: neck", f"own_switch: {at}")
        found = planned(RETURN.replace("LENGTH", "100 mm").replace("LOADS", f"{LAMP}, {fan}"), UNIT)
        (line,) = (line for line in found.returns if line.name == "neck")
        assert (line.current, line.size.label) == (returned, "1 mm2")
        (lost[at],) = (told.drop for line in found.outputs for told in line.drops)
    assert lost["neck"] - lost["tray"] == (volts("19.5", 1, 1) / 10 + 1000) * Fraction("0.15")


@pytest.mark.parametrize(("fan", "size"), [("8.65 A", "0.5 mm2"), ("8.651 A", "0.75 mm2")])
def test_the_coil_thickens_a_return(fan: str, size: str) -> None:
    """1.25 x (8.65 + 0.15) A is the 11 A that 0.5 mm2 carries; for a milliampere more the first size is the next."""
    site = from_neck("100 mm", LAMP.replace("neck", "tray"), RELAY % ("neck", fan)).site
    (wire,) = (wire for wire in site.fixed_of("return") if wire.name == "neck")
    assert first_conductor(site, wire).size.label == size


def test_the_coil_flows_beside_a_fault() -> None:
    """The lamp's output at its trip of 8 A, the fan at 3.5 A and its coil: 11.65 A are asked of the return."""
    laid = from_neck("100 mm", LAMP, RELAY % ("neck", "3.5 A"))
    (wire,) = (wire for wire in laid.site.fixed_of("return") if wire.name == "neck")
    assert {asked.current for asked in fault_demands(laid.site.job, wire, laid.outputs[0])} == {11_650}


@pytest.mark.parametrize(("second", "returns"), [("17.85 A", 1), ("17.851 A", 2)])
def test_the_coil_fills_the_first_return(second: str, returns: int) -> None:
    """1.25 x (18 + 17.85 + 0.15) A are the 45 A of 4 mm2; what goes beyond begins a return, the coil stays."""
    fed = [
        f"{{name: {name}, at: neck, current: {draws}, kind: motor, fed: fuse, own_switch: tray}}"
        for name, draws in (("one", "18 A"), ("two", second))
    ]
    job = from_neck("100 mm", *fed, RELAY % ("tray", "1 A")).site.job
    assert len([load for load in job.loads.wired if load.back == Return("neck", 2)]) == returns - 1
    assert worst(job) == (36_000 if returns == 1 else 18_150)


# --- what the coil draws of battery and alternator


def test_the_coil_is_in_what_is_drawn_on_the_road_and_at_rest() -> None:
    """2 A and 0.15 A at 14 V, by day and asleep: 30.1 W, and 2,150 mA from the battery (common practice, no source)."""
    lamp = "{name: camp lamp, at: neck, current: 2 A, when: [asleep, day], fed: relay, own_switch: bars}"
    energy = energy_of(laid_text(bike(lamp), UNIT))
    assert next(line.drawn for line in energy.riding if line.state == "day") == 30_100
    assert energy.resting[0].drawn == 2_150_000
