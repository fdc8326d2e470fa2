"""Plans of the examples worked through by hand, circuit by circuit, in plain arithmetic.

Sources: UN R37 (lamps); P = U x I and U = I x R; IEC 60228 class 5; FAA AC 43.13-1B par. 11-66 (conductors at 85 C);
ISO 8820-3 (steps of fuses); 33 CFR 183.425 Table 5 and its Note 2. Inrushes, 1.25 x, 5 mohm a connector or plug, 2
mohm an earth point, 1 a splice: common practice, no source. 0.1 V at a fuse's rating, 0.13 V of a small one: from
memory. Drops are those of the wires that are cut. The bikes and units are made up.
"""

from math import sqrt

import pytest

from worked_plans import (
    ALWAYS,
    AT_ENGINE,
    AT_SEAT_TRAY,
    COIL,
    CONNECTOR,
    CONTROLLER,
    CRANKED,
    DASH,
    DIPPED,
    EARTH,
    FAN,
    FEED,
    FROM_SHELL,
    FROM_TAIL,
    HORN,
    IGNITION,
    INDICATOR,
    LOAD_PLUG,
    MAIN,
    MAIN_FUSE,
    OUTPUT,
    OWN_SWITCH,
    PUMP,
    RELAY,
    SIDE,
    SMALL_FUSE,
    SOLENOID,
    SPLICE,
    TELL_TALE,
    WITH_DIPPED,
    WITH_MAIN,
    dressed_tourer,
    fed,
    harbour_trail,
    joint,
    lost,
    lost_when_fed,
    mohm,
    output,
    weakest,
)

TO_A_TENTH_MV = 0.1


def shell(beam: float) -> float:
    """Return what is lost on feed, return from the headlamp and earth point at the engine, in millivolts."""
    back = mohm("2.5", 250 + 540) + CONNECTOR + SPLICE  # 1.5 mm2 would lose 87 mV of 70
    return (ALWAYS + beam) * FEED + (FROM_SHELL + beam) * back + (AT_ENGINE + beam) * EARTH


