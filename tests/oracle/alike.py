"""Bikes of which some loads must be on outputs alike, and units with several outputs of a sort."""

from . import crowded, particular
from .drafts import Draft
from .filling import sets_alike
from .multiplexed import multiplexed


def alike(made: Draft) -> None:
    """Ask for one set, or two, of loads on outputs alike, some of them by their groups; some loads have a twin."""
    made.rng.choice([crowded.plain, crowded.banks, particular.sharing, particular.fed, multiplexed])(made)
    _twins(made)
    _sorts(made)
    sets = [names for _ in range(made.rng.choice([1, 1, 2])) if (names := _set(made))]
    read = sets_alike(sets, made.bike["loads"])
    if len(sets) > 1 and set(read[0]) == set(read[1]):
        sets = sets[:1]
    if sets:
        made.bike["alike"] = sets


def _twins(made: Draft) -> None:
    """Put beside some loads others that nothing but their names tells from them."""
    for item in list(made.bike["loads"]):
        if not item.get("from") and made.chance(0.15) and len(made.bike["loads"]) < 7:
            made.bike["loads"].append({**item, "name": f"{item['name']} twin"})


def _sorts(made: Draft) -> None:
    """Outputs get the limit, peak and trips of the largest, some with one trip less."""
    outputs = made.unit["outputs"]
    if made.chance(0.6) and len(outputs) < 8:
        outputs.append({**made.rng.choice(outputs), "name": "one more"})
    largest = max(outputs, key=lambda port: float(port["limit"].removesuffix("A")))
    for port in outputs:
        if made.chance(0.65):
            port |= {word: largest[word] for word in ("limit", "peak", "peak_for", "trip") if word in largest}
            trips = port.get("trip")
            if isinstance(trips, list) and made.chance(0.25):
                port["trip"] = trips[1:] or trips


def _set(made: Draft) -> list[str] | None:
    """Return a few names of loads or of their groups, two at least; None where no output feeds any."""
    groups = sorted({item["share"] for item in made.bike["loads"] if item.get("share")})
    names = [item["name"] for item in made.bike["loads"]]
    some = made.rng.sample(names, min(len(names), made.rng.choice([2, 2, 3, 4])))
    if groups and made.chance(0.4):
        some[0] = made.rng.choice(groups)
    shared = [item for item in made.bike["loads"] if item["name"] in some or item.get("share") in some]
    fed = [item for item in shared if not item.get("from") and item.get("fed", "unit") == "unit"]
    return some if len(some) > 1 and fed else None
