"""Battery leads and earth straps, by hand: U = I x R with IEC 60228 class 5, plain, at 85 C (FAA AC 43.13-1B).

What each may lose while cranking is common practice, no source: 0.3 V to the starter, 0.1 V from engine to frame,
0.2 V from frame to battery. Heating for 10 s: IEC 60949, copper K 226 A s^0.5/mm2.
"""

from math import log, sqrt

import pytest

from laid_bikes import laid_example, laid_text
from portloom.base.leads import lead_size
from portloom.base.quantities import Micrometres, MilliAmps, MilliCelsius, MilliVolts
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.wiring.csv_files import csv_files
from portloom.documents.wiring.lead_parts import lead_parts, lead_terminals
from portloom.documents.wiring.leads import battery_leads, starter_voltage
from portloom.documents.wiring.lists import lists_of
from portloom.job.job import Job
from portloom.report.svg.labels import lead_labels
from portloom.report.svg.loom import notes_at
from portloom.report.text.cutting import sheet_texts
from rule_bikes import LAMP, OUT, bike, unit

CLASS_5 = {"6 mm2": 3.30, "10 mm2": 1.91, "16 mm2": 1.21, "25 mm2": 0.780, "35 mm2": 0.554, "50 mm2": 0.386}
"""mohm/m at 20 C; from 25 mm2 on from memory."""
AT_85_C = (234.5 + 85) / 254.5


@pytest.mark.parametrize("amperes", [40, 90, 120, 200, 400])
@pytest.mark.parametrize("metres", [0.3, 0.8, 1.5])
@pytest.mark.parametrize("may_lose", [0.1, 0.3])
def test_a_lead_is_the_thinnest_that_loses_little_and_stays_cool(amperes: int, metres: float, may_lose: float) -> None:
    """Every thinner one loses more, or is hotter than 160 C after 10 s."""
    bears = 226 * sqrt(log((160 + 234.5) / (85 + 234.5)) / 10)
    good = [
        label
        for label, resistance in CLASS_5.items()
        if amperes * resistance * AT_85_C * metres / 1000 <= may_lose and amperes <= bears * float(label.split()[0])
    ]
    stretch = Micrometres(round(1_000_000 * metres)), MilliCelsius(85_000)
    size = lead_size(MilliAmps(1000 * amperes), [stretch], MilliVolts(round(1000 * may_lose)))
    assert (size.label if size else None) == next(iter(good), None)


def started(starter: str, neck: str = "509 mm", leg: str = "") -> Job:
    """Return the job of the trial bike with a starter."""
    text = bike(f"{LAMP}, current: 1 A", neck=neck, leg=leg)
    supplied = text.replace("capacity: 10 Ah, at: tray}", f"capacity: 10 Ah, at: tray}}{starter}")
    return laid_text(supplied, unit(OUT)).site.job


def sizes(starter: str) -> list[str]:
    """Return the sizes of lead, engine's strap and battery's strap of the trial bike."""
    return [part.size for part in lead_parts(started(starter))]


def test_leads_and_straps_have_sizes_where_the_file_says_what_the_starter_draws() -> None:
    """509 mm at 120 A: 6 mm2 loses 0.253 V; 300 mm of strap 0.149 V, and 0.086 V with 10 mm2."""
    assert sizes(", starter: {draws: 120 A, at: neck}") == ["6 mm2 or thicker", "10 mm2 or thicker", "6 mm2 or thicker"]


@pytest.mark.parametrize("starter", ["", ", starter: {at: neck}"])
def test_they_are_the_makers_where_nothing_says_what_it_draws(starter: str) -> None:
    """No size is guessed."""
    assert sizes(starter) == ["as thick as the bike's maker has it"] * 3


@pytest.mark.parametrize(
    ("example", "unit_name", "where"),
    [
        ("harbour-trail", "eleven-way", "battery to starter motor"),
        ("bare-single", "six-way", "battery to starter motor, where there is one"),
    ],
)
def test_a_bike_that_is_kicked_is_not_told_that_it_has_a_starter_motor(
    example: str, unit_name: str, where: str
) -> None:
    """The Bare Single has a kick start; a file may leave out a starter that the unit has no part in."""
    assert next(part.where for part in lead_parts(laid_example(example, unit_name).site.job)) == where


TOURER = ("dressed-tourer", "eleven-way")
"""140 A from the battery over the seat tray (160 mm) to the engine (430 mm, 80 C), where there is an earth point."""


