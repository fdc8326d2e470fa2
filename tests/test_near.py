"""Near misses by hand: each kind of margin on a tiny bike, what comes first, and how it is told.

The bikes are made up. Limits are those of the rules' own sources: trip 1.25 x steady, inrush 3 x for electronics, 2
mohm an earth point, 0.1 V at a fuse's rating, 1.25 x sqrt(sum of d^2) (common practice, no source); 1 mm2 carries 20 A
and at 57 C 0.8 of it (33 CFR 183.425 Table 5, and its Note 1 nearly); steps of fuses (ISO 8820-3); U = I x R.
"""

import json
from dataclasses import replace
from fractions import Fraction
from io import StringIO

import pytest
from rich.console import Console

from full_trials import STARTING
from heat_trials import at_the_neck
from near_bikes import near, random_plans, wired
from oracle.random_bikes import FAMILIES
from outcomes import EXAMPLES, PROFILES
from portloom.margins.misses import NearMisses, margins, near_json
from portloom.report.text.layout import TextPage
from portloom.report.text.why import write_near
from portloom.rules.margins import LimitMargin
from rule_bikes import LAMP, OTHER, OUT, SECOND, Texts, Trial, bike, unit
from rule_trials import TRIALS
from slices import FEW, on_seeds, third_of

TWO_LAMPS = bike(f"{LAMP}, current: 5 A", f"{OTHER}, current: 5 A")
HOSE = "name: hose, from: neck, to: bracket"


def loom(alongside: str, opening: str) -> Texts:
    """Write a bike whose leg to the bracket holds nothing but pipes."""
    return bike(f"{LAMP}, current: 1 A", leg=f", opening: {opening}", more=f"alongside: [{alongside}]"), unit(OUT)


