"""Whether a sound plan stays sound with one output set to another trip, on another wire; no solver."""

from collections.abc import Iterator
from dataclasses import replace

from .catalogue import Wire
from .circuits import Circuit
from .drive import Column, Drive
from .electrics import holds_ms
from .judge import Plan, room_kept
from .site import Site
from .things import Output


def stands(site: Site, plan: Plan, port: str, trip_ma: int, wire: Wire) -> bool:
    """Tell whether a plan that keeps the rules does so with this trip and this wire on the output of this name."""
    columns = list(_columns(site, plan, port, trip_ma, wire))
    able = [column for column in columns if column is not None]
    laid = site.laid(able) if len(able) == len(columns) else None
    return laid is not None and room_kept(site, laid)


def _columns(site: Site, plan: Plan, port: str, trip_ma: int, wire: Wire) -> Iterator[Column | None]:
    for held, output in plan.outputs:
        column = site.output_column(held, output)
        yield _set(site, column, held, trip_ma, wire) if output.name == port else column
    for switches, source in plan.inputs:
        yield site.input_column(switches, source)


def _set(site: Site, column: Column | None, held: Circuit, trip_ma: int, wire: Wire) -> Column | None:
    if column is None or column.drive is None:
        return None
    drive = replace(column.drive, trip_ma=trip_ma, reels=(wire,), serves=lambda _, __: True)
    if not _trips_right(site, held, drive.output, trip_ma) or not _carries(site, drive, wire):
        return None
    if not site._cranks(drive):  # noqa: SLF001 - the judge's own word for it
        return None
    return Column(column.cost_um, drive.laid(wire), column.steady_ma, drive)


def _trips_right(site: Site, held: Circuit, output: Output, trip_ma: int) -> bool:
    curve = output.curve
    return (
        trip_ma in output.trips_ma
        and trip_ma <= output.limit_ma
        and 4 * trip_ma >= 5 * held.steady_ma
        and trip_ma < site.fuse_ma
        and (not curve or holds_ms(curve, held.inrush_ma / trip_ma) >= held.inrush_ms)
    )


def _carries(site: Site, drive: Drive, wire: Wire) -> bool:
    tails = [load.leads for load in drive.held.members if load.leads is not None]
    return all(tail.carries_ma >= drive.trip_ma for tail in tails) and site._serves(drive, wire)  # noqa: SLF001
