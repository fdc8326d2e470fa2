"""An ignition coil is never earthed: its current comes back through what switches it, or the engine's strap.

Source: common practice, no source; resistance of 2.5 mm2 (7.98 mohm/m at 20 C) and 0.5 mm2 (39.0) IEC 60228 class 5,
at 85 C x (234.5 + 85) / 254.5; an earth point 2 mohm (common practice).
"""

from xml.etree import ElementTree as ET

import pytest

from laid_bikes import laid_text, solved
from pictured import pictures
from portloom.base.quantities import MilliAmps
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.wiring.lists import not_listed
from portloom.documents.wiring.pieces import wiring_of
from portloom.inputs.files import bike_from_text
from portloom.inputs.problems import BadFile
from portloom.job.consumers import Return
from portloom.job.fixed import conductor_of
from portloom.job.laid import Laid
from portloom.job.loading import fault_demands
from portloom.job.losses import Losses
from test_pictures import check_pages

TEXT = "{http://www.w3.org/2000/svg}text"
FRAMED = "at: tank, current: 6 A, return: frame"
BOX = "{name: box, part: ignition box, at: engine, current: 1 A}"
BIKE = """
bike: Harbour Trail
supply: {{running: 14.0 V, battery: {{capacity: 10 Ah, at: tray}}}}
stand: none
frame:
  legs:
    - {{between: [tray, tank], length: 400 mm}}
    - {{between: [tray, engine], length: 900 mm}}
    - {{between: [tray, bar], length: 800 mm}}
  earth: tray
places: [{{name: under the seat, front: tray}}]
loads:
  - {{name: coil, part: ignition coil, at: tank, current: 6 A{coil}}}
{others}
later: []
inputs:
  - {{part: engine stop switch, at: bar, made: run}}
reels: [0.5 mm2, 1 mm2, 2.5 mm2, 4 mm2]
limits: {{drop: {{engine: 1 V}}}}
"""
UNIT = """
unit: trial
feed: {limit: 40 A}
outputs:
  - {names: [out 1, out 2, out 3], limit: 15 A, peak: 90 A, trip: [10 A], switch_modes: [steady], inductive: true}
inputs: [{name: in 1, accepts: [earth]}]
"""


def bike(by: str = "switched_by: ignition box", *others: str) -> str:
    """Return a bike with a coil of 6 A at the tank, and what else is on it."""
    return BIKE.format(coil=f", {by}", others="\n".join(f"  - {other}" for other in others or (BOX,)))


def laid(by: str = "switched_by: ignition box", *others: str) -> Laid:
    """Return its best plan."""
    return laid_text(bike(by, *others), UNIT)


def returns(plan: Laid) -> dict[str, str]:
    """Return the size of each joint return, by the point where it begins."""
    return {wire.name: conductor_of(plan.site, wire).size.label for wire in plan.site.fixed_of("return")}


def test_the_box_leads_the_coils_current_back() -> None:
    """7 A over 0.9 m: 2.5 mm2 loses 63 mV of 70 mV, 1 mm2 would lose 154 mV; the box alone, 1 A, needs 0.5 mm2."""
    assert returns(laid()) == {"engine": "2.5 mm2", "bar": "0.5 mm2"}
    assert returns(laid("switched_by: points"))["engine"] == "0.5 mm2"


def test_a_coil_loses_what_the_box_return_loses() -> None:
    """70 mV on the return, as every plan is judged; 7 A through splice and earth point, 1 and 2 mohm: 21 mV."""
    plan = laid()
    losses = Losses(plan.site)
    both = 70_000 + 7000 * (1 + 2)
    coil, box = (next(one for one in plan.site.job.wired_loads if one.name == name) for name in ("coil", "box"))
    assert losses.behind_only(coil) == losses.behind_only(box)
    assert losses.behind_only(coil) == both


@pytest.mark.parametrize(
    ("by", "others"),
    [
        ("switched_by: points", (BOX,)),
        ("switched_by: ignition box", (BOX.replace("1 A", "1 A, return: frame"),)),
    ],
)
def test_a_coil_whose_switch_earths_by_the_frame_burdens_no_return(by: str, others: tuple[str, ...]) -> None:
    """Points, and a box that earths through its body, lead the coil's current back by the engine's strap."""
    plan = laid(by, *others)
    coil = plan.site.job.loads.on_unit[0]
    assert coil.returns_at is None
    assert "tank" not in returns(plan)
    assert Losses(plan.site).behind_only(coil) == 6000 * 2


