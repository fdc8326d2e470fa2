"""Random bikes in which ports, banks, openings, cases or followed inputs are scarce."""

from .drafts import FACES, Draft, Item, tidy
from .fittings import worst_case_a
from .tightening import tighten
from .usual import spoil, total_a, usual


def plain(made: Draft) -> None:
    """Add trip curves, drop lists of trips, take something away."""
    usual(made, loads=(3, 7), inputs=(2, 5))
    for output in made.unit["outputs"]:
        if made.chance(0.3):
            output["trip_curve"] = [["1.5 x", "20 s"], ["4 x", "400 ms"], ["9 x", "60 ms"], ["14 x", "0.5 ms"]]
            output["peak_for"] = "0.5 ms"
        elif made.chance(0.2):
            del output["trip"]
    if made.chance(0.35):
        spoil(made)


def banks(made: Draft) -> None:
    """Make outputs share limits."""
    usual(made, spare=2)
    share = made.rng.uniform(0.6, 1.05)
    made.unit["banks"] = {bank: tidy(max(1.0, total_a(made) * share)) for bank in ("A", "B")}
    for output in made.unit["outputs"]:
        output["bank"] = made.rng.choice(["A", "A", "B"])


def openings(made: Draft) -> None:
    """Add pipes alongside, legs to avoid, and openings that the cheapest plan just fills."""
    usual(made, loads=(3, 4), spare=2)
    twins = [{**output, "face": _other(output["face"])} for output in made.unit["outputs"]]
    for number, output in enumerate(twins[: 8 - len(made.unit["outputs"])]):
        made.unit["outputs"].append({**output, "name": f"twin {number + 1}"})
    start, end = made.rng.sample(made.points, 2)
    thing: Item = {"diameter": "4.5 mm"} if made.chance(0.5) else {"size": "1.5 mm2", "count": 2}
    made.bike["alongside"] = [{"name": "other loom", "from": start, "to": end, **thing}]
    for item in made.bike["loads"]:
        if made.chance(0.2):
            one, other = made.rng.choice(made.bike["frame"]["legs"])["between"]
            item["avoid"] = [f"{one} - {other}"]
    tighten(made)


def _other(face: str) -> str:
    return next(other for other in FACES if other != face)


def cases(made: Draft) -> None:
    """Use states and events that cannot come together, and totals that only just hold the worst case."""
    made.bike["events"] = {
        "fording": {"in": ["day", "night"], "excludes": ["horn"]},
        "hazard": {"in": ["key on", "day", "night", "parked"]},
    }
    usual(made, spare=2)
    for item in made.bike["loads"]:
        if made.chance(0.5):
            item["when"] = made.rng.choice(
                [["fording"], ["horn"], ["hazard"], ["indicating left"], ["night"], ["key on"], ["fording", "night"]]
            )
        if made.chance(0.25):
            item["except"] = made.rng.choice([["main beam"], ["fording"], ["night"]])
    worst = worst_case_a(made)
    made.unit["feed"]["limit"] = tidy(worst * made.rng.choice([0.97, *[1, 1.04, 1.1] * 3]))
    made.unit["banks"] = {"A": tidy(worst * made.rng.uniform(0.5, 0.95))}
    for output in made.unit["outputs"]:
        if made.chance(0.6):
            output["bank"] = "A"


def follow(made: Draft) -> None:
    """Make outputs do what the switch on an input says."""
    usual(made, inputs=(3, 5), spare=2)
    ports = [port["name"] for port in made.unit["inputs"]]
    operated = {name for item in made.bike["inputs"] for name in item.get("operates", [])}
    for item in made.bike["loads"]:
        if item["name"] not in operated and made.chance(0.8):
            switches = [switch for switch in made.bike["inputs"] if "operates" in switch]
            if switches:
                made.rng.choice(switches)["operates"].append(item["name"])
    for output in made.unit["outputs"]:
        if made.chance(0.28):
            output["follow"] = made.rng.choice(ports)
