"""Trips and wires as posted: read in every form, and judged as the reference judges them.

The reference is the judge in ``oracle``, which shares no code with the project and lays every wire anew.
"""

import random
from dataclasses import replace

import pytest

from oracle.random_bikes import random_case
from oracle.reading import read_bike
from oracle.settings import stands
from outcomes import best, reseated
from portloom.base.quantities import MilliAmps
from portloom.inputs.files import find_unit, read_unit
from portloom.review.figures import current_said, size_said, split_figures
from portloom.review.names import KnownNames
from portloom.review.post import TextCell
from portloom.review.posted import judge_post
from portloom.review.reading import read_post
from portloom.review.settings import PostedSettings
from portloom.review.without_bike import match_alone
from slices import FEW, ONE_MORE, on_seeds, third_of
from test_posted_plans import post_of
from translated import Reference

FAMILIES = ("wires", "bundles", "faults", "cranking", "openings")
UNIT = read_unit(find_unit("eleven-way"))


@pytest.mark.parametrize(
    ("text", "name", "trips", "currents", "sizes"),
    [
        ("out 1 (10 A, 1.5 mm2)", "out 1", [], [10_000], ["1.5 mm2"]),
        ("out 1, fuse 7.5A", "out 1", [7500], [], []),
        ("horn 3,5 A", "horn", [], [3500], []),
        ("horn (16 AWG wire)", "horn", [], [], ["16 AWG"]),
        ("AWG 16", "", [], [], ["16 AWG"]),
        ("set to 10 amps", "", [10_000], [], []),
        ("10 A fuse", "", [10_000], [], []),
        ("250 mA", "", [], [250], []),
        ("1,5 mm²", "", [], [], ["1.5 mm2"]),
        ("P21/5W tail", "P21/5W tail", [], [], []),
        ("W5W", "W5W", [], [], []),
        ("fuse box light", "fuse box light", [], [], []),
    ],
)
def test_figures_beside_a_name(text: str, name: str, trips: list[int], currents: list[int], sizes: list[str]) -> None:
    """A trip is said to be one, a current is not; a lamp's name is no figure."""
    found = split_figures(TextCell(text, 1, 1))
    assert found.name.text == name
    assert [current_said(cell.text) for cell in found.trips] == trips
    assert [current_said(cell.text) for cell in found.currents] == currents
    assert [size.label for cell in found.sizes if (size := size_said(cell.text))] == sizes


FORMS = {
    "plain": "out 1 (13 A, 2.5 mm2): dipped beam\nout 5: 2 A, 0.5 mm2, tail lamp",
    "the other way round": "dipped beam -> out 1, fuse 13 A, 2.5 mm²\ntail lamp -> out 5 (2A; 0,5 mm2)",
    "markdown": "|port|load|trip|wire (mm2)|\n|-|-|-|-|\n|out 1|dipped beam|13|2.5|\n|out 5|tail lamp|2 A|0.5 mm2|",
    "csv": 'port,load,fuse,size\nout 1,dipped beam,13 A,2.5 mm2\nout 5,tail lamp,2A,"0,5 mm2"',
    "yaml": "outputs:\n  - {port: out 1, loads: [dipped beam], trip: 13 A, size: 2.5 mm2}\n"
    "  - {port: out 5, load: tail lamp, trip_a: 2, wire_mm2: 0.5}",
    "yaml by port": "outputs:\n  out 1: {loads: dipped beam, trip: 13 A, wire: 2.5 mm2}\n"
    "  out 5: {load: tail lamp, trip: 2 A, size: 0.5 mm2}",
}


@pytest.mark.parametrize("form", FORMS)
def test_trips_and_wires_in_every_form(form: str) -> None:
    """However it is written, each output has the same trip and the same wire."""
    ports = KnownNames((*(output.name for output in UNIT.outputs), *(port.name for port in UNIT.inputs)))
    alone = match_alone(read_post(FORMS[form], "post", ports), UNIT)
    settings = alone.posted.settings
    assert alone.posted.flaws == []
    assert alone.posted.outputs == {"out 1": ["dipped beam"], "out 5": ["tail lamp"]}
    assert settings.trips == {"out 1": 13_000, "out 5": 2_000}
    assert {port: size.label for port, size in settings.sizes.items()} == {"out 1": "2.5 mm2", "out 5": "0.5 mm2"}


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("out 1 (13 A): horn\nout 1: 8 A fuse", "out 1 trips at 13 A and at 8 A; leave one of them out"),
        ("out 1: horn, 1 mm2, 2.5 mm2", "the wire of out 1 is 1 mm2 and 2.5 mm2; leave one of them out"),
        ("out 1: horn, 1.2 mm2", "the wire catalogue has no 1.2 mm2; write 1 mm2 or 1.5 mm2"),
        ("port,load,trip\nout 1,horn,ten", "'ten' is not a trip; write it such as 10 A"),
        ("port,load,size\nout 1,horn,1.5", "'1.5' is not a wire size; write it such as 1.5 mm2 or 16 AWG"),
        ("outputs: {out 1: {load: horn, trip: [1 A]}}", "'trip: several' is not a trip; write it such as 10 A"),
        ("out 1: horn\nmain fuse: big", "'big' is not a fuse; write it such as 30 A"),
    ],
)
def test_what_is_no_trip_and_no_wire_is_told(line: str, what: str) -> None:
    """With what would be right."""
    ports = KnownNames(output.name for output in UNIT.outputs)
    flaws = match_alone(read_post(line, "post", ports), UNIT).posted.flaws
    assert [f"{flaw.what}; {flaw.right}" for flaw in flaws] == [what]


@third_of("family", FAMILIES, 0)
@on_seeds((*FEW, ONE_MORE, 1001, 1003, 1004, *range(1006, 1010)), range(800, 830))
def test_judged_as_the_reference_judges(family: str, seeds: range) -> None:
    """On random bikes, a best plan with one output set otherwise is sound exactly if the reference says so."""
    verdicts: list[bool] = []
    enough = 2 * len(seeds) * 2 // 3
    for seed in seeds:
        if seed not in seeds[: len(seeds) // 4] and len(verdicts) >= enough:
            break
        texts = random_case(seed, family)
        job, found = best(*texts)
        if found is None:
            continue
        plan = reseated(found, room_for=())
        reference, dice = Reference(*texts), random.Random(seed)
        sites, same = list(reference.sites(plan)), reference.plan(plan)
        post = post_of(job, plan)
        wires = read_bike(texts[0]).reels
        for line in plan.outputs:
            output = next(output for output in job.unit.outputs if output.name == line.port)
            trips = sorted({line.trip, output.limit, *(output.trip or ()), MilliAmps(line.trip + 500)})
            for trip in dice.sample(trips, min(3, len(trips))):
                number = dice.randrange(len(wires))
                settings = PostedSettings({line.port: trip}, {line.port: job.reels[number].size})
                sound = judge_post(job, replace(post, settings=settings)).clashes == ()
                verdicts.append(sound)
                right = any(stands(site, same, line.port, trip, wires[number]) for site in sites)
                assert sound is right, (seed, line.port, trip, number)
    assert set(verdicts) == {True, False}
    assert len(verdicts) >= enough
