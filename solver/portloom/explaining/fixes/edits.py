"""A changed bike as changes to its file: which keys and entries of the text to set, add or take away."""

from collections.abc import Iterator

from portloom.base.bike import Bike, Leg, Load, Switch
from portloom.base.figures import millimetres
from portloom.base.quantities import Micrometres, MilliWatts
from portloom.inputs.editing.editing import Append, Edit, Plain, Put, Remove
from portloom.inputs.tree import Source

PINS = ("on", "not_on")
"""The keys by which a load or a switch is held to ports."""
CHANGEABLE = (
    "share", "fed", "suppressed", "avoid", "lamp", "current", "power", "kind", "inrush", "inrush_for", "dims", *PINS,
)  # fmt: skip
"""The keys of a load that a fix may change."""


def edits_of(before: Bike, after: Bike, source: Source) -> Iterator[Edit]:
    """Return the edits that make one bike's file, read from ``source``, say what the other is."""
    yield from _loads(before, after, source)
    yield from _switches(before, after, source)
    for number, (old, new) in enumerate(zip(before.frame.legs, after.frame.legs, strict=True)):
        yield from _leg(("frame", "legs", number), old, new)
    for place in after.places[len(before.places) :]:
        yield Append(("places",), {"name": place.name, "front": place.front or "", "rear": place.rear or ""})
    yield from _multiplexers(before, after)
    yield from _alike(before, after)


def _multiplexers(before: Bike, after: Bike) -> Iterator[Edit]:
    """Return new multiplexers; the first of a bike brings the list."""
    new: list[Plain] = [
        {"name": box.name, "at": list(box.at), "ways": str(box.ways), "takes": list(box.takes)}
        for box in after.multiplexers[len(before.multiplexers) :]
    ]
    if before.multiplexers:
        yield from (Append(("multiplexers",), entry) for entry in new)
    elif new:
        yield Put(("multiplexers",), new)


def _loads(before: Bike, after: Bike, source: Source) -> Iterator[Edit]:
    kept = {load.name: load for load in after.loads}
    regrouped = _regrouped(before, after)
    for number, load in enumerate(before.loads):
        path = source.in_file(("loads", number))
        if load.name in kept:
            yield from _load(path, load, kept[load.name])
            if kept[load.name].lamp != load.lamp and not source.says(("loads", number, "except")):
                yield from _off(path, load)
            yield from _shown(path, load, kept[load.name], by_name=regrouped)
        else:
            yield Remove(path)


def _regrouped(before: Bike, after: Bike) -> bool:
    """Tell whether a load that is left is in another share group, so that a group's name may say something else."""
    groups = {load.name: load.share for load in before.loads}
    return any(groups[load.name] != load.share for load in after.loads if load.name in groups)


def _alike(before: Bike, after: Bike) -> Iterator[Edit]:
    """Return how sets of loads on outputs alike change: one of which two are not left, or no output feeds any, goes."""
    fed = {load.name: load.fed == "unit" and not load.from_ for load in after.loads}
    regrouped = _regrouped(before, after)
    sets = [tuple(name for name in names if name in fed) if names in after.alike else () for names in before.alike]
    keeps = [
        len(left) > 1 and any(fed[name] for name in left) and sorted(left) not in map(sorted, sets[:number])
        for number, left in enumerate(sets)
    ]
    if sets and not any(keeps):
        yield Remove(("alike",))
        return
    for number, (names, left) in enumerate(zip(before.alike, sets, strict=True)):
        if not keeps[number]:
            yield Remove(("alike", number))
        elif regrouped or left != names:
            yield Put(("alike", number), list(left))


def _load(path: tuple[str | int, ...], before: Load, after: Load) -> Iterator[Edit]:
    for key in CHANGEABLE:
        old, new = getattr(before, key), getattr(after, key)
        if old != new:
            yield Remove((*path, key)) if new in (None, ()) else Put((*path, key), _text(key, new))
    if before.from_ != after.from_:
        yield Put((*path, "from"), list(after.from_))


def _off(path: tuple[str | int, ...], before: Load) -> Iterator[Edit]:
    """A lamp of two filaments says when one of them is off; without it the file does."""
    if before.except_:
        yield Put((*path, "except"), list(before.except_))


def _shown(path: tuple[str | int, ...], before: Load, after: Load, *, by_name: bool) -> Iterator[Edit]:
    """What a dash shows is written by its names where that changes, or where a group that it names may."""
    if after.shows != before.shows or (by_name and after.shows):
        lamps: list[Plain] = [lamp[0] if len(lamp) == 1 else list(lamp) for lamp in after.shows]
        yield Put((*path, "shows"), lamps) if lamps else Remove((*path, "shows"))


def _text(key: str, value: object) -> str | list[str]:
    """Write a value as people write it."""
    match value:
        case bool():
            return "true" if value else "false"
        case tuple():
            return [str(word) for word in value]
        case int():
            return f"{MilliWatts(value) / 1000:g} W" if key == "power" else str(value)
        case _:
            return str(value)


def _switches(before: Bike, after: Bike, source: Source) -> Iterator[Edit]:
    """What a switch works by what it is follows from the loads that are left."""
    kept: dict[str, Switch] = {switch.name: switch for switch in after.inputs}
    for number, switch in enumerate(before.inputs):
        path = source.in_file(("inputs", number))
        if switch.name not in kept:
            yield Remove(path)
        elif kept[switch.name].operates != switch.operates and source.says(("inputs", number, "operates")):
            operates = list(kept[switch.name].operates)
            yield Put((*path, "operates"), operates) if operates else Remove((*path, "operates"))
        if switch.name in kept:
            yield from (Remove((*path, key)) for key in PINS if getattr(switch, key) != getattr(kept[switch.name], key))


def _leg(path: tuple[str | int, ...], before: Leg, after: Leg) -> Iterator[Edit]:
    if after.opening is not None and before.opening != after.opening:
        yield Put((*path, "opening"), millimetres(Micrometres(after.opening)))
