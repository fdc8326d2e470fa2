"""Random frames, loads, outputs and inputs for small bikes; invented, no real machine."""

import random
from dataclasses import dataclass
from typing import Any

import yaml

Item = dict[str, Any]
POINTS = (
    "battery",
    "seat tray",
    "headstock",
    "engine",
    "tail",
    "headlamp shell",
    "left handlebar",
    "tank",
    "swingarm",
)
FACES = ("front", "rear")
WRITER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)


@dataclass
class Draft:
    """A bike and a unit as they will be written, and the dice."""

    rng: random.Random
    bike: Item
    unit: Item

    @property
    def points(self) -> list[str]:
        """The points of the frame, the battery's first."""
        return list(dict.fromkeys(point for leg in self.bike["frame"]["legs"] for point in leg["between"]))

    def chance(self, share: float) -> bool:
        """Throw the dice."""
        return self.rng.random() < share

    def odd_mm(self, low: int, high: int) -> str:
        """Return a length in mm, now and then with a half."""
        half = ".5" if self.chance(0.2) else ""
        return f"{self.rng.randint(low, high)}{half} mm"


def tidy(amperes: float) -> str:
    """Write amperes to the mA."""
    return f"{round(amperes * 1000) / 1000:g} A"


def written(data: Item) -> str:
    """Return a bike or a unit as YAML text."""
    return str(yaml.dump(data, Dumper=WRITER, sort_keys=False, allow_unicode=True))


def draft(rng: random.Random) -> Draft:
    """Return a bike with a frame and places, but nothing on it, and an empty unit."""
    bike: Item = {"bike": "Harbour Trail trial", "supply": {"running": "14.0 V"}, "loads": [], "inputs": []}
    made = Draft(rng, bike, {"unit": "trial way", "feed": {}, "outputs": [], "inputs": []})
    bike["frame"] = _frame(made)
    bike["supply"]["battery"] = {"capacity": "10 Ah", "at": rng.choice(["battery", "seat tray"])}
    home = bike["supply"]["battery"]["at"]
    fixed = fixed_points(made, home)
    bike["frame"]["earth"] = rng.sample(fixed, min(len(fixed), rng.randint(1, 3)))
    bike["places"] = [_place(made, number) for number in range(rng.randint(1, 3))]
    return made


def _frame(made: Draft) -> Item:
    rng, points = made.rng, list(POINTS[: made.rng.randint(4, 9)])
    ties = made.chance(0.3)
    pairs = [(rng.choice(points[:number]), point) for number, point in enumerate(points) if number]
    pairs += [(one, other) for one, other in (rng.sample(points, 2) for _ in range(rng.randint(0, 4)))]
    pairs = list({frozenset(pair): pair for pair in pairs}.values())
    legs = []
    for pair in rng.sample(pairs, len(pairs)):
        length = f"{rng.choice([200, 300, 400, 500])} mm" if ties else made.odd_mm(61, 910)
        leg: Item = {"between": list(pair), "length": length}
        legs.append(leg)
    if made.chance(0.25):
        rng.choice(legs)["moves"] = True
    return {"legs": legs}


def fixed_points(made: Draft, home: str) -> list[str]:
    """Return the points that can be reached from one without a leg that moves."""
    reached, grew = [home], True
    while grew:
        grew = False
        for leg in made.bike["frame"]["legs"]:
            new = [point for point in leg["between"] if point not in reached]
            if len(new) == 1 and "moves" not in leg:
                reached.append(new[0])
                grew = True
    return sorted(reached)


def _place(made: Draft, number: int) -> Item:
    front, rear = made.rng.choice(made.points), made.rng.choice(made.points)
    place: Item = {"name": f"place {number + 1}", "front": front}
    if made.chance(0.85):
        place["rear"] = rear
    if made.chance(0.5):
        place["way_round"] = "either"
    return place
