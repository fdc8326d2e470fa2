"""What dropping facts means to the independent 'has it a plan?': what stays, what goes along, what is counted as whole.

Bikes and sums by hand; the units are those of ``fact_trials``, where the figures have their sources.
"""

import pytest

from fact_trials import (
    APART,
    CROWD,
    DIMMED,
    FINE,
    FOLLOWING,
    HALF,
    IN,
    IT,
    OTHER,
    OUT,
    PLAIN,
    SECOND_BUTTON,
    SWITCH,
    TOGETHER,
    texts,
    without,
)
from oracle.facts import Key, all_facts
from oracle.kept import has_plan


def test_every_fact_has_its_key() -> None:
    """A lamp, a fan by a relay and a tell-tale of the lamp, with one thing of each sort; nothing more is a fact."""
    lamp = f"{IT}, part: tail lamp, lamp: W5W, mode: dim, share: both, lowest: 8 V, when: [cranking, day]"
    spark = "name: spark, at: head, part: ignition, current: 1 A, kind: ignition coil, share: both"
    fan = "name: fan, at: head, part: fan, kind: motor, current: 5 A, fed: relay"
    tap = "name: tap, at: head, power: 1 W, kind: led, from: [it]"
    first, second = f"{SWITCH}, signal: earth, tells: [side stand, neutral], share: bar", f"{SECOND_BUTTON}, share: bar"
    priced = f"{OUT.replace(' a', ' b')}, price: 2"
    bike, unit = texts(
        *(lamp, spark, fan, tap),
        outputs=(f"{FINE}, follow: in 2, wire_max: 4 mm2, bank: B", priced, "names: [c, d], limit: 4 A"),
        banks="B: 9 A",
        feed="limit: 20 A, wire_max: 10 mm2, lowest: 7 V",
        switches=(first, second),
        inputs=("names: [in 1, in 2, in 3], accepts: [earth]",),
        leg=", opening: 20 mm",
    )
    of_loads: set[Key] = {
        (what, name) for what in ("load", "current") for name in ("it", "spark", "fan", "tap", "fan relay")
    }
    of_loads |= {("inrush", name) for name in ("it", "spark", "tap", "fan relay")}
    of_loads |= {("mode", name) for name in ("it", "spark", "fan relay")}
    of_loads |= {("kind", name) for name in ("it", "spark", "fan relay")}
    of_switches: set[Key] = {(what, name) for what in ("switch", "signal") for name in ("switch", "second")}
    others: set[Key] = {
        *(("load lowest", "it"), ("ban", "it", "spark"), ("switch ban", "switch", "second")),
        *(
            ("opening", "battery - head"),
            ("bank", "B"),
            ("total", "unit"),
            ("fuse", "unit"),
            ("terminal", "feed"),
            ("terminal", "a"),
        ),
        *(("drop", "position lamps"), ("drop", "engine"), ("drop", "other"), ("unit lowest", "unit")),
        *(("outputs", "a"), ("outputs", "b"), ("outputs", "c"), ("inputs", "in 1"), ("inputs", "in 2")),
        *(("told", "run", "side stand"), ("told", "run", "neutral"), ("told", "engine-stop", "engine stop")),
        ("told", "follow", "in 2"),
    }
    found = all_facts(bike, unit)
    assert set(found) == of_loads | of_switches | others
    assert len(found) == len(set(found))
    aside: set[Key] = {("told", "run", "side stand"), ("told", "run", "neutral"), ("switch ban", "switch", "second")}
    aside |= {("load lowest", "it"), ("unit lowest", "unit"), ("kind", "spark"), ("kind", "fan relay")}
    aside |= {("signal", "switch"), ("signal", "second")}
    told = "set_aside: {run: agreed, cranking: agreed, inductive: agreed, signal: agreed}\n"
    assert set(found) - set(all_facts(bike + told, unit)) == aside


def test_a_ban_stays_whatever_else_is_dropped() -> None:
    """Loads of two modes do not share because the mode of one is dropped, nor do those of one mode part."""
    broken, kept = ((APART[0].replace("WORD", word), APART[1]) for word in ("hold", "steady"))
    assert not without(broken, ("mode", "it"))
    assert without(kept, ("mode", "it"))


def test_loads_whose_ban_is_dropped_want_both_their_modes() -> None:
    """One output for both must have the modes of both, unless a mode is dropped too."""
    bike, unit = texts(f"{HALF}, mode: hold", OTHER, outputs=(TOGETHER.replace(", hold", ""),))
    ban = ("ban", "it", "other")
    assert [without((bike, unit), ban), without((bike, unit), ban, ("mode", "it"))] == [False, True]


