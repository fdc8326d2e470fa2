"""Changes made on the tree of a bike's file, all of a set together."""

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from functools import partial
from itertools import combinations

from file_edits import EFFORT, Edit, Edits, Tree, led_watts, leg_name, loads_of, may_meet, name_of, on_output, points_of
from oracle.filling import words_of


def made(bike: Tree, edits: Edits) -> Tree | None:
    """Return the tree of a bike with some changes; None where one has nothing to act on, or two exclude each other.

    The order of the changes does not matter. A bigger unit changes nothing in it.
    """
    off = {edit.things[0] for edit in edits if edit.kind == "left off"}
    numbers = {edit.things[0] for edit in edits if edit.kind == "multiplexer"}
    if numbers and "1" not in numbers:
        return None
    new = _left_off(deepcopy(bike), off)
    for edit in sorted(edits - {edit for edit in edits if edit.kind in ("sharing", "left off")}):
        if edit.kind in DECIDED and not DECIDED[edit.kind](new, edit.things):
            return None
        if edit.kind in BY_LOAD and not _changes_load(bike, new, edit):
            return None
        if edit.kind in BY_BIKE:
            BY_BIKE[edit.kind](new, edit.things[0])
    pairs = [edit.things for edit in edits if edit.kind == "sharing"]
    return new if _shared(bike, new, pairs) and _go_together(edits) else None


def _go_together(edits: Edits) -> bool:
    """Tell whether no load that is left off is changed besides, none is fed in two ways, and there is one new place.

    With two new places there is a plan only if there is one with one of them.
    """
    things: dict[str, list[str]] = {kind: [] for kind in EFFORT}
    for edit in edits:
        things[edit.kind] += edit.things if edit.kind == "sharing" else edit.things[:1]
    changed = {name for kind in (*BY_LOAD, "pin lifted", "sharing") for name in things[kind]}
    fed = things["relay"] + things["fused feed"]
    single = all(len(things[kind]) <= 1 for kind in ("place", "bigger unit"))
    return not changed & set(things["left off"]) and len(fed) == len(set(fed)) and single


def _left_off(new: Tree, off: set[str]) -> Tree:
    """Take loads off, what only they feed, and the switches that have nothing left to do."""
    if not off:
        return new
    whole = loads_of(new)
    gone = off | {name for name, load in whole.items() if load.get("from") and set(load["from"]) <= off}
    _forget_loads(new, gone)
    _forget_switches(new, gone, shown=_shown(new))
    return new


def _forget_loads(new: Tree, gone: set[str]) -> None:
    new["loads"] = [load for load in new["loads"] if name_of(load) not in gone]
    for load in new["loads"]:
        if "from" in load:
            load["from"] = [name for name in words_of(load, "from") if name not in gone]
        if "shows" in load:
            load["shows"] = [said for said in load["shows"] if said not in gone]
    if "alike" in new:  # a set of one says nothing
        left = ([name for name in names if name not in gone] for names in new["alike"])
        new["alike"] = [names for names in left if len(names) > 1]


def _shown(new: Tree) -> set[str]:
    return {said for load in new["loads"] for said in load.get("shows", [])}


def _forget_switches(new: Tree, gone: set[str], shown: set[str]) -> None:
    before = new.get("inputs", [])
    after = [_without(switch, gone) for switch in before]
    idle = [
        "operates" in was and not {"operates", "tells"} & set(now) and name_of(was) not in shown
        for was, now in zip(before, after, strict=True)
    ]
    new["inputs"] = [switch for switch, does_none in zip(after, idle, strict=True) if not does_none]


def _without(switch: Tree, gone: set[str]) -> Tree:
    """Return a switch that does not work some loads."""
    left = [name for name in words_of(switch, "operates") if name not in gone]
    rest = {key: value for key, value in switch.items() if key != "operates"}
    return {**rest, "operates": left} if left else rest


def _changes_load(bike: Tree, new: Tree, edit: Edit) -> bool:
    """Change one load; tell whether it is still there."""
    load = next((load for load in new["loads"] if name_of(load) == edit.things[0]), None)
    if load is None:
        return False
    BY_LOAD[edit.kind](bike, load, edit)
    return True


def _led(bike: Tree, load: Tree, edit: Edit) -> None:
    was = loads_of(bike)[edit.things[0]]
    for key in ("lamp", "current", "inrush", "inrush_for", "power"):
        load.pop(key, None)
    load |= {"kind": "led", "power": edit.things[1] if edit.things[1:] else led_watts(bike, was)}
    if "dim" in words_of(was, "mode"):
        load["dims"] = "true"
    if was.get("except") and "except" not in load:
        load["except"] = was["except"]  # another filament of the same bulb was lit then


