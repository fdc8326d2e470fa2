"""The bench test of a plan: its steps numbered, its currents written for the battery at rest."""

from decimal import Decimal

from portloom.base.figures import volts_left
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.documents.handover.first_power import first_power, key_off
from portloom.documents.handover.powered import PoweredSteps
from portloom.documents.handover.steps import BenchTest, Expected, Step, StepDraft
from portloom.documents.handover.unpowered import steps_without_power, unplugged
from portloom.job.laid import Laid

PRINTED_FOR = MilliVolts(12_600)
"""The voltage that currents are printed for: a charged battery at rest. Source: common practice, no source."""
IN_MILLIAMPERES = MilliAmps(200)
"""Below this a current is told in milliamperes."""


def bench_test(laid: Laid) -> BenchTest:
    """Return the bench test of a plan that was checked."""
    drafts = [*steps_without_power(laid), *first_power(laid), *PoweredSteps(laid).steps(), key_off(laid)]
    return BenchTest(
        bike=laid.site.job.bike.bike,
        unit=laid.site.job.unit.unit,
        supply=PRINTED_FOR,
        unplug=unplugged(laid),
        steps=tuple(_numbered(number, draft) for number, draft in enumerate(drafts, 1)),
    )


def _numbered(number: int, draft: StepDraft) -> Step:
    return Step(
        number=number,
        part=draft.part,
        title=draft.title,
        do=draft.do,
        read=draft.read,
        expect="; ".join(filter(None, (draft.expect, _printed(draft)))),
        port=draft.port,
        expected=draft.expected,
        loses=draft.loses,
        between=draft.between,
    )


def _printed(draft: StepDraft) -> str:
    """Write what a meter should show at the voltage that is printed for, which is said where it is not the sheet's."""
    supply = PRINTED_FOR if draft.printed_for is None else draft.printed_for
    parts = [range_said(draft.expected, supply)] if draft.expected is not None else []
    if draft.loses is not None:
        parts.append(f"at the load {volts_left(1000 * supply - draft.loses)} or more")
    said = f"at {supply / 1000:g} V: " * (supply != PRINTED_FOR and bool(parts))
    return said + ", ".join(parts)


def range_said(expected: Expected, supply: MilliVolts) -> str:
    """Write the current to expect at a supply voltage: '4.10 to 5.20 A', 'at most 60 mA'."""
    lowest, highest = expected.current(supply)
    if not highest:
        return "no current"
    small = highest < IN_MILLIAMPERES
    least, most = (str(at) if small else f"{Decimal(at) / 1000:.2f}" for at in (lowest, highest))
    unit = "mA" if small else "A"
    return f"{least} to {most} {unit}" if expected.draws else f"at most {most} {unit}"