def test_a_load_that_does_not_want_to_dim_is_not_asked_to() -> None:
    """Beside one that is dimmed, its ban dropped, electronics need not take dimming."""
    outputs = (f"{TOGETHER}, pwm: true",)
    dimmed, other = f"{HALF}, mode: dim", "name: other, at: head, current: 1 A, inrush: 1 A, share: both"
    assert without(texts(dimmed, other, outputs=outputs), ("ban", "it", "other"))
    assert not without((DIMMED[0].replace("WORD", "electronics"), DIMMED[1]), ("current", "it"))


def test_what_is_left_out_still_tells_operates_and_makes_a_pair() -> None:
    """A switch without a port still tells and is still followed; the other half of a pair counts though left out."""
    bike, unit = FOLLOWING
    followed = bike.replace("WORD", "it").replace("signal: earth", "signal: supply")
    assert [without((followed, unit)), without((followed, unit), ("switch", "switch"))] == [False, True]
    switch, output = f"{SWITCH}, signal: supply, tells: engine turning", f"{OUT}, switch_modes: engine-run"
    spark = texts(f"{PLAIN}, mode: engine-run", outputs=(output,), switches=(switch,))
    assert [without(spark), without(spark, ("switch", "switch"))] == [False, True]
    left = "part: left indicator, mode: flash"
    pair = texts(f"{PLAIN}, {left}", f"{OTHER}, {left}", outputs=(f"{OUT}, switch_modes: flash",))
    assert [without(pair), without(pair, ("load", "other"))] == [False, True]
    assert not without(texts(f"{PLAIN}, {left}", outputs=(f"{OUT}, switch_modes: flash",)), ("mode", "it"))


def test_a_pair_of_indicators_is_judged_by_what_is_kept() -> None:
    """One that does not flash bars both; without its mode it does not, nor if it is left out itself."""
    left = "part: left indicator"
    outputs = (f"{FINE}, switch_modes: [flash, steady]", f"{FINE.replace(' a', ' b')}, switch_modes: [flash, steady]")
    pair = texts(f"{PLAIN}, {left}", f"{OTHER}, {left}, mode: steady", outputs=outputs)
    ways = [(), (("mode", "it"),), (("mode", "other"),), (("load", "other"),), (("load", "it"),)]
    assert [without(pair, *dropped) for dropped in ways] == [False, False, True, True, False]


def test_a_guest_without_its_feeders_is_not_there() -> None:
    """A tell-tale with an inrush of 31 A on a peak of 30 A goes with the load that it is fed from."""
    bike = texts(
        f"{IT}, current: 900 mA", "name: tap, at: head, current: 10 mA, inrush: 31 A, from: [it]", outputs=(FINE,)
    )
    dropped: tuple[Key, ...] = (("load", "tap"), ("inrush", "tap"), ("load", "it"), ("current", "tap"))
    assert [without(bike, key) for key in dropped] == [True, True, True, False]


def test_drops_are_counted_with_the_main_fuse_that_is_chosen() -> None:
    """10 A ask for 15 A, which 1 mm2 does not carry beside a run and a return (14 A); 2 A may have 3 to 10 A: 10 mohm.

    2 A lose 150 + 70 mV in feed and return, and 2 x (10 + 5 + 10 + 12.4605 + 5 + 1 + 2) = 90.9 mV in fuse, unit plug,
    output, run, load plug, splice and earth point; with the least fuse of 3 A it would be 46.7 mV more.
    """
    lamp, other = f"{IT}, part: tail lamp, current: 2 A, kind: heater", "name: other, at: battery, current: 8 A"
    outputs, feed = (
        ("name: a, limit: 2.5 A, peak: 30 A", "name: b, limit: 10 A, peak: 30 A"),
        "limit: 20 A, fuse_max: 15 A",
    )
    for limit, fits in (("311 mV", True), ("310 mV", False)):
        bike = texts(lamp, other, outputs=outputs, feed=feed, more=f"limits: {{drop: {{position lamps: {limit}}}}}")
        assert [without(bike), without(bike, ("load", "other"))] == [False, fits]


def test_no_main_fuse_is_above_a_trip_and_within_a_terminal() -> None:
    """10.4 A trip at 13 A; the feed's terminal takes 0.5 mm2, which carries 11 A (common practice), so 10 A at most."""
    output = "name: a, limit: 13 A, trip: [5 A, 13 A], peak: 60 A"
    feed = "limit: 20 A, wire_max: 0.5 mm2"
    bike = texts(f"{IT}, current: 10.4 A, kind: heater", outputs=(output,), feed=feed, reels="0.5 mm2, 2.5 mm2")
    conflict = {("load", "it"), ("current", "it"), ("terminal", "feed")}
    assert not has_plan(*bike, conflict)
    assert all(has_plan(*bike, conflict - {key}) for key in conflict)


