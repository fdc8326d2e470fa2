"""A unit's ports: limits, trips, curves, banks, and inputs that outputs follow."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from portloom.base.nearest import suggest
from portloom.base.unit import Unit
from portloom.inputs.problems import Flaw
from portloom.inputs.schema import misspelt
from portloom.inputs.tree import (
    CURRENT,
    MULTIPLE,
    TIME,
    Keyed,
    Listed,
    amount,
    amount_of,
    entries,
    keyed,
    several,
    word,
)


def port_flaws(unit: Keyed) -> Iterator[Flaw]:
    """Tell outputs that can't be as the profile says."""
    banks = keyed(unit, "banks")
    names = [word(port, "name") for port in entries(unit, "inputs")]
    for output in entries(unit, "outputs"):
        yield from _limits(output)
        yield from _curve(output)
        if banks or not misspelt(unit, Unit, ["banks"]):
            yield from _known(output, "bank", tuple(banks.keys) if banks else ())
        if None not in names and not misspelt(unit, Unit, ["inputs"]):
            yield from _known(output, "follow", [name.text for name in names if name])


def _known(output: Keyed, key: str, known: Sequence[str]) -> Iterator[Flaw]:
    said = word(output, key)
    kind = {"bank": "bank", "follow": "input"}[key]
    if said and said.text not in known:
        yield Flaw.at(said, f"the unit has no {kind} '{said.text}'", suggest(said.text, known))


def _limits(output: Keyed) -> Iterator[Flaw]:
    limit = amount_of(output, "limit", CURRENT)
    if limit is None:
        return
    peak = amount_of(output, "peak", CURRENT)
    if peak is not None and peak < limit:
        what = "the peak is less than the limit"
        yield Flaw.at(output.values["peak"], what, "write the higher current that it can pass for a short time")
    trips = [amount(trip, CURRENT) for trip in several(output, "trip")]
    known = [trip for trip in trips if trip is not None]
    if known and len(known) == len(trips) and min(known) > limit:
        what = "no trip listed is within the limit"
        yield Flaw.at(output.values["trip"], what, "list at least one that is no more than 'limit'")


def _curve(output: Keyed) -> Iterator[Flaw]:
    curve = output.values.get("trip_curve")
    items = curve.items if isinstance(curve, Listed) else ()
    for before, after in pairwise(items):
        one, other = _step(before), _step(after)
        if one and other and not (one[0] < other[0] and one[1] > other[1]):
            what = "the trip curve does not fall here"
            yield Flaw.at(after, what, "order it by rising multiple: the higher the current, the shorter it holds")


def _step(node: object) -> tuple[int, int] | None:
    if not isinstance(node, Listed) or len(node.items) != 2:
        return None
    multiple, time = amount(node.items[0], MULTIPLE), amount(node.items[1], TIME)
    return (multiple, time) if multiple is not None and time is not None else None
