"""The load that has the least headroom: by hand on tiny bikes, and against the judge on random ones.

The bikes are made up. Limits are those of the rules' own sources: trip 1.25 x steady, inrush 3 x for electronics
(common practice, no source); 1 mm2 carries 20 A, among three loaded wires 14 A, 0.5 mm2 11 A (33 CFR 183.425 Table 5
and Note 2; 0.5 mm2 from memory); steps of fuses (ISO 8820-3); lost voltage by U = I x R.
"""

from functools import cache
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from heat_trials import at_the_neck
from near_bikes import Wired, broken_as_wired, near, random_plans, wired, written_anew
from oracle.random_bikes import FAMILIES
from portloom.job.as_wired import drawing
from portloom.job.fixed_wires import joint_returns
from portloom.job.job import Job
from rule_bikes import LAMP, OTHER, OUT, SECOND, Texts, bike, unit
from slices import FEW, first_of, on_seeds, third_of

TWO_LAMPS = bike(f"{LAMP}, current: 5 A", f"{OTHER}, current: 5 A")
IN_COMPANY = "alongside: [{name: charger, from: tray, to: neck, size: 1 mm2, current: 5 A, count: 2}]"
LONG = {"neck": "5090 mm", "more": "reels: [1 mm2]\nlimits: {drop: {other: 500 mV}}"}
BY_HAND: tuple[tuple[str, Texts, str, int, str, str], ...] = (
    # 12 A x 1.25 = 15 A, the highest trip: 100 %, and still sound.
    ("its highest trip", (bike(f"{LAMP}, current: 12 A"), unit(OUT)), "lamp", 0, "trip", "needs a trip of 15.002 A"),
    # 12 A - 11 A.
    ("a trip to come", (bike(f"{LAMP}, current: 11 A"), unit(OUT)), "lamp", 1000, "trip", "12.001 A"),
    # 3 x 6 A = 18 A.
    (
        "an inrush in proportion",
        (bike(f"{LAMP}, current: 5 A"), unit(OUT.replace("60 A", "18 A"))),
        "lamp", 1000, "trip", "18.003 A when switched on, out 1 can pass 18 A",
    ),
    # The file gives the inrush: 12 A - 5 A.
    (
        "an inrush that is given",
        (bike(f"{LAMP}, current: 5 A, inrush: 15 A"), unit(OUT.replace("60 A", "18 A"))),
        "lamp", 7000, "trip", "12.001 A",
    ),
    # 10.5 A - 2 x 5 A. Both lamps can grow by that; the first in the file is told.
    (
        "a bank",
        (TWO_LAMPS, unit(f"{OUT}, bank: A", f"{SECOND}, bank: A", banks="A: 10.5 A")),
        "lamp", 500, "bank", "10.501 A together, the bank can supply 10.5 A",
    ),
    (
        "the unit in all",
        (TWO_LAMPS, unit(f"{OUT}, trip: 8 A", f"{SECOND}, trip: 8 A", feed="limit: 10.5 A, fuse_max: 15 A")),
        "lamp", 500, "unit-total", "10.501 A in all, the unit can carry 10.5 A",
    ),
    # 1.25 x 10 A asks for 15 A, which carries 12 A for good; each trip of 10 A would let 8 A pass.
    (
        "the main fuse that is there",
        (TWO_LAMPS, unit(f"{OUT}, trip: 10 A", f"{SECOND}, trip: 10 A")),
        "lamp", 2000, "main-fuse", "12.001 A in the worst case are more than the main fuse of 15 A",
    ),
    # Above the trip of 8 A the main fuse is 10 A; 6.401 A would take the trip of 10 A.
    (
        "a trip that would be as high as the main fuse",
        (bike(f"{LAMP}, current: 5 A"), unit(f"{OUT}, trip: [8 A, 10 A]")),
        "lamp", 1400, "main-fuse", "the main fuse of 10 A is not above the 10 A that out 1 trips at for lamp",
    ),
    # 6.25 A / 1.25 = 5 A; the next trip is 12 A, and 0.5 mm2 carries 11 A.
    (
        "a wire that the next trip does not protect",
        (bike(f"{LAMP}, current: 4.9 A", more="reels: [0.5 mm2]"), unit(f"{OUT}, trip: [6.25 A, 12 A]")),
        "lamp", 100, "wire", "a trip of 12 A is too much for its 0.5 mm2",
    ),
    # From 1 A on three wires are loaded, and 1 mm2 carries 14 A.
    (
        "a wire that becomes a loaded one",
        (
            bike(f"{LAMP}, current: 900 mA", more=IN_COMPANY),
            unit(f"{OUT}, wire_max: 1 mm2, trip: 14.001 A"),
        ),
        "lamp", 99, "wire", "too much for its 1 mm2 in tray - neck, where 3 wires carry 1 A or more",
    ),
    # With the unit beside the battery 300 mm of 1 mm2 are 7.344 mohm. A mA more loses that and 25 uV on the fuse of
    # 4 A, 20.395 in output, its plug and the lamp's, 2 at the earth point and 124.605 on the wire: 179.344 uV. Of
    # 500 mV 2 A leave 141.312, 787.94 times that.
    (
        "its own drop",
        (bike(f"{LAMP}, current: 2 A", **LONG), unit(f"{OUT}, trip: 3.5 A, resistance: 10.395 mohm")),
        "lamp", 787, "wire", "loses 0.51 V over its whole path with the 1 mm2 in the plan, its limit is 0.50 V",
    ),
    # 50 mohm x 10 A = 0.5 V at the earth point of the neck, where the switch has its earth too.
    (
        "the earth of a switch",
        (
            bike(
                f"{LAMP}, current: 9 A", inputs="name: switch, at: neck, signal: earth, operates: lamp",
                more="assume: {earth point: 50 mohm}",
            ),
            unit(OUT, inputs="name: in 1, accepts: earth"),
        ),
        "lamp", 1000, "signal", "raises the earth of switches there by 0.501 V",
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("texts", "load", "by", "rule", "words"), [case[1:] for case in BY_HAND], ids=[case[0] for case in BY_HAND]
)
def test_growth_by_hand(texts: Texts, load: str, by: int, rule: str, words: str) -> None:
    """How much a load can grow, and what breaks then."""
    growth = near(texts).grows_least
    assert growth is not None
    assert (growth.load, growth.by, growth.rule) == (load, by, rule), growth.sentence
    assert words in growth.sentence


def test_another_loads_drop() -> None:
    """A lamp whose own limits are far is kept from growing by a load on a fuse that shares its earth point.

    Of the load's 394 mV a fuse of 3 A takes 2 / 3 x 130 mV, its switch 40, its 1 mm2 249.21, its plug 10 and the earth
    point 2 mohm x 4 A = 8 mV: 0.1233 mV are left, 61.67 mA of the lamp.
    """
    loads = (f"{LAMP}, current: 2 A, part: tail lamp", f"{OTHER}, current: 2 A, fed: fuse, own_switch: neck")
    more = "reels: [1 mm2]\nlimits: {drop: {other: 394 mV}}"
    found = wired((bike(*loads, neck="5090 mm", more=more), unit(f"{OUT}, trip: 3 A, resistance: 10.395 mohm")))
    assert found is not None
    growth = found.near.grows_least
    assert growth is not None
    assert (growth.load, growth.by, growth.rule) == ("lamp", 61, "wire")
    assert growth.sentence.endswith("other loses 0.40 V over its whole path, its limit is 0.394 V")
    assert broken_as_wired(found, "lamp", 61) == []


@pytest.mark.parametrize(("at", "limit", "by"), [("neck", "346 mV", 15), ("tray", "350 mV", 15)])
def test_a_drop_on_the_shared_feed(at: str, limit: str, by: int) -> None:
    """A relay's coil at the tray, fed from the neck and back, shares a feed of 124.605 mohm and a fuse of 25 mohm.

    2.15 A lose 267.901 and 53.75 mV there; its 0.15 A 2.25 in output and plug, 18.691 on its wire, 0.75 at its own
    plug, 0.3 at the earth point: 343.642. A mA more of the lamp costs it 149.605 uV: 2.358 mV of 346 are 15.76 of it.
    If the lamp sits there too, its 2 A lose another 4 mV at the earth point, and a mA more 2 uV.
    """
    lamp = LAMP.replace("neck", at)
    loads = (f"{lamp}, current: 2 A, part: tail lamp", f"{OTHER}, current: 2 A, fed: relay, part: dipped beam")
    outs = (f"{out}, trip: 3 A" for out in (OUT, SECOND))
    more = f"reels: [1 mm2]\nlimits: {{drop: {{other: {limit}}}}}"
    growth = near(at_the_neck((bike(*loads, neck="5090 mm", more=more), unit(*outs)))).grows_least
    assert growth is not None
    assert (growth.load, growth.by, growth.rule) == ("lamp", by, "wire")
    assert "other relay on out" in growth.sentence


def test_wires_are_counted_as_they_are_cut() -> None:
    """A lamp may grow by what feed and return lose as they lie, 1 mm2 both; the return's first size would be 0.5 mm2.

    Fuse of 20 A 5 mohm, 300 mm of feed 7.344, output 10, plugs 5 and 5, 609 mm at 85 C 14.909, earth point 2, 100 mm
    back 2.448 and their splice 1: 600 mV / 52.701 mohm = 11.385 A.
    """
    lamp = "name: lamp, at: bracket, current: 8.7 A"
    found = wired((bike(lamp, more="reels: [0.5 mm2, 1 mm2]\nlimits: {drop: {other: 600 mV}}"), unit(OUT)))
    assert found is not None
    growth = found.near.grows_least
    assert growth is not None
    assert (growth.by, growth.rule) == (2685, "wire")
    assert broken_as_wired(found, "lamp", 2685) == []
    assert broken_as_wired(found, "lamp", 2686)


def test_what_is_not_on_the_unit_does_not_count() -> None:
    """A load on a relay, its coil and a load on a fuse are not counted; where there is no other, nothing is told."""
    fed = bike(f"{LAMP}, current: 5 A, fed: relay", f"{OTHER}, current: 5 A, fed: fuse, own_switch: neck")
    assert near((fed, unit(OUT))).grows_least is None
    beside = bike(f"{LAMP}, current: 5 A, fed: relay", f"{OTHER}, current: 11 A")
    growth = near((beside, unit(f"{OUT}, inductive: true", f"{SECOND}, inductive: true"))).grows_least
    assert growth is not None
    assert (growth.load, growth.by) == ("other", 1000)


def test_room_for_later_loads_does_not_count() -> None:
    """A later load that has room in a bank keeps no load on the bike from growing."""
    texts = (
        TWO_LAMPS.replace("later: []", "later: [{name: socket, current: 2 A}]"),
        unit(*(f"{out}, bank: A" for out in (OUT, SECOND, OUT.replace("out 1", "out 3"))), banks="A: 12 A"),
    )
    found = wired(texts)
    assert found is not None
    assert len(found.plan.room_for) == 1
    growth = found.near.grows_least
    assert growth is not None
    assert (growth.by, growth.rule) == (2000, "bank")
    assert all(margin.rule != "bank" for margin in found.near.tight)  # 10 A of 12 A


# --- random bikes


def tried(found: Wired) -> list[str]:
    """Return the loads that the judge can be asked about: a lamp on while cranking is told by its lamp in the file."""
    cranked = [load for load in found.growing if any(found.job.on(load, case) for case in found.job.cranking)]
    return [load.name for load in found.growing if load.lamp_test is None or load not in cranked]


@third_of("family", FAMILIES, 2)
@on_seeds(FEW, range(8000, 8012))
def test_least_growth_as_the_judge_says(family: str, seeds: range) -> None:
    """Every load can grow by as much as is told, and the one that is told by no milliampere more.

    The file is changed and the plan judged again, with its main fuse and wires as they are.
    """
    judged = 0
    for found in random_plans(family, seeds):
        growth, names = found.near.grows_least, tried(found)
        if growth is None or growth.load not in names:
            continue
        for name in names:
            assert broken_as_wired(found, name, growth.by) == [], (name, growth)
        assert broken_as_wired(found, growth.load, growth.by + 1), growth
        earlier = names[: names.index(growth.load)]
        assert all(broken_as_wired(found, name, growth.by + 1) == [] for name in earlier), growth
        judged += 1
    assert judged > 0


@first_of("family", sorted(FAMILIES, key=lambda family: family in ("coils", "openings", "switched")), 5)
@given(data=st.data())
@settings(max_examples=10, deadline=None, derandomize=True, database=None)
def test_a_job_with_a_grown_load_is_the_job_of_the_changed_file(family: str, data: st.DataObject) -> None:
    """All sums of currents are those of the file with the load's current changed, whatever was asked before."""
    found = data.draw(st.sampled_from(growing(family)))
    load = data.draw(st.sampled_from(found.growing))
    more = data.draw(st.integers(1, 20_000))
    sums(found.job)
    grown, anew = found.job.with_load(drawing(found.job, load, more)), written_anew(found, load.name, more)
    assert sums(grown) == sums(anew)
    assert [one.inrush for one in grown.loads.on_unit] == [one.inrush for one in anew.loads.on_unit]


@cache
def growing(family: str) -> list[Wired]:
    """Return some plans of a family's random bikes, on which a load can be changed."""
    return list(islice((found for found in random_plans(family, range(1000, 1020)) if found.growing), 2))


def sums(job: Job) -> list[int]:
    """Return what flows where in every case."""
    cases = (*job.cases, *job.steady, *job.cranking)
    returned = [
        sum(job.returned(back, case) for back in joint_returns(job) if back.point == point)
        for point in job.network.points
        for case in cases
    ]
    circuits = [job.circuit((load,)).current for load in job.loads.on_unit]
    return [*map(job.unit_current, cases), *returned, *circuits, job.worst]
