"""What a unit is where facts of it are dropped: limits, terminals, how many ports there are, what they can do."""

from conflict_drafts import LEAST_MA, Files, amperes, names
from conflict_facts import Tree
from conflict_switches import FAINT
from oracle.things import Load, Output

NO_LIMIT = "100000 A"
LARGEST_FUSE = "80 A"
BARE = frozenset({"motor", "horn", "ignition coil", "relay coil"})
EVERY_MODE = ("steady", "hold", "toggle", "flash", "engine-run", "start", "timed")


def edit_unit(files: Files) -> None:
    """Lift limits, add ports, let outputs do what nobody asks of them any more; then the ports of stand-ins."""
    _limits(files)
    _feed(files)
    _of_kinds(files)
    _abilities(files)
    _spare(files)


def _limits(files: Files) -> None:
    for leg in files.bike["frame"]["legs"]:
        if files.dropped("opening", leg.get("name", " - ".join(leg["between"]))):
            for key in ("opening", "opens_to", "opens"):
                leg.pop(key, None)
    free = sorted(key[1] for key in files.case.facts if key[0] == "drop" and files.dropped(*key))
    drops = {**files.bike.get("limits", {}).get("drop", {}), **dict.fromkeys(free, "14 V")}
    if drops:
        files.bike["limits"] = {"drop": drops}
    for box in files.bike.get("multiplexers", []):
        if files.dropped("ways", box["name"]):
            box["ways"] = str(len(files.case.bike.switches) + 1)


def _feed(files: Files) -> None:
    """Lift the limits of the unit; those that are kept bear the least that a current can be written as.

    That much each load draws whose current is dropped, once for each that feeds it; one that is left out draws nothing.
    """
    unit, feed = files.case.kinds.unit, files.unit["feed"]
    there = [load for load in files.case.bike.loads if not files.dropped("load", load.name)]
    lightened = (max(1, len(load.feeders)) for load in there if files.dropped("current", load.name))
    least = LEAST_MA * (sum(lightened) + len(files.spare_outputs))
    total, fuse = files.dropped("total", "unit"), files.dropped("fuse", "unit")
    feed["fuse_max"] = LARGEST_FUSE if fuse else amperes(unit.fuse_max_ma)
    feed["limit"] = NO_LIMIT if total else amperes(unit.limit_ma + least)
    if files.dropped("terminal", "feed"):
        feed.pop("wire_max", None)
    if files.dropped("unit lowest", "unit"):
        feed.pop("lowest", None)
    free = {name for name in unit.banks if files.dropped("bank", name)}
    files.unit["banks"] = {name: amperes(ma + least) for name, ma in unit.banks.items() if name not in free}
    for output in files.unit["outputs"]:
        if output.get("bank") in free:
            output.pop("bank")


def _of_kinds(files: Files) -> None:
    """Take terminals from the outputs of a kind, and add ports like them."""
    loads, switches = len(files.case.bike.loads), len(files.case.bike.switches) + len(files.case.bike.multiplexers)
    for kind in files.case.kinds.outputs:
        for port in kind:
            if files.dropped("terminal", kind[0].name):
                _port(files, "outputs", port.name).pop("wire_max", None)
        if files.dropped("outputs", kind[0].name):
            _more(files, "outputs", kind[0].name, loads)
    for inputs in files.case.kinds.inputs:
        if files.dropped("inputs", inputs[0].name):
            _more(files, "inputs", inputs[0].name, switches)


def _port(files: Files, which: str, name: str) -> Tree:
    return next(port for port in files.unit[which] if port["name"] == name)


def _more(files: Files, which: str, name: str, count: int) -> None:
    like = _port(files, which, name)
    new = [{**like, "name": f"{name} more {number}"} for number in range(1, count + 1)]
    files.unit[which] += new


def like_of(name: str) -> str:
    """Return the name of the port that an added one is like; that of any other port."""
    like, added, _ = name.rpartition(" more ")
    return like if added else name


# --- what an output can do


def _outputs(files: Files) -> list[tuple[Tree, Output]]:
    """Return each output that there is now, with what it was, or is like."""
    was = {port.name: port for kind in files.case.kinds.outputs for port in kind}
    return [(port, was[like_of(port["name"])]) for port in files.unit["outputs"]]


def _entry(files: Files, load: Load) -> Tree:
    """Return a load's entry; of a relay's coil that of its load, if it is there."""
    there = {item["name"] for item in files.bike["loads"]}
    return files.item("loads", load.name if load.name in there else load.name.removesuffix(" relay"))


def _abilities(files: Files) -> None:
    """Let every output do all, and tell who may be where by words of their own: a word for each set of outputs.

    Loads that may share are asked for the same words, so that they still may.
    """
    free = [key for key in files.case.facts if key[0] in ("mode", "kind") and files.dropped(*key)]
    if not (files.spare_outputs or files.not_on or any(("load", key[1]) in files.kept for key in free)):
        return
    before = {load.name: _where(files, load) for load in files.loads_kept}
    words: dict[frozenset[str], str] = {}
    for load in files.loads_kept:
        word = words.setdefault(before[load.name], f"place-{len(words) + 1}")
        entry = _entry(files, load)
        entry["mode"] = [*names(entry, "mode"), word]
    for output, was in _outputs(files):
        able = [word for where, word in words.items() if was.name in where]
        output["switch_modes"] = sorted({*EVERY_MODE, *files.unit.get("own_modes", ()), *able})
        output |= {"pwm": "true", "inductive": "true"}
    files.unit["own_modes"] = [*files.unit.get("own_modes", ()), *words.values(), *files.spare_outputs]


def _where(files: Files, load: Load) -> frozenset[str]:
    """Return the outputs that a load may be on: by its mode, its kind and that of its guests, and whom it follows."""
    held = [load, *(guest for guest in files.case.bike.loads if load.name in guest.feeders)]
    coils = any(
        one.kind in BARE
        and not one.suppressed
        and not files.dropped("kind", one.name)
        and not files.dropped("load", one.name)
        for one in held
    )
    asked = frozenset() if files.dropped("mode", load.name) else load.modes
    if "inductive" in files.case.bike.set_aside:
        coils = False
    return frozenset(
        port.name
        for kind in files.case.kinds.outputs
        for port in kind
        if asked <= port.abilities
        and not (coils and port.refuses_coils)
        and port.name not in files.not_on.get(load.name, ())
    )


# --- ports of what stands in


def _spare(files: Files) -> None:
    """Add the outputs and inputs of what stands in, on which nothing else may be."""
    for name in files.spare_outputs:
        words = {"switch_modes": [name, "flash"], "key_off": "always", "inductive": "true", "face": "the face"}
        files.unit["outputs"].append({"name": name, "limit": "1 A", "peak": "5 A", "trip": ["10 mA"], **words})
    for name in files.spare_inputs:
        faint = {"accepts": ["pulse"], "pulse": {"up_to": FAINT, "rate": "1 Hz"}}
        files.unit["inputs"].append({"name": name, "face": "the face", **faint})