def test_each_lead_of_an_example_is_worked_out_by_hand() -> None:
    """L1 loses 0.590 m x 1.91 mohm/m x 1.2554 x 140 A = 0.198 V; L2 0.300 x 1.21 = 0.064 V; L3 0.300 x 3.30 = 0.174 V.

    Cut: 590 mm + 10 % + 150 mm at each end = 949 mm; no lead is shorter than 300 mm: 330 + 300 = 630 mm.
    """
    leads = battery_leads(laid_example(*TOURER).site.job)
    told = [(lead.number, lead.name, lead.size_told, lead.run // 1000, lead.cut // 1000) for lead in leads]
    assert told == [
        ("L1", "battery lead", "10 mm2", 590, 949),
        ("L2", "engine strap", "16 mm2", 300, 630),
        ("L3", "battery strap", "6 mm2", 300, 630),
    ]
    lost = [(metres, CLASS_5[lead.size_told]) for metres, lead in zip((0.59, 0.3, 0.3), leads, strict=True)]
    by_hand = [metres * mohm * AT_85_C * 140 / 1000 for metres, mohm in lost]
    assert [float(lead.loses or 0) / 1e6 for lead in leads] == pytest.approx(by_hand, abs=1e-6)
    left = starter_voltage(laid_example(*TOURER).site.job)
    assert left is not None
    assert float(left) / 1e6 == pytest.approx(9.0 - sum(by_hand), abs=1e-6)


def test_a_lead_is_as_warm_as_a_leg_above_85_c() -> None:
    """6 mm2 at 120 A: 3.30 mohm/m x (0.509 m x 1.2554 + 0.100 m x 334.5 / 254.5) = 0.305 V, so 10 mm2: 0.177 V."""
    lead = battery_leads(started(", starter: {draws: 120 A, at: bracket}", leg=", ambient: 100 C"))[0]
    metres = 0.509 * AT_85_C + 0.1 * (234.5 + 100) / 254.5
    assert 3.30 * metres * 0.12 > 0.3
    assert lead.size_told == "10 mm2"
    assert float(lead.loses or 0) / 1e6 == pytest.approx(1.91 * metres * 0.12, abs=1e-6)


def test_leads_stand_in_every_list_and_in_no_sum() -> None:
    """Wiring list, cut list, parts list, their own CSV, labels at both ends; the wires' sums are without them."""
    lists = lists_of(laid_example(*TOURER))
    texts, files = sheet_texts(lists), csv_files(lists)
    for name in ("wiring-list.txt", "cut-list.txt", "parts-list.txt"):
        assert all(number in texts[name] for number in ("L1", "L2", "L3")), name
    rows = files["battery-leads.csv"].splitlines()[1:]
    assert [row.split(",")[8:12] for row in rows] == [
        ["590", "949", "140", "198.06"],
        ["300", "630", "140", "63.8"],
        ["300", "630", "140", "173.999"],
    ]
    assert "L1" not in files["wiring-list.csv"] + files["cut-list.csv"]
    assert [label.head.split()[0] for label in lead_labels(lists.leads)] == ["L1", "L1", "L2", "L2", "L3", "L3"]
    assert "battery's own leads" not in " ".join(lists.not_listed)


def test_leads_are_named_at_their_points_in_the_loom_picture() -> None:
    """L1 at battery and engine, L2 once at the engine, L3 from the seat tray to the battery."""
    laid = laid_example(*TOURER)
    wiring = lists_of(laid).wiring
    at = {
        point: [note.text[:2] for note in notes_at(laid, wiring, point) if "outside the loom" in note.text]
        for point in laid.site.job.network.points
    }
    assert {point: found for point, found in at.items() if found} == {
        "battery": ["L1", "L3"],
        "engine": ["L1", "L2"],
        "seat tray": ["L3"],
    }


def test_each_end_of_a_lead_has_a_ring_terminal() -> None:
    """Two for each, for its own size."""
    rings = [(part.size, int(part.quantity)) for part in lead_terminals(laid_example(*TOURER).site.job)]
    assert rings == [("for 10 mm2", 2), ("for 16 mm2", 2), ("for 6 mm2", 2)]


def test_nothing_is_cut_where_no_file_says_what_the_starter_draws() -> None:
    """The lists say that they are the maker's; labels, pictures and tables have none."""
    lists = lists_of(laid_example("harbour-trail", "eleven-way"))
    assert lists.leads == ()
    assert "as thick as the bike's maker has them" in lists.not_listed[0]
    assert csv_files(lists)["battery-leads.csv"].count("\n") == 1


def test_where_the_thickest_loses_too_much_the_starter_voltage_is_not_told() -> None:
    """50 mm2 of 5 m lose 5 x 0.386 x 1.2554 x 400 A = 0.97 V of 0.3 V."""
    job = started(", starter: {draws: 400 A, at: neck}", neck="5000 mm")
    lead = battery_leads(job)[0]
    assert (lead.size_told, lead.loses, starter_voltage(job)) == ("thicker than 50 mm2", None, None)


def test_the_bench_sheet_expects_what_the_straps_lose() -> None:
    """While cranking: 0.0638 + 0.1740 = 0.2378 V from the engine, 0.174 V from the frame; rounded up."""
    told = {
        step.title: step.must for step in bench_test(laid_example(*TOURER)).steps if "minus, cranking" in step.title
    }
    assert told == {
        "Engine to battery minus, cranking": "0.24 V on L2 and L3 at 140 A, hot",
        "Frame to battery minus, cranking": "0.18 V on L3 at 140 A, hot",
    }
    others = bench_test(laid_example("harbour-trail", "eleven-way")).steps
    assert {step.must for step in others if "minus, cranking" in step.title} == {""}
