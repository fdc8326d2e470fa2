"""What a bike's file decides of ports: who is held to some, kept off some, and which are dead."""

from collections.abc import Sequence

from . import crowded, particular
from .drafts import Draft, Item
from .multiplexed import multiplexed


def held(made: Draft) -> None:
    """Hold some loads and switches to ports, keep some off others, and let now and then one be dead."""
    made.rng.choice([crowded.plain, crowded.banks, particular.sharing, particular.later, multiplexed])(made)
    _spare(made)
    ports = {side: [port["name"] for port in made.unit[side]] for side in ("outputs", "inputs")}
    dead = [name for side in ports.values() for name in side if made.chance(0.1)]
    for side, things in (("outputs", made.bike["loads"]), ("inputs", made.bike["inputs"])):
        left = [name for name in ports[side] if name not in dead]
        alone: list[str] = []
        for thing in things:
            if left:
                _hold(made, thing, left, alone)
    if dead:
        made.bike["out_of_use"] = dict.fromkeys(dead, "burnt")


def _spare(made: Draft) -> None:
    """Put ports on the unit that are like others, which nothing but what is decided tells apart."""
    for side in ("outputs", "inputs"):
        for port in list(made.unit[side]):
            if made.chance(0.35) and "follow" not in port:
                made.unit[side].append({**port, "name": f"{side} spare {len(made.unit[side])}"})


def _hold(made: Draft, thing: Item, names: Sequence[str], alone: list[str]) -> None:
    """Hold a thing to some ports, or keep it off one; no port is the only one of two things."""
    if thing.get("from") or thing.get("fed", "unit") != "unit":
        return
    if made.chance(0.3):
        on = made.rng.sample(list(names), min(len(names), made.rng.choice([1, 2, 2, 3])))
        if len(on) > 1 or on[0] not in alone:
            alone += on[:1] if len(on) == 1 else []
            thing["on"] = sorted(on)
    elif made.chance(0.3):
        thing["not_on"] = made.rng.choice(list(names))
