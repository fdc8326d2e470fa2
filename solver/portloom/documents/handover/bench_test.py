"""The bench test of a plan: its steps in the order in which one works, numbered, and what holds for all of them."""

from collections.abc import Iterator

from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.engine_running import RunningSteps
from portloom.documents.handover.first_power import first_power, key_off
from portloom.documents.handover.heads import HOW_TO_READ, by_itself, said_of_parts
from portloom.documents.handover.one_circuit import OneCircuitSteps
from portloom.documents.handover.plugged_in import PluggedInSteps
from portloom.documents.handover.steps import PRINTED_FOR, BenchTest, Step
from portloom.documents.handover.unpowered import steps_without_power, unplugged
from portloom.job.laid import Laid


def bench_test(laid: Laid) -> BenchTest:
    """Return the bench test of a plan that was checked."""
    return BenchTest(
        bike=laid.site.job.bike.bike,
        unit=laid.site.job.unit.unit,
        supply=PRINTED_FOR,
        how_to_read=HOW_TO_READ,
        by_itself=tuple(by_itself(laid)),
        unplug=unplugged(laid),
        said=said_of_parts(laid),
        steps=tuple(step.numbered(number) for number, step in enumerate(_steps(laid), 1)),
    )


def _steps(laid: Laid) -> Iterator[Step]:
    working = OperatingSteps(laid.site.job)
    yield from steps_without_power(laid)
    yield from first_power(laid, working)
    yield from OneCircuitSteps(laid, working).steps()
    yield from PluggedInSteps(laid, working).steps()
    yield from RunningSteps(laid, working).steps()
    yield key_off(laid)
