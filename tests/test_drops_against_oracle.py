"""What a plan shows of its wires, their sizes and what is lost on them, against the second program.

The bikes are random. The second program lays the plan anew and works out each size and each drop for itself.
"""

from collections.abc import Iterator, Sequence
from functools import cache

from oracle.cut import Cut
from oracle.random_bikes import random_case
from outcomes import best, planned
from portloom.documents.document import Plan
from slices import FEW, on_seeds, third_of
from translated import Reference

FAMILIES = ("plain", "wires", "fed", "bundles", "faults", "coils", "returns", "feeds", "switched", "spurs")
EACH_SEED = on_seeds(FEW, (1000, 1005, 1006, 1007))


def plans(family: str, seeds: Sequence[int]) -> Iterator[tuple[Plan, Cut]]:
    """Return each plan as it is shown, and as the second program lays it."""
    return filter(None, (_plan(*random_case(seed, family)) for seed in seeds))


@cache
def _plan(bike: str, unit: str) -> tuple[Plan, Cut] | None:
    _, found = best(bike, unit)
    if found is None:
        return None
    reference = Reference(bike, unit)
    return planned(bike, unit), Cut(reference.site(found), reference.plan(found))


@third_of("family", FAMILIES, 2)
@EACH_SEED
def test_every_drop_is_that_of_the_wires_that_are_cut(family: str, seeds: Sequence[int]) -> None:
    """On the feed, on the way to each load of an output, and to each that no output feeds, to the microvolt."""
    for plan, cut in plans(family, seeds):
        assert plan.only.feed.drop == cut.feed_uv()
        for line in plan.outputs:
            assert {lost.load: lost.drop for lost in line.drops} == cut.output_uv(line.port)
        shown = {line.name: line.drop.drop for line in plan.fed if line.drop is not None}
        assert shown == {name: cut.fed_uv(name) for name in shown}


@third_of("family", FAMILIES, 2)
@EACH_SEED
def test_every_size_is_the_one_that_is_cut(family: str, seeds: Sequence[int]) -> None:
    """Of feed, outputs and fed loads; of returns with a leg as many of each size as there are."""
    for plan, cut in plans(family, seeds):
        stock = cut.site.bike.stock
        assert stock.wire(plan.only.feed.size.label).area == cut.feed.area
        assert {line.port: stock.wire(line.size.label).area for line in plan.outputs} == {
            port: wire.area for port, wire in cut.outputs.items()
        }
        for name, (_, wire) in cut.fed.items():
            assert {stock.wire(line.size.label).area for line in plan.fed if line.name == name} == {wire.area}
        joints = cut.job.joints
        shown = sorted(stock.wire(line.size.label).area for line in plan.returns if line.wire.legs)
        senders = [cut.job.thin.area for _ in range(len(shown) - len([key for key in joints if joints[key].run]))]
        assert shown == sorted([*senders, *(wire.area for key, wire in cut.returns.items() if joints[key].run)])