AT_THE_UNIT = 9_000_000 - 31_115 - Fraction(195, 10) * Fraction(3195, 2545) * Fraction(3, 10) * 6223
"""Microvolts while cranking, with a load of 6.223 A."""
MARGINS: tuple[tuple[str, Texts, Fraction, str], ...] = (
    # 1.25 x 11 A = 13.75 A of 15 A; 12 A would be 15 A.
    (
        "trip",
        (bike(f"{LAMP}, current: 11 A"), unit(OUT)),
        Fraction(1375, 1500),
        "lamp on out 1: for 11 A a trip of 13.75 A is needed, out 1 goes up to 15 A, 1 A more may be drawn",
    ),
    (
        "trip",
        (bike(f"{LAMP}, current: 1 A, inrush: 57 A"), unit(OUT)),
        Fraction(57, 60),
        "lamp on out 1: 57 A when switched on, out 1 can pass 60 A for a moment, 3 A left",
    ),
    (
        "bank",
        (TWO_LAMPS, unit(f"{OUT}, bank: A", f"{SECOND}, bank: A", banks="A: 10.4 A")),
        Fraction(100, 104),
        "bank A with the key on: 10 A of 10.4 A, 0.4 A left",
    ),
    (
        "unit-total",
        (TWO_LAMPS, unit(f"{OUT}, trip: 8 A", f"{SECOND}, trip: 8 A", feed="limit: 10.5 A, fuse_max: 15 A")),
        Fraction(100, 105),
        "the unit in all with the key on: 10 A of 10.5 A, 0.5 A left",
    ),
    # 1.25 x sqrt(4 x 2 mm x 2 mm) = 5 mm, and the sleeve's 1 mm.
    (
        "opening",
        loom(f"{{{HOSE}, diameter: 2 mm, count: 4}}", "6.3 mm"),
        Fraction(60, 63),
        "neck - bracket: the loom is 6.0 mm with the sleeve, the opening 6.3 mm, 0.3 mm left",
    ),
    # 3 mm + 2 mm; 1.25 x sqrt(9 + 4) is only 4.51 mm.
    (
        "opening",
        loom(f"{{{HOSE}, diameter: 3 mm}}, {{{HOSE.replace('hose', 'pipe')}, diameter: 2 mm}}", "6.04 mm"),
        Fraction(600, 604),
        "neck - bracket: the two thickest wires side by side are 6.0 mm with the sleeve, the opening 6.04 mm, "
        "less than 0.1 mm left",
    ),
    # 2 A on the feed: 19.5 mohm/m x 5.09 m x 319.5 / 254.5 x 2 A = 249.21 mV; fuse of 4 A 50 mV, output and its plug
    # 30.79, the lamp's plug 10, earth point 4.
    (
        "wire",
        at_the_neck(
            (
                bike(f"{LAMP}, current: 2 A", neck="5090 mm", more="reels: [1 mm2]\nlimits: {drop: {other: 360 mV}}"),
                unit(f"{OUT}, trip: 3 A, resistance: 10.395 mohm"),
            )
        ),
        Fraction(344, 360),
        "lamp on out 1: 0.35 V of 0.36 V lost over the whole path with the key on, 0.01 V left",
    ),
    # Fuse of 3 A: 2 / 3 x 130 mV; its switch 40; the same wire, as 0.5 mm2 would lose 498 mV; its plug 10; at the
    # earth point 2 mohm x 3 A, the lamp's ampere with it.
    (
        "wire",
        (
            bike(
                f"{LAMP}, current: 1 A", f"{OTHER}, current: 2 A, fed: fuse, own_switch: neck", neck="5090 mm",
                more="reels: [0.5 mm2, 1 mm2]\nlimits: {drop: {other: 420 mV}}",
            ),
            unit(f"{OUT}, trip: 2 A"),
        ),
        (Fraction(260_000, 3) + 40_000 + 249_210 + 10_000 + 6_000) / 420_000,
        "other, fed from the battery: 0.40 V of 0.42 V lost over the whole path with the key on, 0.02 V left",
    ),
    # 15 A, the first step above the trip, on 20 A x sqrt((105 - 57) / 75) = 16 A.
    (
        "main-fuse",
        at_the_neck(
            (
                bike(f"{LAMP}, current: 5 A", neck="509 mm, ambient: 57 C"),
                unit(f"{OUT}, trip: 14 A", feed="limit: 40 A, wire_max: 1 mm2"),
            )
        ),
        Fraction(15, 16),
        "main fuse 15 A: the feed of 1 mm2 carries 16 A in tray - neck, 1 A left",
    ),
    # 1.25 x 11.6 A = 14.5 A of 15 A.
    (
        "main-fuse",
        (
            bike(f"{LAMP}, current: 5.8 A", f"{OTHER}, current: 5.8 A"),
            unit(f"{OUT}, trip: 8 A", f"{SECOND}, trip: 8 A"),
        ),
        Fraction(145, 150),
        "main fuse: 1.25 x 11.6 A in the worst case are 14.5 A of 15 A, 0.4 A more may be drawn",
    ),
    # A trip of 15 A in a leg at 57 C.
    (
        "wire",
        (
            bike(f"{LAMP}, current: 5 A", neck="509 mm, ambient: 57 C", more="reels: [1 mm2, 1.5 mm2]"),
            unit(OUT.replace("15 A", "15 A, trip: 15 A"), feed="limit: 40 A"),
        ),
        Fraction(15, 16),
        "lamp on out 1: its trip of 15 A on 1 mm2 that carries 16 A in tray - neck at 57 C, 1 A left; "
        "it may be thicker",
    ),
    # The same wire takes the lamp's 15 A back when it faults. The feed, for 20 A in that heat and company, is 4 mm2.
    (
        "wire",
        (
            bike(f"{LAMP}, current: 5 A", neck="509 mm, ambient: 57 C", more="reels: [1 mm2, 4 mm2]").replace(
                "earth: [tray, neck]", "earth: [tray]"
            ),
            unit(OUT.replace("15 A", "15 A, trip: 15 A"), feed="limit: 40 A"),
        ),
        Fraction(15, 16),
        "the return from neck: 15 A (lamp at the trip of 15 A) on 1 mm2 that carries 16 A in tray - neck at 57 C, "
        "where 2 wires carry 1 A or more, 1 A left; it may be thicker",
    ),
    # A fuse of 15 A, the first step of 1.25 x 11.5 A.
    (
        "wire",
        (
            bike(
                f"{LAMP}, current: 1 A", f"{OTHER}, current: 11.5 A, fed: fuse, own_switch: neck",
                neck="509 mm, ambient: 57 C", more="reels: [1 mm2, 4 mm2]",
            ),
            unit(OUT),
        ),
        Fraction(15, 16),
        "the wire that feeds other: its fuse of 15 A on 1 mm2 that carries 16 A in tray - neck at 57 C, 1 A left; "
        "it may be thicker",
    ),
    # Tails of 0.5 mm2 carry 11 A (common practice, from memory).
    (
        "wire",
        (bike(f"{LAMP}, current: 5 A, leads: 0.5 mm2"), unit(OUT.replace("15 A", "15 A, trip: 10 A"))),
        Fraction(10, 11),
        "lamp: its tails of 0.5 mm2 carry 11 A, out 1 trips at 10 A, 1 A left",
    ),
    # 4 A at 14 V are 6.223 A at 9 V; the fuse of 20 A loses 31.115 mV of it, 300 mm of 1 mm2 45.702.
    (
        "cranking",
        (bike(STARTING), unit(OUT, feed="limit: 40 A, lowest: 8.5 V")),
        8_500_000 / AT_THE_UNIT,
        "the unit: 8.92 V left while cranking, it works down to 8.50 V, 0.42 V left",
    ),
    # And the earth point 12.446 mV, output and its plug 93.345, the lamp's 31.115, 509 mm of 1 mm2 77.542 mV: 12.4605
    # mohm x 6.223 A.
    (
        "cranking",
        (bike(f"{STARTING}, lowest: 8.5 V"), unit(OUT)),
        8_500_000 / (AT_THE_UNIT - 12_446 - 93_345 - 31_115 - Fraction(77_541_692, 1000)),
        "lamp on out 1: 8.70 V left while cranking, it works down to 8.50 V, 0.20 V left",
    ),
    (
        "signal",
        (
            bike(
                f"{LAMP}, current: 1 A",
                inputs="name: lead, at: neck, signal: pulse, level: 11.5 V, tells: engine turning",
            ),
            unit(OUT, inputs="name: in 1, accepts: pulse, pulse: {up_to: 12 V, rate: 400 Hz}"),
        ),
        Fraction(115, 120),
        "lead on in 1: it pulses up to 11.5 V, in 1 takes 12 V, 0.5 V left",
    ),
    # 50 mohm x 9.6 A at the earth point of the neck.
    (
        "signal",
        (
            bike(
                f"{LAMP}, current: 9.6 A", inputs="name: switch, at: neck, signal: earth, operates: lamp",
                more="assume: {earth point: 50 mohm}",
            ),
            unit(OUT, inputs="name: in 1, accepts: earth"),
        ),
        Fraction(96, 100),
        "switches at neck: the shared return raises their earth by 0.48 V, they are read reliably up to 0.50 V, "
        "0.02 V left",
    ),
)  # fmt: skip


