"""Bikes of a few lines for tests of single parts: a frame with every usual point, and what a test puts on."""

from collections.abc import Iterable

POINTS = (
    "seat tray", "headstock", "headlamp shell", "left handlebar", "right handlebar", "tank", "engine", "radiator",
    "pedal", "side stand", "tail",
)  # fmt: skip
OWN_SPARK = "ignition: own"
"""The engine sparks without the unit, so nothing is asked of how it stops."""


def small_bike(loads: Iterable[str], inputs: Iterable[str] = (), *keys: str, later: Iterable[str] = ()) -> str:
    """Return the text of a bike with these entries, each a flow mapping, and these keys of the whole bike."""
    legs = [f"    - {{between: [seat tray, {point}], length: 500 mm}}" for point in POINTS[1:]]
    lists = {"loads": tuple(loads), "inputs": tuple(inputs), "later": tuple(later)}
    return "\n".join([
        "bike: Small",
        "supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: seat tray}}",
        "frame:", "  legs:", *legs, "  earth: [seat tray, engine]",
        "places: [{name: under seat, front: seat tray}]",
        *keys,
        *(line for key, found in lists.items() if found for line in (f"{key}:", *(f"  - {entry}" for entry in found))),
        "",
    ])  # fmt: skip
