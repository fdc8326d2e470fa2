"""The checker's own dealing of returns: which loads of a frame point share a wire to earth, from the bike's file.

It looks at nothing that the job was dealt by. Loads are walked in the order of their jobs; a wire is closed when the
next load would ask more of it than a reel of the usual size gives.
"""

from collections import defaultdict
from collections.abc import Iterator

from portloom.base.bike import Load
from portloom.base.copper import Conductor
from portloom.base.drop import conductor_temperature
from portloom.base.parts.loads import DASH, ENGINE_CONTROLLER, IGNITION_BOX, LOAD_PART
from portloom.job.consumers import Consumer
from portloom.job.job import Job

BOXES = (ENGINE_CONTROLLER.name, IGNITION_BOX.name, DASH.name)
LIT = (None, "filament", "led", "discharge")


def dealt_again(job: Job) -> dict[str, tuple[str, int]]:
    """Return for each load that has a way back by wire the point where its return begins, and that return's number."""
    known = {load.name: load for load in job.loads.wired if load.returns_at is not None}
    built = _built(job)
    number: dict[str, int] = {}
    for point, last, _ in built:
        number[point] = max(last, number.get(point, 0))
    found: dict[str, tuple[str, int]] = {}
    waiting = []
    for together in _queue(job, known):
        stay = [(at, own) for at, own, loads in built if at == known[together[0]].returns_at and loads & {*together}]
        if stay:
            found |= dict.fromkeys(together, stay[0])
        else:
            waiting.append(together)
    open_now = {at: [known[name] for name in found if found[name] == (at, last)] for at, last in number.items()}
    for together in waiting:
        point = str(known[together[0]].returns_at)
        new = [known[name] for name in together]
        if point not in open_now:
            open_now[point], number[point] = new, 1
        elif _enough(job, point, [*open_now[point], *new], number[point]):
            open_now[point] = [*open_now[point], *new]
        else:
            open_now[point], number[point] = new, number[point] + 1
        found |= dict.fromkeys(together, (point, number[point]))
    return found


def _built(job: Job) -> list[tuple[str, int, set[str]]]:
    """Return the point and number of each built return that still ends at an earth point, with its loads."""
    lines = job.built.loom.fixed if job.built is not None else ()
    returns = (line for line in lines if line.kind == "return" and line.ends[-1] in job.bike.frame.earth)
    return [(line.name, line.number, {*line.loads}) for line in returns]


# --- who comes when


def _queue(job: Job, known: dict[str, Consumer]) -> list[list[str]]:
    """Return the names of what is on one pin, pin by pin in the order in which they are given a wire."""
    ranked: list[tuple[int, int, list[str]]] = []
    partner = _partners(job.bike.loads)
    placed: set[str] = set()
    for place, entry in enumerate(job.bike.loads):
        load = known.get(entry.name)
        if load is not None and entry.name not in placed and load.switched_by not in known:
            pin = [entry.name, *(one for one in partner[entry.name] if one in known)]
            pin += [one.name for one in known.values() if one.switched_by == entry.name]
            placed.update(pin)
            ranked.append((min(_rank(known[name]) for name in pin if known[name].switched_by not in pin), place, pin))
        if entry.fed == "relay" and f"{entry.name} relay" in known:
            ranked.append((2, place, [f"{entry.name} relay"]))
    return [pin for _, _, pin in sorted(ranked, key=lambda one: one[:2])]


def _rank(load: Consumer) -> int:
    if load.part in BOXES:
        return 0
    kind = LOAD_PART[load.part].kind if load.part in LOAD_PART else load.kind
    return 1 if kind in LIT else 2


def _partners(loads: tuple[Load, ...]) -> dict[str, list[str]]:
    """Return for each load the other filaments of its bulb."""
    bulbs: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    seen: dict[tuple[str, str, str], int] = defaultdict(int)
    for load in loads:
        if load.return_ != "wire":
            continue
        if load.bulb:
            bulbs[load.at, "named", load.bulb].append(load.name)
        elif load.lamp and " " in load.lamp:
            base = load.lamp.partition(" ")[0]
            turn = seen[load.at, base, load.lamp] = seen[load.at, base, load.lamp] + 1
            bulbs[load.at, base, str(turn)].append(load.name)
    return defaultdict(
        list, {name: [one for one in names if one != name] for names in bulbs.values() for name in names}
    )


# --- whether a wire is enough


def earthed_at(job: Job, point: str) -> list[str]:
    """Return the loads on the bike of which a switch at a point earths the relay's coil, by the first return there."""
    there = {load.name for load in job.loads.wired}
    entries = (one for one in job.bike.loads if one.fed == "relay" and one.own_switch == point)
    return [entry.name for entry in entries if entry.name in there]


def _enough(job: Job, point: str, loads: list[Consumer], number: int) -> bool:
    """Tell whether some reel of the usual size carries what these loads draw together at the most.

    A built return is of the size and takes the way that it has. On the first return of a point the coils of relays are
    beside them that are earthed by switches there.
    """
    lines = job.built.loom.fixed if job.built is not None else ()
    line = next((one for one in lines if one.key == ("return", point, number)), None)
    way = list(_way(job, point) if line is None else _along(job, line.legs))
    if not way:
        return True
    coil, works = job.assume["relay coil current"], set(earthed_at(job, point) if number == 1 else ())
    switched = [load for load in job.loads.wired if load.name in works]
    most = max(
        sum(load.current for load in loads if job.on(load, case))
        + coil * sum(bool(job.on(load, case)) for load in switched)
        for case in job.cases
    )
    usual = [reel for reel in job.reels if reel.size.area <= job.assume["thickest return"]]
    usual = usual if line is None else [job.catalogue[line.size]]
    return any(4 * reel.ampacity >= 5 * most and _loses_little(job, reel, way, most) for reel in usual)


def _way(job: Job, point: str) -> Iterator[tuple[int, int]]:
    """Return the length (um) and temperature (mC) of each leg on the shortest way to earth."""
    ways = (job.network.wire(point, earth) for earth in earth_points_for(job, point))
    best = min((way for way in ways if way is not None), key=lambda way: way.length)
    for number in best.legs:
        leg = job.network.legs[number]
        yield leg.length, conductor_temperature(leg.ambient)


def _along(job: Job, legs: tuple[str, ...]) -> Iterator[tuple[int, int]]:
    """Return the same of legs by their names."""
    for leg in (one for name in legs for one in job.network.legs if one.label == name):
        yield leg.length, conductor_temperature(leg.ambient)


def earth_points_for(job: Job, point: str) -> list[str]:
    """Return where a return from a point may end: not where the starter motor sits, but from there or for want."""
    points = list(job.bike.frame.earth)
    motor = job.bike.supply.starter
    if motor is None or motor.at == point or set(points) == {motor.at}:
        return points
    return [earth for earth in points if earth != motor.at]


def _loses_little(job: Job, reel: Conductor, way: list[tuple[int, int]], current: int) -> bool:
    """Tell whether a wire loses no more than a return may: metres x ohms a metre at its temperature x amperes."""
    warm = sum(length * (234_500 + temperature) for length, temperature in way)
    return warm * reel.resistance * current <= job.assume["return drop"] * 254_500 * 10**12