THICK = "reels: [1.5 mm2]"
"""Of a feed that is as short as can be 1 mm2 would just carry a fuse of 20 A."""


@pytest.mark.parametrize(("rule", "texts", "share", "sentence"), MARGINS, ids=[case[-1] for case in MARGINS])
def test_a_margin_by_hand(rule: str, texts: Texts, share: Fraction, sentence: str) -> None:
    """It is among the near ones, with what is used and what is left; shares are exact."""
    found = next((margin for margin in near(texts).tight if margin.sentence == sentence), None)
    assert found is not None, [margin.sentence for margin in near(texts).tight]
    assert (found.rule, round(float(found.share), 9)) == (rule, round(float(share), 9))
    if rule not in ("cranking", "trip") and "1.25 x 11.6 A" not in sentence:
        assert found.left == found.limit - found.used


def test_a_limit_met_exactly_is_kept() -> None:
    """12 A x 1.25 on 15 A: 100 %, nothing left, and the plan is sound."""
    found = near((bike(f"{LAMP}, current: 12 A", more=THICK), unit(OUT)))
    assert found.first == found.tight[0]
    figures = (found.first.used, found.first.limit, found.first.left, found.first.share)
    assert [int(figure) for figure in figures] == [15_000, 15_000, 0, 1]
    assert found.first.sentence.endswith("out 1 goes up to 15 A, no more may be drawn")


