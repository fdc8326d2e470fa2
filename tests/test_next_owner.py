"""The next owner's record: where everything is, in plain words."""

from laid_bikes import EACH_FITTING
from outcomes import EXAMPLES, PROFILES
from portloom.documents.handover.next_owner import record_of
from portloom.documents.wiring.pieces import wiring_of
from portloom.inputs.files import read_unit
from portloom.planning.plan import Planned, plan
from unasked import read_bike


@EACH_FITTING
def test_everything_that_can_fail_is_told_where_it_is(bike: str, unit: str) -> None:
    """Outputs with their trips, fuses, earth points, connectors, splices, inputs and multiplexers."""
    answer = plan(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(PROFILES / f"{unit}.yaml"))
    assert isinstance(answer, Planned)
    found, wiring = answer.plan, wiring_of(answer.laid)
    chapters = {chapter.title: " ".join(chapter.sentences) for chapter in record_of(found, wiring).chapters}
    for line in found.outputs:
        assert f"{line.port.capitalize()} feeds {line.loads[0]}" in chapters["If something goes out"]
    assert ("everything is dead" in chapters["Where it gets its power"]) == (not found.fed)
    for fed in found.fed:
        assert f"{fed.name[0].upper()}{fed.name[1:]} has " in chapters["If something goes out"]
    assert {f"At {wire.ends[-1]}:" in chapters["Where it is earthed"] for wire in found.returns} <= {True}
    for connector in wiring.connectors:
        assert connector.at in chapters["Where the loom comes apart"].split(".")[0]
    assert all(splice.name in chapters["Where the loom comes apart"] for splice in wiring.splices)
    for read in found.inputs:
        assert f"{read.port.capitalize()}: {read.switches[0]}" in chapters["What reads your switches"]
    assert all(box.name.capitalize() in chapters["What reads your switches"] for box in found.multiplexers)
