"""What is decided of ports where facts of it are dropped: pins, bans, dead ports, sets of loads on outputs alike.

Ports that are added because as many are wanted as there are loads are like the one that is named: what is held to that
one may be on them, what is kept off it may not, and where it is dead they are, too.
"""

from collections.abc import Sequence

from conflict_drafts import Files, names
from conflict_facts import Tree
from conflict_ports import like_of
from oracle.matched import sets_on_outputs


def edit_decided(files: Files) -> None:
    """Take what is dropped out of the file, and name the ports that were added beside those that are like them."""
    coils = {load.name for load in files.case.bike.loads if load.name.endswith(" relay")}
    for which, fact in (("loads", "pin"), ("inputs", "switch pin")):
        more = _added(files, "outputs" if which == "loads" else "inputs")
        for item in files.bike[which]:
            name = f"{item['name']} relay" if f"{item['name']} relay" in coils else item["name"]
            for key in ("on", "not_on"):
                if key in item:
                    _hold(item, key, more, free=files.dropped(fact, name))
    _dead(files)
    _alike(files)


def _added(files: Files, which: str) -> dict[str, list[str]]:
    """Return for each port of the unit's own those that were added like it."""
    found: dict[str, list[str]] = {}
    for port in files.unit[which]:
        like = like_of(port["name"])
        if like != port["name"]:
            found.setdefault(like, []).append(port["name"])
    return found


def _hold(item: Tree, key: str, more: dict[str, list[str]], *, free: bool) -> None:
    held = names(item, key)
    if free:
        item.pop(key)
    else:
        item[key] = [*held, *(name for port in held for name in more.get(port, ()))]


def _dead(files: Files) -> None:
    kept = {
        port: why for port, why in files.bike.get("out_of_use", {}).items() if not files.dropped("out of use", port)
    }
    more = {**_added(files, "outputs"), **_added(files, "inputs")}
    kept |= {name: why for port, why in kept.items() for name in more.get(port, ())}
    files.bike.pop("out_of_use", None)
    if kept:
        files.bike["out_of_use"] = kept


def _alike(files: Files) -> None:
    """Write the sets that are kept by the names of their loads that are left and need an output."""
    left: list[Sequence[str]] = []
    here = {item["name"] for item in files.bike["loads"]} & {load.name for load in files.loads_kept}
    for written, loads in sets_on_outputs(files.case.bike):
        there = [load.name for load in loads if load.name in here]
        if not files.dropped("alike", *written) and len(there) > 1 and sorted(there) not in map(sorted, left):
            left.append(there)
    files.bike.pop("alike", None)
    if left:
        files.bike["alike"] = left