KEPT = (
    "its highest value", "the peak", "its limit", "its limit in one case", "the voltage lost", "its area",
    "two side by side", "a feed in a hot leg", "its earth lifted",
)  # fmt: skip
"""Trials that keep a rule up to its limit, by a figure that has a margin."""


@pytest.mark.parametrize("trial", [trial for trial in TRIALS if trial.about in KEPT], ids=str)
def test_a_bike_that_just_keeps_a_rule_has_nothing_left(trial: Trial) -> None:
    """The margin of the rule says so, to the step by which the next bike breaks it."""
    tightest = max(margin.share for margin in near(trial.kept).tight if margin.rule == trial.rule)
    assert Fraction(998, 1000) < tightest <= 1


def test_the_worst_case_counts() -> None:
    """Of a bank that carries 4 A by day and 9.5 A with the horn, the horn's case is told; the nearest case likewise."""
    loads = (f"{LAMP}, current: 4 A, when: [day, night]", f"{OTHER}, current: 5.5 A, when: horn")
    found = near((bike(*loads), unit(f"{OUT}, bank: B", f"{SECOND}, bank: B", banks="B: 10 A")))
    assert "bank B by day, horn: 9.5 A of 10 A, 0.5 A left" in [margin.sentence for margin in found.tight]
    case = found.nearest_case
    assert (case.case, case.when, case.current, case.limit) == ("day, horn", "by day, horn", 9500, 40_000)


def test_loads_that_lose_the_same_are_told_once() -> None:
    """Two lamps of one circuit at one point lose the same of the same limit: one margin, no figure twice.

    The other of the wire is of what it carries.
    """
    loads = (f"{lamp}, current: 1 A, share: lamps" for lamp in (LAMP, OTHER))
    found = wired((bike(*loads), unit(OUT)))
    assert found is not None
    told = [margin.subject for margin in margins(found.laid) if margin.rule == "wire"]
    assert told == ["lamp, other", "lamp and other"]


def test_a_rule_set_aside_has_no_margin() -> None:
    """What is not judged has no limit; the fullest leg is told all the same."""
    texts = loom(f"{{{HOSE}, diameter: 2 mm, count: 4}}", "6.3 mm")
    aside = near((f"{texts[0]}set_aside: {{opening: measured on the bike}}\n", texts[1]))
    assert all(margin.rule != "opening" for margin in aside.tight)
    assert aside.fullest_leg is not None
    assert aside.fullest_leg.subject == "neck - bracket"


def test_no_opening_no_fullest_leg() -> None:
    """Where no leg has an opening, none is fullest."""
    assert near((bike(f"{LAMP}, current: 1 A"), unit(OUT))).fullest_leg is None


# --- all together


@third_of("family", FAMILIES, 1)
@on_seeds(FEW, range(8100, 8104))
def test_margins_of_plans_that_passed_their_check(family: str, seeds: range) -> None:
    """None is above its limit, none is told twice; less than a tenth is left of those near, the most serious first.

    With what may come later none is above its limit either, and that makes none of them near.
    """
    for found in random_plans(family, seeds):
        told, near_ones = list(margins(replace(found.laid, later=()))), found.near.tight
        assert all(0 <= margin.share <= 1 and margin.left >= 0 for margin in (*told, *margins(found.laid)))
        assert len({margin.sentence for margin in told}) == len(told)
        ranked = sorted(near_ones, key=lambda margin: (margin.may_be_thicker, -margin.share, told.index(margin)))
        assert list(near_ones) == ranked
        assert set(near_ones) == {margin for margin in told if margin.share > Fraction(9, 10)}
        assert found.near.first == (near_ones[0] if near_ones else max(told, key=lambda margin: margin.share))