def _avoid(_: Tree, load: Tree, edit: Edit) -> None:
    load["avoid"] = sorted([*words_of(load, "avoid"), edit.things[1]])


def _fed(how: str, _: Tree, load: Tree, __: Edit) -> None:
    """Feed a load past the unit; what holds it to an output goes where nothing of it, no coil either, needs one."""
    load["fed"] = how
    if how == "fuse" or "own_switch" in load:
        for key in ("on", "not_on"):
            load.pop(key, None)


def _freed(new: Tree, things: Sequence[str]) -> bool:
    """Free a load or a switch from its ports; tell whether it is still there, and was held."""
    found: Tree = next(
        (one for key in ("loads", "inputs") for one in new.get(key, []) if name_of(one) == things[0]), {}
    )
    held = [found.pop(key) for key in ("on", "not_on") if key in found]
    return bool(held)


def _unlike(new: Tree, things: Sequence[str]) -> bool:
    """Let a set of loads be on outputs that are not alike; tell whether two of them are still there."""
    there = {name_of(load) for load in new["loads"]}
    names = [name for name in things if name in there]
    if names not in new["alike"]:
        return False
    new["alike"].remove(names)
    return True


DECIDED: Mapping[str, Callable[[Tree, Sequence[str]], bool]] = {"pin lifted": _freed, "alike lifted": _unlike}
BY_LOAD: Mapping[str, Callable[[Tree, Tree, Edit], None]] = {
    "another way round": _avoid,
    "LED lamp": _led,
    "suppressor": lambda _, load, __: load.update(suppressed="true"),
    "fused feed": partial(_fed, "fuse"),
    "relay": partial(_fed, "relay"),
}


def _opened(new: Tree, name: str) -> None:
    leg = next(leg for leg in new["frame"]["legs"] if leg_name(leg) == name)
    leg["opening"] = leg.pop("opens_to")
    leg.pop("opens", None)


def _placed(new: Tree, point: str) -> None:
    new["places"] = [*new["places"], {"name": f"new at {point}", "front": point, "rear": point}]


def _gathered(new: Tree, number: str) -> None:
    box = {"name": f"new gatherer {number}", "at": points_of(new), "ways": "5", "takes": ["earth"]}
    new["multiplexers"] = [*new.get("multiplexers", []), box]


BY_BIKE: Mapping[str, Callable[[Tree, str], None]] = {
    "opened up": _opened,
    "place": _placed,
    "multiplexer": _gathered,
}


def _shared(bike: Tree, new: Tree, pairs: Sequence[tuple[str, ...]]) -> bool:
    """Bring loads into one group, with all of either's; tell whether they may be, and each is on an output."""
    if not pairs:
        return True
    loads = {name: load for name, load in loads_of(new).items() if on_output(load)}
    if not {name for pair in pairs for name in pair} <= set(loads):
        return False
    before = _groups(loads)
    after = [*before]
    for one, other in pairs:
        met = [group for group in after if one in group or other in group]
        if len(met) < 2:
            return False
        after = [group for group in after if group not in met] + [met[0] | met[1]]
    if not all(_all_may_meet(loads, before, group) for group in after):
        return False
    for group in after:
        if group not in before:
            _write_group(new, bike, loads, group)
    return True


def _groups(loads: Mapping[str, Tree]) -> list[frozenset[str]]:
    groups: dict[str, set[str]] = {}
    for name, load in loads.items():
        groups.setdefault(load["share"] or f"alone: {name}", set()).add(name)
    return [frozenset(group) for group in groups.values()]


def _all_may_meet(loads: Mapping[str, Tree], before: Sequence[frozenset[str]], group: frozenset[str]) -> bool:
    new_pairs = (pair for pair in combinations(sorted(group), 2) if not any(set(pair) <= old for old in before))
    return all(may_meet(loads[one], loads[other]) for one, other in new_pairs)


def _write_group(new: Tree, bike: Tree, loads: Mapping[str, Tree], group: frozenset[str]) -> None:
    """Write one group's name at each of its loads: one that is there already, or that of its first load.

    What must be on outputs alike is named by its loads here: no group is called like one.
    """
    there = [load["share"] for name, load in loads.items() if name in group and load["share"]]
    first = next(name_of(load) for load in bike["loads"] if name_of(load) in group)
    named = {name for names in new.get("alike", []) for name in names}
    for load in new["loads"]:
        if name_of(load) in group:
            load["share"] = there[0] if there else f"{first} and others" if first in named else first