def test_the_main_fuse_of_what_is_kept_may_be_smaller() -> None:
    """0.5 mm2 takes a fuse of 10 A, for 8 A at most: 4 A and 4.1 A have none together, each has alone."""
    outputs = ("names: [a, b], limit: 6 A, peak: 30 A",)
    feed = "limit: 20 A, wire_max: 0.5 mm2"
    loads = (f"{IT}, current: 4 A, kind: heater", "name: other, at: battery, current: 4.1 A, kind: heater")
    bike = texts(*loads, outputs=outputs, feed=feed, reels="0.5 mm2, 2.5 mm2")
    dropped: tuple[Key, ...] = (("load", "other"), ("current", "it"), ("terminal", "feed"), ("fuse", "unit"))
    assert [without(bike, key) for key in dropped] == [True, True, True, False]


def test_ports_that_are_added_share_the_bank() -> None:
    """Two of 1 A on as many outputs as wanted still draw 2 A from their bank."""
    bike, unit = CROWD
    banked = unit.replace("names: WORD,", "names: [a], bank: B,").replace("banks: {}", "banks: {B: 1.9 A}")
    assert not without((bike, banked), ("outputs", "a"))
    assert without((bike, banked), ("outputs", "a"), ("bank", "B"))


def test_inputs_that_are_added_are_not_followed() -> None:
    """Two loads with a switch each on outputs that follow one input: only one of the switches can be there."""
    switches = (f"{SWITCH}, signal: earth, operates: it", SECOND_BUTTON.replace("operates: it", "operates: other"))
    outputs = (f"names: [a, b], {OUT.removeprefix('name: a, ')}, follow: in 1",)
    bike = texts(PLAIN, PLAIN.replace("it,", "other,"), switches=switches, outputs=outputs, inputs=(IN,))
    assert not without(bike, ("inputs", "in 1"))
    assert without(bike, ("inputs", "in 1"), ("told", "follow", "in 1"))


def test_one_fact_stands_for_all_that_follow_an_input() -> None:
    """Two outputs of two kinds follow the input of a switch that operates neither load."""
    outputs = (f"{FINE}, follow: in 1", f"{FINE.replace(' a', ' b')}, follow: in 1, price: 2")
    switches = (f"{SWITCH}, signal: earth, tells: key",)
    bike = texts(PLAIN, PLAIN.replace("it,", "other,"), switches=switches, inputs=(IN,), outputs=outputs)
    assert [without(bike), without(bike, ("told", "follow", "in 1"))] == [False, True]


def test_a_key_that_is_no_fact_is_refused() -> None:
    with pytest.raises(ValueError, match="no facts"):
        has_plan(*texts(PLAIN), [("bank", "A")])


# --- where dropping a fact takes a plan away


def test_a_lower_trip_brings_a_short_into_judgement() -> None:
    """8 A trip at 10 A, and so does the short, which is not judged then; at a trip of 5 A it is twice that.

    10 A for 30 s are 3000 A2s; 0.5 mm2 stands 226^2 x ln(394.5 / 319.5) x 0.25 = 2692 A2s (IEC 60949).
    """
    output = "name: a, limit: 10 A, trip: [5 A, 10 A], wire_max: 0.5 mm2, trip_curve: [[2 x, 30 s]]"
    bike = texts(f"{IT}, current: 8 A, kind: heater", outputs=(output,), feed="limit: 20 A", reels="0.5 mm2, 2.5 mm2")
    assert [without(bike), without(bike, ("current", "it"))] == [True, False]


def test_a_feed_that_its_terminal_does_not_limit_may_fill_an_opening() -> None:
    """8 A over 4 m lose 199 mV in 4 mm2, the most that the terminal takes, and 133 mV in 6 mm2, which keeps 150 mV.

    Beside the unit's earth of 4 mm2 (3.7 mm) it wants 7.4 mm, or 8 mm as 6 mm2 (4.3 mm), and the sleeve's 1 mm.
    """
    bike, unit = texts(
        f"{IT}, current: 8 A, kind: heater",
        outputs=("name: a, limit: 10 A, peak: 30 A",),
        feed="limit: 20 A, fuse_max: 15 A, wire_max: 4 mm2",
        reels="1 mm2, 4 mm2, 6 mm2",
        leg=", opening: 8.7 mm",
    )
    bike = bike.replace("509 mm", "4 m").replace("front: battery", "front: head")
    bike = bike.replace("earth: [battery]", "earth: [head]")
    assert [without((bike, unit)), without((bike, unit), ("terminal", "feed"))] == [True, False]


# --- what a file sets aside


def test_with_the_rule_of_signals_set_aside_any_input_will_do() -> None:
    """A switch to earth on an input for supply, and two that do not agree at rest on one: neither is judged then."""
    switches = (
        f"{SWITCH}, signal: earth, tells: [side stand, neutral], share: bar",
        f"{SECOND_BUTTON}, share: bar, normally: closed",
    )
    bike, unit = texts(PLAIN, switches=switches, inputs=("name: in 1, accepts: [supply]",))
    assert [without((bike, unit)), without((f"{bike}set_aside: {{signal: agreed}}\n", unit))] == [False, True]
