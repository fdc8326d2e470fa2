"""Every set of changes to a bike's file, least effort first, each planned; what can't fit for sure is not planned.

A set is passed over only where a bike with more freedom than any such set gives has no plan: every load on an output in
one share group, and every frame point a place.
"""

from collections.abc import Iterator, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import networkx as nx
import yaml

from file_edit_making import made
from file_edits import (
    EFFORT,
    Edit,
    Edits,
    Tree,
    effort_of,
    every_edit,
    leg_name,
    loads_of,
    name_of,
    on_output,
    points_of,
)
from oracle.reading import tree_of
from outcomes import read
from portloom.base.clock import Clock
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.rules.book import RULES
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.search.places import NoPlan

DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)
SOFT = ("sharing", "place")
"""Changes that only ever make more plans possible, and of which there is a freest choice."""


def text_of(tree: Tree) -> str:
    return str(yaml.dump(tree, Dumper=DUMPER, sort_keys=False))


def has_plan(bike: str, unit: str) -> bool:
    """Tell whether a bike fits; one whose file is refused does not."""
    try:
        job = Job(*read(bike, unit))
    except BadFile:
        return False
    return not isinstance(best_assignment(job, RULES, sites_of(job), Clock(None)), NoPlan)


def is_read(bike: str, unit: str) -> bool:
    """Tell whether the files are read without an error."""
    try:
        read(bike, unit)
    except BadFile:
        return False
    return True


@dataclass(frozen=True)
class Bench:
    """A bike and a unit as text, and bigger units by size; what was planned is remembered.

    After ``most_plans`` nothing more is tried.
    """

    bike_text: str
    unit_text: str
    bigger: tuple[tuple[str, str], ...] = ()
    """The name and text of each."""
    most_plans: int = 400
    planned: dict[tuple[str, str], bool] = field(default_factory=dict, compare=False)

    @cached_property
    def bike(self) -> Tree:
        return tree_of(self.bike_text)

    @cached_property
    def edits(self) -> tuple[Edit, ...]:
        """Every change that may help: a wire that must pass a leg on every way is not sent another way."""
        found = every_edit(self.bike, tree_of(self.unit_text), [name for name, _ in self.bigger])
        return tuple(edit for edit in found if edit.kind != "another way round" or edit.things[1] not in self._bridges)

    @cached_property
    def _bridges(self) -> set[str]:
        """Legs without which the frame falls in two: the shortest wire passes one only where it must."""
        graph = nx.MultiGraph()
        for leg in self.bike["frame"]["legs"]:
            graph.add_edge(*leg["between"], name=leg_name(leg))
        single = nx.Graph(graph)
        return {
            graph[one][other][0]["name"]
            for one, other in nx.bridges(single)
            if graph.number_of_edges(one, other) == 1
        }  # fmt: skip

    def texts(self, edits: Edits) -> tuple[str, str] | None:
        """Return a bike with some changes and its unit; None where one of them has nothing to act on."""
        tree = made(self.bike, edits)
        return None if tree is None else (text_of(tree), self._unit(edits))

    def _unit(self, edits: Edits) -> str:
        taken = [edit.things[0] for edit in edits if edit.kind == "bigger unit"]
        return dict(self.bigger)[taken[0]] if taken else self.unit_text

    def fits(self, edits: Edits) -> bool:
        texts = self.texts(edits)
        return texts is not None and self._has_plan(*texts)

    def _has_plan(self, bike: str, unit: str) -> bool:
        if (bike, unit) not in self.planned:
            self.planned[bike, unit] = has_plan(bike, unit)
        return self.planned[bike, unit]

    def may_fit(self, hard: Edits, left: int) -> bool:
        """Tell whether these changes may be enough with so much effort more for sharing and another place."""
        tree = made(self.bike, hard)
        if tree is None:
            return False
        if left >= EFFORT["sharing"]:
            _share_all(tree)
        if left >= EFFORT["place"]:
            _place_all(tree)
        return self._has_plan(text_of(tree), self._unit(hard))

    # --- every set

    def of_effort(self, effort: int) -> Iterator[Edits]:
        """Return each set of just this effort that may fit."""
        hard = [edit for edit in self.edits if edit.kind not in SOFT]
        soft = [edit for edit in self.edits if edit.kind in SOFT]
        for chosen in subsets(hard, effort):
            left = effort - effort_of(chosen)
            if len(self.planned) > self.most_plans:
                return
            if self.may_fit(chosen, left):
                yield from (chosen | more for more in subsets(soft, left) if effort_of(more) == left)

    def least(self, most: int) -> tuple[int, Edits] | None:
        """Return the least effort of all sets that fit, ``most`` at most, and the first of them."""
        return next(((effort_of(found), found) for found in self.fitting(most)), None)

    def fitting(self, most: int) -> Iterator[Edits]:
        """Return each set that fits and of which no part fits, least effort first, each text once."""
        found: list[Edits] = []
        seen: set[tuple[str, str]] = set()
        for effort in range(1, most + 1):
            for edits in self.of_effort(effort):
                if any(less < edits for less in found) or not self.fits(edits):
                    continue
                texts = self.texts(edits)
                found.append(edits)
                if texts is not None and texts not in seen:
                    seen.add(texts)
                    yield edits


def subsets(edits: Sequence[Edit], most: int) -> Iterator[Edits]:
    """Return every set of edits of so much effort at most, the empty one first."""
    yield frozenset()
    for number, edit in enumerate(edits):
        if edit.effort <= most:
            yield from (more | {edit} for more in subsets(edits[number + 1 :], most - edit.effort))


def _share_all(tree: Tree) -> None:
    apart = {name for name, load in loads_of(tree).items() if on_output(load)}
    for load in tree["loads"]:
        if name_of(load) in apart:
            load["share"] = "all of them"


def _place_all(tree: Tree) -> None:
    places = [{"name": f"new at {point}", "front": point, "rear": point} for point in points_of(tree)]
    tree["places"] = [*deepcopy(tree["places"]), *places]


def figures(unit: Tree) -> tuple[int, int]:
    """Return how many outputs and inputs a unit has."""
    outputs, inputs = (sum(len(port.get("names", "1")) if "names" in port else 1 for port in unit[which])
                       for which in ("outputs", "inputs"))  # fmt: skip
    return outputs, inputs


def bigger_than(unit_text: str, known: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return the name and text of each known unit that is bigger, by outputs, then inputs."""
    size = figures(tree_of(unit_text))
    units: list[tuple[Any, str]] = sorted((figures(tree_of(text)), text) for text in known)
    return tuple((tree_of(text)["unit"], text) for other, text in units if other > size)
