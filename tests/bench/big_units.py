"""Units for large random bikes: thirteen kinds of output, six of input, as many of each as asked for."""

import random
from collections.abc import Iterator, Sequence
from typing import Any

Entry = dict[str, Any]
OUTPUTS: tuple[tuple[str, str, bool, list[str]], ...] = (
    ("15 A", "4 mm2", False, ["steady"]),
    ("13 A", "2.5 mm2", False, ["steady", "engine-run"]),
    ("10 A", "2.5 mm2", True, ["steady", "hold"]),
    ("10 A", "2.5 mm2", False, ["steady", "toggle"]),
    ("8 A", "2.5 mm2", False, ["steady", "hold", "flash"]),
    ("8 A", "2.5 mm2", True, ["steady", "toggle"]),
    ("8 A", "1.5 mm2", False, ["steady", "engine-run", "timed"]),
    ("6 A", "2.5 mm2", True, ["steady", "flash"]),
    ("6 A", "1.5 mm2", False, ["steady"]),
    ("4 A", "1.5 mm2", False, ["steady", "flash", "hold"]),
    ("4 A", "1.5 mm2", False, ["steady"]),
    ("4 A", "1 mm2", True, ["steady"]),
    ("6 A", "1.5 mm2", False, ["steady", "hold"]),
)
"""Limit, terminal, dims or not, switch modes; the last one does what the switch on in 1 says."""
FOLLOWING = len(OUTPUTS) - 1
TRIPS = {"15 A": ["5 A", "10 A", "15 A"], "13 A": ["4 A", "8 A", "13 A"], "10 A": ["3 A", "6 A", "10 A"]}
TRIPS |= {"8 A": ["2 A", "5 A", "8 A"], "6 A": ["2 A", "4 A", "6 A"], "4 A": ["1 A", "2 A", "4 A"]}
INPUTS: tuple[tuple[list[str], str], ...] = (
    (["earth"], "front"),
    (["earth"], "rear"),
    (["earth", "supply"], "front"),
    (["earth", "supply"], "rear"),
    (["earth", "pulse"], "front"),
    (["earth", "sender"], "rear"),
)


def big_unit(dice: random.Random, name: str, outputs: Sequence[int], inputs: Sequence[int]) -> Entry:
    """Return a unit as its file would say it: so many outputs and inputs of each kind, faces and banks by lot."""
    return {
        "unit": name,
        "feed": {"limit": "64 A", "wire_max": "16 mm2", "face": "rear"},
        "banks": dict.fromkeys("ABC", "64 A"),
        "outputs": list(_outputs(dice, outputs)),
        "inputs": list(_inputs(inputs)),
    }


def _outputs(dice: random.Random, counts: Sequence[int]) -> Iterator[Entry]:
    """Each kind on a face and in a bank by lot."""
    numbers = iter(range(1, sum(counts) + 1))
    for kind, (limit, terminal, dims, modes) in enumerate(OUTPUTS):
        figures: Entry = {"limit": limit, "trip": TRIPS[limit], "peak": "90 A", "peak_for": "300 ms"}
        figures["wire_max"] = terminal
        figures |= {"pwm": dims, "switch_modes": modes, "inductive": True, "face": dice.choice(("front", "rear"))}
        bank = dice.choice(("A", "B", "C", None))
        for _ in range(counts[kind]):
            more = ({"bank": bank} if bank else {}) | ({"follow": "in 1"} if kind == FOLLOWING else {})
            yield {"name": f"out {next(numbers)}", **figures, **more}


def _inputs(counts: Sequence[int]) -> Iterator[Entry]:
    numbers = iter(range(1, sum(counts) + 1))
    for (accepts, face), count in zip(INPUTS, counts, strict=True):
        for _ in range(count):
            pulse = {"pulse": {"up_to": "30 V", "rate": "1 kHz"}} if "pulse" in accepts else {}
            yield {"name": f"in {next(numbers)}", "accepts": accepts, "face": face} | pulse
