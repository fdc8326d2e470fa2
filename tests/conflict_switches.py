"""What a switch is where facts of it are dropped; and what the unit is told where it is taken as told."""

from conflict_drafts import EASIER, HARDER, Files, names
from conflict_facts import Tree
from oracle.circuits import operators
from oracle.guards import needs
from oracle.things import InPort, Switch

FAINT = "0.1 V"
MAY_BE_SET_ASIDE = frozenset({"start", "run"})


def edit_switches(files: Files) -> None:
    """Leave switches out but for what they tell and operate; tell what is taken as told."""
    there = {load["name"] for load in files.bike["loads"]}
    for item in list(files.bike["inputs"]):
        if not item["part"]:
            item.pop("part")
        if not item.get("action"):
            item.pop("action", None)
        if files.dropped("switch", item["name"]):
            _at_the_face(files, item, there)
    for _, rule, what in sorted(key for key in files.case.facts if key[0] == "told" and files.dropped(*key)):
        if any((rule, what) in needs(files.case.bike, load) for load in files.loads_kept):
            _as_told(files, rule, what)
    for item in files.bike["inputs"]:
        for key in ("operates", "tells"):
            if not item.get(key):
                item.pop(key, None)
    _any_signal(files)
    _followed(files)


def _at_the_face(files: Files, item: Tree, there: set[str]) -> None:
    """Put a switch that is left out where it needs no wire, on a port of its own; without a job it goes."""
    files.bike["inputs"].remove(item)
    tells, operates = names(item, "tells"), [name for name in names(item, "operates") if name in there]
    if tells or operates:
        job = {"tells": tells, "operates": operates, "normally": item.get("normally", "open")}
        files.bike["inputs"].append(_spare(files, item["name"], job))


def _spare(files: Files, name: str, job: Tree) -> Tree:
    """Return a switch with a signal so faint that an input made for it takes no other."""
    files.spare_inputs.append(f"spare input {len(files.spare_inputs) + 1}")
    return {"name": name, "at": "the face", "signal": "pulse", "level": FAINT, "rate": "1 Hz", **job}


# --- what is taken as told


def _as_told(files: Files, rule: str, what: str) -> None:
    """One more switch tells it, unless another rule asks for the same and is kept: then the rule is set aside."""
    words = what.split(" or ")
    gone = {word for switch in files.switches_gone for word in switch.tells}
    others = [key for key in files.kept if key[0] == "told" and set(key[2].split(" or ")) & set(words)]
    if not set(words) & gone and not others:
        told = {item["name"] for item in files.bike["inputs"]}
        if f"tells {words[0]}" not in told:
            files.bike["inputs"].append(_spare(files, f"tells {words[0]}", {"tells": words[:1], "operates": []}))
    elif others and rule in MAY_BE_SET_ASIDE and not any(key[1] == rule for key in files.kept if key[0] == "told"):
        files.bike["set_aside"] = {**files.bike.get("set_aside", {}), rule: "taken as told"}
    elif others and not set(words) & gone:
        files.doubt("one rule is told and another is not", HARDER)


def _followed(files: Files) -> None:
    """An output that follows an input is free for what a switch that is left out operates."""
    gone = {switch.name for switch in files.switches_gone}
    for port in dict.fromkeys(output.follow for output in files.case.kinds.unit.outputs if output.follow):
        following = [output for output in files.unit["outputs"] if output.get("follow") == port]
        free = {load.name for load in files.loads_kept if operators(files.case.bike, load) & gone}
        bound = [load for load in files.loads_kept if load.name not in free]
        if files.dropped("told", "follow", port):
            bound = []
        elif not free:
            continue
        elif any(operators(files.case.bike, load) for load in bound):
            files.doubt("some of the loads may follow an input", HARDER)
            continue
        for output in following:
            output.pop("follow")
        for load in bound:
            files.keep_off(load.name, [output["name"] for output in following])


# --- any signal


def _any_signal(files: Files) -> None:
    """Let every input read a signal that is dropped, and keep those off it that keep theirs."""
    free = [switch for switch in files.switches_kept if files.dropped("signal", switch.name)]
    if not free:
        return
    ports = {port.name: port for kind in files.case.kinds.inputs for port in kind}
    bound = [switch for switch in files.switches_kept if switch not in free]
    given = {switch.signal for switch in free}
    if any(switch.signal in given and not all(reads(port, switch) for port in ports.values()) for switch in bound):
        files.doubt("a signal that one of two switches gives up", EASIER)
    for port in files.unit["inputs"]:
        port["accepts"] = sorted({*names(port, "accepts"), *(switch.signal for switch in free)})
        if any(switch.signal == "pulse" for switch in free):
            port["pulse"] = {"up_to": "1000 V", "rate": "100 kHz"}
    for box in files.bike.get("multiplexers", []):
        _any_box(files, box, free, bound)


def reads(port: InPort, switch: Switch) -> bool:
    """Tell whether an input reads a switch."""
    if switch.signal not in port.accepts:
        return False
    if switch.signal != "pulse" or port.up_to_mv is None:
        return True
    too_high = switch.level_mv is not None and switch.level_mv > port.up_to_mv
    return not too_high and not (
        switch.rate_hz is not None and port.rate_hz is not None and switch.rate_hz > port.rate_hz
    )


def _any_box(files: Files, box: Tree, free: list[Switch], bound: list[Switch]) -> None:
    before = set(names(box, "takes"))
    after = before | {switch.signal for switch in free if not switch.straight}
    if any(switch.signal in after - before and not switch.straight for switch in bound):
        files.doubt("a signal that a multiplexer takes of one switch only", EASIER)
    box["takes"] = sorted(after)
