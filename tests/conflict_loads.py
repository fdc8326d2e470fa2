"""What a load is where facts of it are dropped, written in its entry."""

from conflict_drafts import EASIER, HARDER, LEAST, Files, amperes, names
from conflict_facts import Tree
from conflict_figures import draw, edit_figures
from oracle.parts import ENGINE, INDICATORS, drop_class
from oracle.reading import on_unit
from oracle.things import Load

JUDGED_BY_PART = INDICATORS | ENGINE | {"brake lamp", "starter solenoid"}


def edit_loads(files: Files) -> None:
    """Leave loads out, and take figures from those that stay."""
    by_name = {load.name: load for load in files.case.bike.loads}
    _name_bulbs(files, by_name)
    _say_parts(files)
    for item in list(files.bike["loads"]):
        load = by_name[item["name"]]
        if load.feeders:
            _guest(files, item, load)
        elif f"{load.name} relay" in by_name:
            _by_relay(files, item, load, by_name[f"{load.name} relay"])
        elif files.dropped("load", load.name):
            _leave_out(files, load.name)
        else:
            edit_figures(files, item, load)
    if not files.bike["loads"]:
        files.bike["loads"].append(_anything(files))
    gone = {load["name"] for load in files.case.tree["loads"]} - {load["name"] for load in files.bike["loads"]}
    _forget(files, gone)


def _name_bulbs(files: Files, by_name: dict[str, Load]) -> None:
    """Name bulbs of two filaments, which may lose their lamp words."""
    pins = [by_name[item["name"]].pin for item in files.bike["loads"]]
    for item in files.bike["loads"]:
        pin = by_name[item["name"]].pin
        if pins.count(pin) > 1 and "bulb" not in item and "lamp" in item:
            item["bulb"] = f"bulb of {pin}"


def _say_parts(files: Files) -> None:
    """Write what its part brings for a load only where the reader takes it."""
    for item in files.bike["loads"]:
        if not item["part"]:
            item.pop("part")
        if item.get("from") or item.get("fed") == "fuse":
            for key in ("mode", "share"):
                item.pop(key, None)
        if item.get("from"):
            item.pop("when", None)
        if item.get("fed") == "relay":
            item.pop("share", None)
        if item.get("share") == "":
            item["share"] = "none"


def _guest(files: Files, item: Tree, load: Load) -> None:
    left = [name for name in names(item, "from") if not files.dropped("load", name)]
    if files.dropped("load", load.name) or not left:
        files.bike["loads"].remove(item)
        return
    item["from"] = left
    edit_figures(files, item, load)


def _by_relay(files: Files, item: Tree, load: Load, coil: Load) -> None:
    """A relay's coil is a load of its own: either may be left out alone."""
    without_load, without_coil = files.dropped("load", load.name), files.dropped("load", coil.name)
    if without_load and without_coil:
        _leave_out(files, load.name)
    elif without_load:
        _coil_alone(files, item, coil)
    else:
        if without_coil:
            item["own_switch"] = files.case.bike.battery
            item.pop("mode", None)
            if files.case.bike.battery not in files.case.bike.earth:
                files.doubt("a relay without its coil", HARDER)
        elif files.dropped("current", coil.name) or files.dropped("inrush", coil.name):
            files.doubt("a coil that draws nothing beside its load", HARDER)
        draw(files, item, load)


def _coil_alone(files: Files, item: Tree, coil: Load) -> None:
    kept: Tree = {key: item[key] for key in ("when", "except") if key in item}
    at: Tree = {
        "name": coil.name,
        "at": files.case.bike.battery,
        "kind": "relay coil",
        "current": amperes(coil.current_ma),
    }
    made: Tree = {**at, **kept, "mode": sorted(coil.modes), "share": "none", "inrush": amperes(coil.inrush_ma)}
    if coil.counts_as in JUDGED_BY_PART:
        files.doubt("a coil that counts as its load")
    files.bike["loads"][files.bike["loads"].index(item)] = made
    for switch in files.bike["inputs"]:
        switch["operates"] = [coil.name if name == item["name"] else name for name in names(switch, "operates")]
    edit_figures(files, made, coil)


def _leave_out(files: Files, name: str) -> None:
    files.bike["loads"] = [item for item in files.bike["loads"] if item["name"] != name]


def _forget(files: Files, gone: set[str]) -> None:
    """Take names of loads that are gone from switches; where one then does nothing, a load that stands for them."""
    for switch in files.bike["inputs"]:
        if files.dropped("switch", switch["name"]):
            continue
        before = names(switch, "operates")
        left = [name for name in before if name not in gone]
        if before and not left and not names(switch, "tells"):
            left = _other_job(files, switch, before[0])
        _mind_straight(files, switch["name"], left)
        if before:
            switch["operates"] = left
    sides = {load.part for load in files.loads_kept} & INDICATORS
    for load in on_unit(files.case.bike):
        if load.part in sides and files.dropped("load", load.name):
            _other_half(files, load)


def _mind_straight(files: Files, name: str, left: list[str]) -> None:
    switch = next((one for one in files.case.bike.switches if one.name == name), None)
    starters = {load.name for load in files.case.bike.loads if load.part == "starter solenoid"}
    if switch and files.case.bike.multiplexers and switch.operates & starters and not starters & set(left):
        files.doubt("a button whose starter is gone", EASIER)


# --- what stands in for a load that is gone: at the unit's face, on an output of its own


def _other_job(files: Files, switch: Tree, name: str) -> list[str]:
    """Give a switch another job; what tells the key is on no multiplexer, so where there is one, it gets a load."""
    if not files.case.bike.multiplexers:
        switch["tells"] = ["key"]
        return []
    made = f"instead of {name}"
    if all(item["name"] != made for item in files.bike["loads"]):
        files.bike["loads"].append(_at_the_face(files, made, "steady", ["day"]))
    return [made]


def _anything(files: Files) -> Tree:
    """Return what a bike has that has nothing else: a load at the battery, with no wire of any length."""
    battery = files.case.bike.battery
    fed = {"fed": "fuse", "own_switch": battery, "return": "frame"}
    return {"name": "anything", "at": battery, "kind": "electronics", "current": LEAST, **fed}


def _at_the_face(files: Files, name: str, mode: str, when: list[str]) -> Tree:
    spare = f"spare-{len(files.spare_outputs) + 1}"
    files.spare_outputs.append(spare)
    drawing = {"current": LEAST, "inrush": LEAST, "inrush_for": "1 ms", "kind": "electronics"}
    part = next((part for part in ("", "tail lamp") if not _drop_kept(files, part)), None)
    if part is None:
        files.doubt("a load that stands for another has a drop limit", HARDER)
    named = {"name": name, "at": "the face", **({"part": part} if part else {}), "return": "frame", "share": "none"}
    return {**named, **drawing, "mode": [spare, mode] if mode == "flash" else spare, "when": when}


def _drop_kept(files: Files, part: str) -> bool:
    return ("drop", drop_class(part)) in files.kept


def _other_half(files: Files, load: Load) -> None:
    """An indicator's partner that is left out still makes the pair: it flashes, worked as those that are kept."""
    made = _at_the_face(files, load.name, "flash", sorted(load.when))
    files.bike["loads"].append({**made, "part": load.part, "kind": "led"})
    files.bike["loads"][-1].pop("dims", None)
    kept = next(one for one in files.loads_kept if one.part == load.part)
    for switch in files.bike["inputs"]:
        worked = [name for name in names(switch, "operates") if name != load.name]
        if "operates" in switch:
            switch["operates"] = [*worked, load.name] if kept.name in worked else worked