def test_equally_near_ones_stand_as_in_the_file() -> None:
    """Two lamps of 12 A have nothing left, nor has 1.25 x 24 A of 30 A; the first in the file is told first."""
    loads = (f"{lamp}, current: 12 A" for lamp in (LAMP, OTHER))
    subjects = [margin.subject for margin in near((bike(*loads, more="reels: [4 mm2]"), unit(OUT, SECOND))).tight]
    assert subjects[:3] == ["main fuse", "lamp", "other"], subjects


# --- told


def text(found: NearMisses) -> str:
    """Return near misses as they are printed."""
    file = StringIO()
    write_near(found, TextPage(Console(file=file, width=200, highlight=False)))
    return file.getvalue()


def test_text_with_near_misses() -> None:
    """A heading, an item for each near limit, then what grows least and the fullest leg and case."""
    assert text(near(MARGINS[4][1])) == (
        "\n"
        "Near misses\n"
        "  Less than 10 % left, the most serious first, wires that may be thicker last:\n"
        "  - neck - bracket: the loom is 6.0 mm with the sleeve, the opening 6.3 mm, 0.3 mm left\n"
        "  - main fuse 20 A: the feed of 1 mm2 carries 20 A in tray - neck, nothing left; it may be thicker\n"
        "  With wires and main fuse as planned:\n"
        "  - lamp has the least headroom: from 1 A by 11 A to 12 A; above that, lamp draws 12.001 A and needs a trip "
        "of 15.002 A (1.25 x), out 1 can be set to 15 A at most\n"
        "  - fullest leg: neck - bracket: the loom is 6.0 mm with the sleeve, the opening 6.3 mm, 0.3 mm left\n"
        "  - heaviest case: with the key on, 1 A of the unit's 40 A\n"
    )


def test_text_without_near_misses() -> None:
    """It says so, with what would break first; 3 x 10 A of 60 A are less than 1.25 x 10 A of 15 A."""
    assert text(near((bike(f"{LAMP}, current: 10 A", more=THICK), unit(OUT)))) == (
        "\n"
        "Near misses\n"
        "  No limit has less than 10 % left. The tightest: lamp on out 1: for 10 A a trip of 12.5 A is needed, "
        "out 1 goes up to 15 A, 2 A more may be drawn.\n"
        "  With wires and main fuse as planned:\n"
        "  - lamp has the least headroom: from 10 A by 2 A to 12 A; above that, lamp draws 12.001 A and needs a trip "
        "of 15.002 A (1.25 x), out 1 can be set to 15 A at most\n"
        "  - heaviest case: with the key on, 10 A of the unit's 40 A\n"
    )


def test_json() -> None:
    """The document is JSON; shares are rounded down, so that 100 stands only where nothing is left."""
    found = near((bike(f"{LAMP}, current: 12 A", more=THICK), unit(OUT)))
    document = json.loads(json.dumps(near_json(found)))
    assert list(document) == ["tight", "first", "grows_least", "fullest_leg", "nearest_case"]
    assert document["first"] == document["tight"][0]
    assert (document["first"]["rule"], document["first"]["used_percent"]) == ("trip", 100)
    least = document["grows_least"]
    assert (least["load"], least["current_a"], least["by_a"], least["rule"]) == ("lamp", 12, 0, "trip")
    assert document["fullest_leg"] is None
    assert document["nearest_case"] == {"case": "key on", "current_a": 12, "limit_a": 40}
    almost: LimitMargin = replace(found.first, share=Fraction(9999, 10_000))
    assert near_json(replace(found, first=almost))["first"]["used_percent"] == 99.9


@pytest.mark.parametrize(("name", "profile"), [("dressed-tourer", "eleven-way"), ("harbour-trail", "fourteen-way")])
def test_examples_are_told_in_words_of_the_trade(name: str, profile: str) -> None:
    """Each line has a figure with its unit, and none speaks of how it was worked out."""
    found = near(((EXAMPLES / f"{name}.yaml").read_text("utf-8"), (PROFILES / f"{profile}.yaml").read_text("utf-8")))
    assert found.tight
    for line in [margin.sentence for margin in found.tight]:
        assert any(f" {sign}" in line for sign in ("A", "V", "mm"))
        assert not any(word in line for word in ("row", "column", "budget", "constraint", "margin", "share"))