def test_feed_and_main_fuse() -> None:
    """1.25 x 20.566 A ask for 30 A; among four loaded wires (Note 2: 0.60) 4 mm2 carries 27 A and 6 mm2 36 A."""
    feed = harbour_trail().only.feed
    assert (feed.main_fuse, feed.worst, feed.wire.run) == (30_000, 20_566, 610_000)
    assert 25 < 1.25 * WITH_MAIN <= 30
    assert float(feed.drop) / 1000 == pytest.approx(WITH_MAIN * FEED, abs=TO_A_TENTH_MV)
    assert WITH_MAIN * mohm("2.5", 610) <= 150
    found = weakest(harbour_trail(), "feed")  # beside it the pump, the brake lamp and the engine controller
    assert (feed.size.label, found.loaded, found.carries) == ("6 mm2", 4, 60_000 * 60 // 100)
    assert 45 * 0.60 < 30 <= 60 * 0.60


def test_a_filament_beam() -> None:
    """Dipped beam: 5.152 A, 51.52 A cold, a trip of 8 A; 250 mm of 0.5 mm2 from the headstock; it may lose 0.6 V."""
    line = output(harbour_trail(), "dipped beam")
    assert (line.current, line.inrush, line.trip) == (5152, 51_520_000, 8000)
    assert 4 < 1.25 * DIPPED <= 8
    assert (line.wire.run, line.wire.legs, line.size.label) == (250_000, ("headstock - headlamp",), "0.5 mm2")
    by_hand = shell(DIPPED) + DIPPED * (OUTPUT + mohm("0.5", 250) + LOAD_PLUG)
    assert lost(line, "dipped beam") == pytest.approx(by_hand, abs=TO_A_TENTH_MV)
    judged = 150 + WITH_DIPPED * MAIN_FUSE / 30 + DIPPED * (OUTPUT + LOAD_PLUG)
    judged += 70 + (FROM_SHELL + DIPPED) * (CONNECTOR + SPLICE) + (AT_ENGINE + DIPPED) * EARTH
    assert 500 < judged + DIPPED * mohm("0.5", 250) <= 600  # as the file says; by default a thicker wire


def test_led_indicators_with_a_tell_tale() -> None:
    """A side of 2 x 143 + 72 mA on one trip of 1 A; the tree has 250, 450, 620 and 360 mm."""
    line = output(harbour_trail(), "front right indicator")
    assert (line.current, line.inrush, line.trip) == (358, 3 * 358_000, 1000)
    assert line.loads == ("front right indicator", "rear right indicator", "indicator tell-tale")
    assert line.wire.run == 1000 * (250 + 450 + 620 + 360)
    common = SIDE * (OUTPUT + SPLICE)  # at the headstock, where three legs lead on
    tell_tale = shell(MAIN) + common + TELL_TALE * (mohm("0.5", 250) + LOAD_PLUG)
    there_and_back = mohm("0.5", 450) + LOAD_PLUG + mohm("0.5", 450 + 540) + CONNECTOR + SPLICE
    front = WITH_MAIN * FEED + common + INDICATOR * there_and_back + (AT_ENGINE + MAIN) * EARTH
    rear = WITH_MAIN * FEED + common + INDICATOR * (mohm("0.5", 620 + 360) + LOAD_PLUG)
    rear += FROM_TAIL * (mohm("0.5", 360) + SPLICE) + AT_SEAT_TRAY * EARTH
    for load, by_hand in zip(line.loads, (front, rear, tell_tale), strict=True):
        assert lost(line, load) == pytest.approx(by_hand, abs=TO_A_TENTH_MV)


def test_an_ignition_coil_in_a_hot_leg() -> None:
    """3 A, 7.5 A at switch-on, a trip of 5 A; in the down tube at 70 C 0.5 mm2 carries 11 A x 0.6831 = 7.514 A."""
    line = output(harbour_trail(), "ignition coil")
    assert (line.current, line.inrush, line.trip) == (3000, 7_500_000, 5000)
    assert (line.wire.run, line.wire.legs, line.size.label) == (540_000, ("down tube",), "0.5 mm2")
    by_hand = WITH_MAIN * FEED + IGNITION * (OUTPUT + mohm("0.5", 540) + LOAD_PLUG) + AT_SEAT_TRAY * EARTH
    assert lost(line, "ignition coil") == pytest.approx(by_hand, abs=TO_A_TENTH_MV)
    found = weakest(harbour_trail(), line.port)
    assert (found.leg, found.must) == ("down tube", 5000)
    assert found.carries / 1000 == pytest.approx(11 * sqrt((105 - 70) / 75), abs=0.001)


def test_a_pump() -> None:
    """5.5 A, 22 A at switch-on, a trip of 8 A: 0.5 mm2 keeps its drop, among four wires 1 mm2 carries the trip."""
    line = output(harbour_trail(), "fuel pump")
    assert (line.current, line.inrush, line.trip, line.size.label) == (5500, 22_000_000, 8000, "1 mm2")
    assert (line.wire.run, line.wire.legs) == (150_000, ("tank - pump",))
    there_and_back = mohm("1", 150) + LOAD_PLUG + mohm("1", 240) + SPLICE
    by_hand = WITH_MAIN * FEED + PUMP * (OUTPUT + there_and_back) + AT_SEAT_TRAY * EARTH
    assert lost(line, "fuel pump") == pytest.approx(by_hand, abs=TO_A_TENTH_MV)
    found = weakest(harbour_trail(), line.port)
    assert (found.loaded, found.carries) == (4, 20_000 * 60 // 100)
    assert 11 * 0.60 < 8 <= 20 * 0.60


def test_a_relay_coil_while_cranking() -> None:
    """The starter solenoid: 3 A and no more at switch-on, a trip of 4 A, lost while 13.9 A flow in all."""
    line = output(harbour_trail(), "starter solenoid")
    assert (line.current, line.inrush, line.trip) == (3000, 3_000_000, 4000)
    assert line.wire.run == 1000 * (150 + 240 + 220)
    at_seat_tray = CONTROLLER + IGNITION + PUMP + SOLENOID
    there_and_back = mohm("0.5", 610) + LOAD_PLUG + mohm("0.5", 220) + SPLICE
    by_hand = CRANKED * FEED + SOLENOID * (OUTPUT + there_and_back) + at_seat_tray * EARTH
    assert lost(line, "starter solenoid") == pytest.approx(by_hand, abs=TO_A_TENTH_MV)


FROM_RADIATOR = (HORN + FAN + COIL) * (mohm("1.5", 420) + SPLICE)
"""1 mm2 would lose 87 mV of 70 on this return."""


def test_fed_by_a_relay() -> None:
    """The fan: 5 A, a fuse of 7.5 A, round the hot leg 220 + 620 + 310 mm, through the connector at the headstock."""
    line = fed(harbour_trail(), "fan")
    assert (line.current, line.fuse, line.by, line.size.label) == (5000, 7500, "relay", "0.5 mm2")
    assert line.wire.run == 1000 * (220 + 620 + 310)
    own = FAN * (SMALL_FUSE / 7.5 + RELAY + mohm("0.5", 1150) + CONNECTOR + LOAD_PLUG)
    by_hand = own + FROM_RADIATOR + (AT_ENGINE + MAIN) * EARTH
    assert lost_when_fed(line) == pytest.approx(by_hand, abs=TO_A_TENTH_MV)
    found = weakest(harbour_trail(), "fan")  # beside the feed and the horn's wire
    assert (found.leg, found.loaded, found.carries) == ("tray - battery", 3, 7700)  # 70 % of 11 A


def test_fed_by_a_fuse() -> None:
    """The horn: 3.5 A, a fuse of 5 A; by way of its switch on the bar, past the connector at the headstock twice."""
    line = fed(harbour_trail(), "horn")
    assert (line.current, line.fuse, line.by, line.size.label) == (3500, 5000, "fuse", "0.5 mm2")
    assert line.wire.run == 1000 * (220 + 620 + 450 + 450 + 310)
    own = HORN * (SMALL_FUSE / 5 + OWN_SWITCH + mohm("0.5", 2050) + 2 * CONNECTOR + LOAD_PLUG)
    by_hand = own + FROM_RADIATOR + (AT_ENGINE + MAIN) * EARTH
    assert lost_when_fed(line) == pytest.approx(by_hand, abs=TO_A_TENTH_MV)
    assert line.drop is not None
    assert line.drop.case == "day, hazard + main beam + horn + fan running"  # all that comes back to the engine


def test_a_joint_return() -> None:
    """6.562 A with main beam; 2.5 mm2 for its drop; the dash's trip of 4 A in place of 0.4 A asks for 10.162 A."""
    line, found = joint(harbour_trail(), "headlamp"), weakest(harbour_trail(), "return from headlamp")
    together = FROM_SHELL + MAIN
    assert (line.current, line.size.label, line.wire.run) == (6562, "2.5 mm2", 790_000)
    assert together * mohm("2.5", 790) <= 70 < together * mohm("1.5", 790)
    dash = output(harbour_trail(), "dash").trip / 1000
    assert found.must / 1000 == pytest.approx(together - DASH + dash)
    assert found.must / 1000 > max(1.25 * together, together - MAIN + 8)
    assert (found.leg, found.loaded) == ("down tube", 2)  # the ignition's wire is the other
    assert found.carries / 1000 == pytest.approx(35 * sqrt((105 - 70) / 75), abs=0.001)


# --- the Dressed Tourer


def test_a_dimmed_heater() -> None:
    """Grips and seat: 36 and 40 W at 14 V on a trip of 10 A, dimmed, but every rule counts them in full."""
    line = output(dressed_tourer(), "heated grips")
    grips, seat = 2.572, 2.858
    assert (line.current, line.inrush, line.trip, line.mode) == (5430, 6_516_000, 10_000, ("dim",))
    assert line.wire.run == 1000 * (160 + 680 + 520 + 210)
    front = 2 * 4.394 + 0.408 + 2 * 0.429 + 2 * 0.072 + 0.8 + 1.5  # two of each; dash, route finder
    fairing = front + 3.929 + 7 + 8  # auxiliary lamps, horn, socket
    earth = (fairing + 0.6 + 2 * COIL + grips + seat) * EARTH  # intercom, two relays' coils
    feed = dressed_tourer().only.feed.worst / 1000 * (mohm("10", 300) + MAIN_FUSE / 35)  # as short as a feed can be
    run = (grips + seat) * (OUTPUT + mohm("1", 160) + SPLICE)
    run += grips * (mohm("1", 680 + 520) + CONNECTOR + LOAD_PLUG)
    back = (grips + COIL) * (
        mohm("1.5", 520 + 680) + CONNECTOR + SPLICE
    )  # the horn's switch; 1 mm2 would lose 80 mV of 70
    assert lost(line, "heated grips") == pytest.approx(feed + run + back + earth, abs=TO_A_TENTH_MV)
    found = weakest(dressed_tourer(), line.port)
    assert (line.size.label, found.loaded, found.carries) == ("1 mm2", 11, 20_000 * 0.50)


def test_a_relays_coil() -> None:
    """The auxiliary lamps' relay draws 150 mA at the battery; the smallest trip there, 2 A, is plenty."""
    line = output(dressed_tourer(), "auxiliary lamps relay")
    assert (line.current, line.inrush, line.trip, line.wire.run) == (150, 150_000, 2000, 0)
    lamps = fed(dressed_tourer(), "auxiliary lamps")
    assert (lamps.current, lamps.fuse, lamps.by) == (3929, 5000, "relay")