def test_the_first_box_of_the_file_switches_the_coil() -> None:
    """With two boxes the coil's 6 A are in the return of the first."""
    second = "{name: second box, part: ignition box, at: bar, current: 1 A}"
    for boxes, carries in (((BOX, second), (7000, 1000)), ((second, BOX), (1000, 7000))):
        job = laid("switched_by: ignition box", *boxes).site.job
        most = tuple(max(job.returned(Return(point), case) for case in job.cases) for point in ("engine", "bar"))
        assert most == carries


def test_a_fault_of_the_coil_flows_in_the_box_return() -> None:
    """The coil's output trips at 10 A: with the box's 1 A its return must carry 11 A, as long as the fault lasts."""
    plan = laid("switched_by: ignition box", BOX.replace("1 A", "1 A, share: none"))
    (way,) = (wire for wire in plan.site.fixed_of("return") if wire.name == "engine")
    (own,) = (wired for wired in plan.outputs if wired.circuit.loads[0].name == "coil")
    assert max(demand.current for demand in fault_demands(plan.site.job, way, own)) == MilliAmps(11_000)


@pytest.mark.parametrize("where", ["tank", "engine"])
def test_no_wire_joins_the_coil_to_earth(where: str) -> None:
    """One wire ends at the coil, the one that feeds it; also where the box that switches it is beside it."""
    text = bike().replace("part: ignition coil, at: tank", f"part: ignition coil, at: {where}")
    plan = laid_text(text, UNIT)
    ends = [(wire.kind, end.terminal) for wire in wiring_of(plan).wires for end in wire.ends if end.name == "coil"]
    assert ends == [("output", "+")]
    told = "coil's other end to box, the maker's wire: a coil is never earthed itself"
    assert told in not_listed(plan)
    assert not any("points" in line for line in not_listed(plan))


def test_the_box_own_wire_is_as_thick_as_the_return() -> None:
    """Where a switch shares the box's return, the short wire from the box carries 7 A too: 2.5 mm2."""
    switch = "  - {name: neutral switch, at: engine, tells: neutral, return: wire}"
    text = bike().replace("inputs:\n", f"inputs:\n{switch}\n")
    unit = UNIT.replace("{name: in 1, accepts: [earth]}", "{names: [in 1, in 2], accepts: [earth]}")
    wires = wiring_of(laid_text(text, unit)).wires
    (own,) = (wire for wire in wires if wire.kind == "return" and wire.start.name == "box")
    assert own.size is not None
    assert own.size.label == "2.5 mm2"


def test_the_bench_sheet_never_earths_a_coil() -> None:
    """Its step says where the other end goes, and no step of a return names it."""
    steps = bench_test(laid()).steps
    told = [step for step in steps if "coil" in step.do]
    assert any("coil: other end to box, the maker's wire, never to earth." in step.do for step in told)
    assert not any("earth side of" in step.do for step in told)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            bike("switched_by: ignition box, return: wire"),
            "'coil' has no return of its own: a coil is never earthed itself; leave 'return' out; its current comes "
            "back through what switches it ('switched_by')",
        ),
        (
            bike("switched_by: ignition box", BOX.replace("1 A", "1 A, switched_by: points")),
            "'box' is no ignition coil: it has an earth of its own; leave 'switched_by' out, or write 'part: "
            "ignition coil'",
        ),
    ],
)
def test_what_contradicts_itself_is_refused(text: str, said: str) -> None:
    """A return of a coil, and something else that is switched at its other end."""
    with pytest.raises(BadFile) as refused:
        bike_from_text(text, "bike")
    assert said in str(refused.value)


@pytest.mark.parametrize(
    ("by", "others", "said"),
    [
        ("switched_by: ignition box", (BOX,), "other end to box, the maker's wire"),
        ("switched_by: points", (BOX,), "other end to points, the maker's wire"),
    ],
)
def test_the_diagram_draws_no_earth_at_a_coil(by: str, others: tuple[str, ...], said: str) -> None:
    """Beside its sign stands where the other end goes; a load that the frame earths has one sign of earth more."""
    found = solved(bike(by, *others), UNIT)
    assert found is not None
    drawn = pictures(found)
    check_pages(drawn)
    words = " ".join(" ".join(text.text or "" for text in ET.fromstring(page).iter(TEXT)) for page in drawn["circuit"])
    assert said in words
    assert "frame" not in words
    by_frame = bike(by, *others).replace(f"part: ignition coil, at: tank, current: 6 A, {by}", FRAMED)
    other = solved(by_frame, UNIT)
    assert other is not None
    earths = ["\n".join(pages["circuit"]).count('class="sign earth"') for pages in (drawn, pictures(other))]
    assert earths[1] == earths[0] + 1
