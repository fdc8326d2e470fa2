"""What the builder has decided of ports: nothing of it contradicts itself, and every port that is named is there."""

from collections.abc import Iterator, Sequence

from portloom.base.nearest import or_list, suggest
from portloom.base.unit import Unit
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Word, entries, keyed, several, word, words

PINS = ("on", "not_on")


def decided_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell loads and switches that can be on none of the ports which they are held to."""
    for load in entries(bike, "loads"):
        yield from _without_output(load)
    dead = keyed(bike, "out_of_use")
    for things in (entries(bike, "loads", "later"), entries(bike, "inputs")):
        held: dict[str, Keyed] = {}
        for thing in things:
            yield from _nowhere(thing, tuple(dead.keys) if dead else ())
            yield from _taken(thing, held)


def _without_output(load: Keyed) -> Iterator[Flaw]:
    """A load that no output feeds, nor its relay's coil, is on none."""
    fed = word(load, "fed")
    why = "the loads that feed it decide this" if several(load, "from") else None
    if fed and fed.text == "fuse":
        why = "it is fed from the battery through a fuse of its own, and no output is for it"
    if fed and fed.text == "relay" and "own_switch" in load.values:
        why = "its own switch works its relay, whose coil needs no output"
    if why:
        yield from (
            Flaw.at(load.keys[key], f"'{key}' says nothing here: {why}", "leave it out")
            for key in PINS
            if key in load.keys
        )


def _nowhere(thing: Keyed, dead: Sequence[str]) -> Iterator[Flaw]:
    on, banned = words(thing, "on"), {said.text for said in words(thing, "not_on")}
    left = [said for said in on if said.text not in banned and said.text not in dead]
    if not on or left:
        return
    if all(said.text in banned for said in on):
        yield Flaw.at(
            on[0], f"'on' and 'not_on' both name {or_list(said.text for said in on)}", "keep it in one of them"
        )
    else:
        what = f"it must be on {or_list(said.text for said in on)}, and that is out of use"
        yield Flaw.at(on[0], what, "name a port that can be used, or take it out of 'out_of_use'")


def _taken(thing: Keyed, held: dict[str, Keyed]) -> Iterator[Flaw]:
    """Two that are held to one port alone, and can't share it, contradict each other."""
    on = words(thing, "on")
    if len(on) != 1:
        return
    first = held.setdefault(on[0].text, thing)
    if first is not thing and not _may_share(first, thing):
        other = word(first, "name")
        what = f"{on[0].text} is what {other.text if other else 'another'} is held to, and they share no group"
        yield Flaw.at(on[0], what, "name another port, or give both the same 'share'")


def _may_share(one: Keyed, other: Keyed) -> bool:
    groups = [said.text for each in (one, other) if (said := word(each, "share"))]
    return len(groups) == 2 and len(set(groups)) == 1


def unknown_ports(bike: Keyed, units: Sequence[Unit]) -> Iterator[Flaw]:
    """Tell ports that a bike's file names and none of its units has."""
    outputs = [port.name for unit in units for port in unit.outputs]
    inputs = [port.name for unit in units for port in unit.inputs]
    for things, known, what in (
        (entries(bike, "loads", "later"), outputs, "output"),
        (entries(bike, "inputs"), inputs, "input"),
    ):
        for said in (said for thing in things for said in words(thing, *PINS)):
            yield from _unknown(said, said.text, known, what, units)
    dead = keyed(bike, "out_of_use")
    for name, key in (dead.keys if dead else {}).items():
        yield from _unknown(key, name, [*outputs, *inputs], "port", units)


def _unknown(where: Word, name: str, known: Sequence[str], what: str, units: Sequence[Unit]) -> Iterator[Flaw]:
    if name not in known:
        said = or_list(f"the {unit.unit}" for unit in units)
        yield Flaw.at(where, f"{said} has no {what} '{name}'", suggest(name, known))
