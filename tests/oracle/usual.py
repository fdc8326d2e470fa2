"""What the random bikes of most families have in common."""

from . import fittings
from .drafts import Draft, tidy
from .fittings import draw_a


def usual(made: Draft, loads: tuple[int, int] = (3, 6), inputs: tuple[int, int] = (2, 4), spare: int = 1) -> None:
    """Put loads, outputs and inputs on, from so few to so many; weights now and then."""
    fittings.add_loads(made, made.rng.randint(*loads))
    fittings.add_outputs(made, made.rng.randint(0, spare) + (spare > 1))
    fittings.add_inputs(made, made.rng.randint(*inputs), made.rng.randint(0, 1))
    if not made.chance(0.2):
        made.bike["later"] = []
    if made.chance(0.5):
        made.bike["weights"] = {
            "ampere": f"{made.rng.randint(0, 90)} mm",
            "ability": f"{made.rng.randint(0, 190)} mm",
            "later": f"{made.rng.randint(200, 2900)} mm",
        }


def spoil(made: Draft) -> None:
    """Take away something that is perhaps needed."""
    outputs, inputs = made.unit["outputs"], made.unit["inputs"]
    victim = made.rng.choice(outputs)
    match made.rng.randint(0, 5):
        case 0 if outputs[2:]:
            outputs.remove(victim)
        case 1:
            victim["switch_modes"] = ["timed"]
        case 2:
            del victim["peak"]
        case 3:
            made.rng.choice(inputs)["accepts"] = ["coded"]
        case 4:
            made.unit["feed"]["wire_max"] = "0.75 mm2"
        case _:
            made.unit["feed"]["limit"] = tidy(total_a(made) * 0.6)


def total_a(made: Draft) -> float:
    """Return the sum (A) of all loads as written, on together or not."""
    return sum(draw_a(item)[0] for item in made.bike["loads"] if "from" not in item)
