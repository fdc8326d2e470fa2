"""Fixes as ``portloom why`` tells them: read back from their words as changes to the file, and judged by them."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from file_edit_making import made
from file_edit_sets import Bench
from file_edits import Edit, Edits, effort_of, name_of
from outcomes import PROFILES, planned, read
from portloom.documents.json import plan_json
from portloom.explaining.explain import explain
from portloom.explaining.json import explained_json
from portloom.inputs.files import unit_from_text

KNOWN = tuple(sorted(path.read_text("utf-8") for path in PROFILES.glob("*.yaml")))


@dataclass(frozen=True)
class Told:
    """One fix as it is told, and the changes that its words say."""

    edits: Edits
    effort: int
    cost_mm: Any
    sentence: str
    least: bool
    """Whether it is told as proved that nothing of less effort works."""
    gone: frozenset[str]
    """The loads that are left off, and what is named with them."""


def why(bench: Bench, limit: float | None = None) -> dict[str, Any]:
    """Return what is told, as the JSON of ``portloom why`` has it."""
    known = [unit_from_text(text, "unit") for text in KNOWN]
    bike, unit = read(bench.bike_text, bench.unit_text)
    return dict(explained_json(explain(bike, unit, known=known, time_limit=limit)))


def told(bench: Bench, document: dict[str, Any]) -> list[Told]:
    return [
        Told(
            frozenset(edit for change in fix["changes"] for edit in changes_of(change, bench)),
            fix["effort"],
            fix["cost_mm"],
            fix["sentence"],
            fix["least_effort"] == "proved",
            frozenset(name for change in fix["changes"] for name in _gone(change)),
        )
        for fix in document["fixes"]
    ]


def _gone(words: str) -> list[str]:
    found = re.fullmatch(r"leave (.+?) off the unit(?:, with (.+))?", words)
    return [name for said in found.groups() if said for name in names_in(said)] if found else []


def names_in(words: str) -> list[str]:
    """Return the names in a list of words."""
    return re.split(r", | and ", words)


class NotUnderstood(Exception):
    """Words that say no change that is known here."""


def _sharing(_: Bench, names: str) -> list[Edit]:
    return [Edit("sharing", pair) for pair in pairwise(names_in(names))]


def _joined(_: Bench, first: str, others: str) -> list[Edit]:
    """Return the changes by which groups share: one each, by the first load of each."""
    firsts = [names_in(part)[0] for part in (first, *others.split(" and with "))]
    return [Edit("sharing", pair) for pair in pairwise(firsts)]


def _off(_: Bench, names: str) -> list[Edit]:
    return [Edit("left off", (name,)) for name in names_in(names)]


def _unit(bench: Bench, name: str) -> list[Edit]:
    names = [unit for unit, _ in bench.bigger]
    return [Edit("bigger unit", (name, str(names.index(name) + 1)))]


def _boxes(_: Bench, number: str) -> list[Edit]:
    count = {"a": 1, "two": 2}[number]
    return [Edit("multiplexer", (str(one),)) for one in range(1, count + 1)]


def _unlike(bench: Bench, names: str) -> list[Edit]:
    said = set(names_in(names))
    sets = [tuple(each) for each in bench.bike.get("alike", []) if said <= set(each)]
    return [Edit("alike lifted", sets[0])] if sets else []


WORDS: Mapping[str, Callable[..., list[Edit]]] = {
    r"let (.+) share an output": _sharing,
    r"let (.+) share an output with (.+)": _joined,
    r"route the wire of (.+) another way around (.+)": lambda _, x, y: [Edit("another way round", (x, y))],
    r"fit an LED lamp unit of ([\d.]+ W) as (.+)": lambda _, x, y: [Edit("LED lamp", (y, x))],
    r"put a suppressor across (.+)": lambda _, x: [Edit("suppressor", (x,))],
    r"mount the unit at (.+)": lambda _, x: [Edit("place", (x,))],
    r"open up the \w+ in (.+) from .+ to .+": lambda _, x: [Edit("opened up", (x,))],
    r"feed (.+) from the battery through a fuse of its own": lambda _, x: [Edit("fused feed", (x,))],
    r"feed (.+) through a relay": lambda _, x: [Edit("relay", (x,))],
    r"fit (a|two) (?:second )?multiplexers? of five ways for switches to earth": _boxes,
    r"leave (.+?) off the unit(?:, with .+)?": _off,
    r"let (.+) be on other ports than .+": lambda _, x: [Edit("pin lifted", (x,))],
    r"let (.+?) be on .+, too": lambda _, x: [Edit("pin lifted", (x,))],
    r"let (.+) be on outputs that are not alike": _unlike,
    r"take the (.+) instead of the .+": _unit,
}


def changes_of(words: str, bench: Bench) -> list[Edit]:
    """Return the changes that some words say; raise NotUnderstood."""
    for shape, edits in WORDS.items():
        if found := re.fullmatch(shape, words):
            return edits(bench, *found.groups())
    raise NotUnderstood(words)


# --- what is wrong with what is told


def faults(bench: Bench, fixes: list[Told], most: int, *, complete: bool = True) -> list[str]:
    """Return what is not so of some fixes, in words; sets of more effort than ``most`` are not tried.

    ``complete``: it is told that there are no others, so where there is none at all, that nothing helps.
    """
    wrong = [fault for fix in fixes for fault in _faults_of(bench, fix)]
    first = min((fix.effort for fix in fixes if fix.least), default=None)
    if first is None and (fixes or not complete):
        return wrong
    cheaper = bench.least(most if first is None else min(most, first - 1))
    return wrong if cheaper is None else [*wrong, f"told {first}, true {cheaper[0]}: {words_of(cheaper[1])}"]


def too_few(bench: Bench, fixes: list[Told], most: int) -> list[str]:
    """Return what is missing where fewer than three fixes are told though there are more."""
    if len(fixes) >= 3:
        return []
    there: list[Edits] = []
    for found in bench.fitting(most):
        there.append(found)
        if len(there) == 3:
            break
    return [f"{len(fixes)} told of {len(there)}: {'; '.join(map(words_of, there))}"] if len(there) > len(fixes) else []


def words_of(edits: Edits) -> str:
    return " + ".join(f"{edit.kind} {', '.join(edit.things)}" for edit in sorted(edits))


def _faults_of(bench: Bench, fix: Told) -> list[str]:
    wrong: list[str] = []
    if effort_of(fix.edits) != fix.effort:
        wrong.append(f"effort {fix.effort} told, its words come to {effort_of(fix.edits)}: {fix.sentence}")
    texts = bench.texts(fix.edits)
    if texts is None or not bench.fits(fix.edits):
        return [*wrong, f"does not fit as its words say: {fix.sentence}"]
    wrong += _what_goes(bench, fix)
    parts = [fix.edits - {edit} for edit in fix.edits if len(fix.edits) > 1]
    wrong += [f"less is enough: {words_of(part)} of {fix.sentence}" for part in parts if bench.fits(part)]
    plan = plan_json(planned(*texts))
    if plan["cost_mm"] != fix.cost_mm:
        wrong.append(f"costs {plan['cost_mm']}, told {fix.cost_mm}: {fix.sentence}")
    return wrong + [f"not so in its plan ({edit.kind}): {fix.sentence}" for edit in fix.edits if not _true(edit, plan)]


def _what_goes(bench: Bench, fix: Told) -> list[str]:
    """Tell where other things go from the file than the loads that are left off and those that are named with them."""
    tree = made(bench.bike, fix.edits)
    before, after = ({name_of(one) for key in ("loads", "inputs") for one in bike.get(key, [])}
                     for bike in (bench.bike, tree or {}))  # fmt: skip
    if fix.gone == before - after:
        return []
    return [f"says {sorted(fix.gone)} go, but {sorted(before - after)} do: {fix.sentence}"]


def _true(edit: Edit, plan: dict[str, Any]) -> bool:
    """Tell whether what a change says is so in the plan."""
    thing, on_output = edit.things[0], [line for line in plan["outputs"] if edit.things[0] in line["loads"]]
    match edit.kind:
        case "sharing":
            return any(set(edit.things) <= set(line["loads"]) for line in plan["outputs"])
        case "place":
            return bool(plan["place"] == f"new at {thing}")
        case "multiplexer":
            return any(box["name"] == f"new gatherer {thing}" and box["inputs"] for box in plan["multiplexers"])
        case "left off" | "relay" | "fused feed":
            return not on_output
        case "another way round":
            wires = [*on_output, *(line for line in plan["fed"] if line["name"] == thing)]
            return bool(wires) and all(edit.things[1] not in line["legs"] for line in wires)
        case _:
            return True
