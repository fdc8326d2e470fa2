"""What is told to lift a conflict, made in the files by its words, and planned with nothing else left of them."""

import re
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from typing import Any

from conflict_drafts import HARDER
from conflict_facts import Case, Tree, keys_of
from conflict_files import said
from conflict_judged import Planner, Verdict, judged_files
from file_edit_sets import text_of
from oracle.facts import Key
from oracle.profiles import each
from oracle.reading import tree_of
from outcomes import fits
from portloom.inputs.problems import BadFile

Trees = tuple[Tree, Tree]
USUAL = ["0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2"]


class NotUnderstood(Exception):
    """Words that say no edit that is known here."""


def lifted(case: Case, conflict: Mapping[str, Any], planner: Planner = fits) -> Iterator[Verdict]:
    """Judge each thing that is told to lift a conflict: its facts have a plan once the files are edited as it says."""
    keys = keys_of(case, conflict)
    for lift in conflict["lifted_by"]:
        words = lift["change"]
        after = edited(case, words)
        kept = [key for key in after.facts if key in keys or key not in case.facts or _of_feed(key)]
        yield judged_files(f"lifted by {words}", said(after, kept, rather=HARDER), planner, planned=True)
        if lift["then_it_fits"]:
            yield Verdict(f"fits with {words}", _fits(after, planner))


def _fits(case: Case, planner: Planner) -> bool:
    """Tell whether files are taken and have a plan."""
    try:
        return planner(case.bike_text, case.unit_text)
    except BadFile:
        return False


def _of_feed(key: Key) -> bool:
    return key in (("total", "unit"), ("fuse", "unit"), ("terminal", "feed"), ("unit lowest", "unit"))


def edited(case: Case, words: str) -> Case:
    """Return the files with what some words say. Raises NotUnderstood."""
    for shape, edit in EDITS.items():
        if found := re.fullmatch(shape, words):
            bike, unit = deepcopy(tree_of(case.bike_text)), deepcopy(tree_of(case.unit_text))
            unit["outputs"] = [{k: v for k, v in port.items() if k != "names"} for port in each(unit["outputs"])]
            edit(bike, unit, *found.groups())
            return Case(text_of(bike), text_of(unit))
    raise NotUnderstood(words)


def _fuse(_: Tree, unit: Tree, step: str) -> None:
    unit["feed"]["fuse_max"] = step


def _supply(_: Tree, unit: Tree, size: str) -> None:
    unit["feed"]["wire_max"] = size


def _terminals(_: Tree, unit: Tree, ports: str, size: str) -> None:
    names = [port["name"] for port in unit["outputs"]]
    for part in re.split(r", | and ", ports):
        first, _to, last = part.partition(" to ")
        for port in unit["outputs"][names.index(first) : names.index(last or first) + 1]:
            port["wire_max"] = size


def _trip(_: Tree, unit: Tree, _load: str, trip: str) -> None:
    for port in unit["outputs"]:
        now = port.get("trip", port["limit"])
        port["trip"] = [trip, *(now if isinstance(now, list) else [now])]


def _reel(bike: Tree, _: Tree, size: str) -> None:
    bike["reels"] = [*bike.get("reels", USUAL), size]


def _earth(bike: Tree, _: Tree, point: str) -> None:
    bike["frame"]["earth"] = [*bike["frame"]["earth"], point]


def _returns(bike: Tree, _: Tree, size: str) -> None:
    bike["assume"] = {**bike.get("assume", {}), "thickest return": size}


def _regulator(bike: Tree, _: Tree) -> None:
    bike["supply"]["charging"]["joins"] = "battery"


def _fed(how: str) -> Callable[..., None]:
    def feed(bike: Tree, _: Tree, name: str) -> None:
        next(load for load in bike["loads"] if load.get("name", load.get("part")) == name)["fed"] = how

    return feed


EDITS: Mapping[str, Callable[..., None]] = {
    r"a unit that takes a main fuse of (.+) \('fuse_max'\)": _fuse,
    r"a unit whose supply terminal takes (.+) \('wire_max'\)": _supply,
    r"(.+) with terminals that take (.+) \('wire_max'\)": _terminals,
    r"an output for (.+) that can be set to trip at (.+)": _trip,
    r"wire of (.+), under 'reels:'": _reel,
    r"an earth point at (.+), if the frame is bare metal there": _earth,
    r"more returns, of ([^(]+)(?: \(.+\))? at most where loads share one .'thickest return', under .+": _returns,
    r"the regulator's lead to the battery, with 'joins: battery'": _regulator,
    r"(.+) fed through a relay": _fed("relay"),
    r"(.+) fed from the battery through a fuse of its own": _fed("fuse"),
}
