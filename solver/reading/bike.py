"""Reads a bike."""

from collections.abc import Iterator
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import NamedTuple

from solver.reading.checks.events import event_flaws
from solver.reading.checks.inputs import input_flaws
from solver.reading.checks.legs import leg_flaws
from solver.reading.checks.loads import load_flaws
from solver.reading.checks.names import names_of_bike
from solver.reading.checks.points import point_flaws
from solver.reading.checks.settings import set_aside, setting_flaws
from solver.reading.checks.sharing import sharing_flaws
from solver.reading.checks.wires import wire_flaws
from solver.reading.fields import build
from solver.reading.opening import file_text
from solver.reading.parsing import parse
from solver.reading.problems import Flaw, refuse
from solver.reading.source import Source
from solver.reading.tree import Keyed
from solver.rules.slugs import NEVER_SET_ASIDE, RULE_SLUGS
from solver.words.bike import Bike

CHECKS = (
    point_flaws, leg_flaws, load_flaws, input_flaws, event_flaws, sharing_flaws, wire_flaws, setting_flaws,
)  # fmt: skip


class BikeAndSource(NamedTuple):
    """A bike, and where its file says each thing."""

    bike: Bike
    source: Source


def read_bike(path: Path | Traversable) -> Bike:
    """Return the bike in the file at ``path``; raise BadFile with all that is wrong in it."""
    return read_bike_with_positions(path).bike


def read_bike_with_positions(path: Path | Traversable) -> BikeAndSource:
    """Return the bike in the file at ``path`` and where each thing stands; raise BadFile."""
    return bike_and_source(file_text(path), str(path))


def bike_from_text(text: str, name: str) -> Bike:
    """Return the bike that ``text`` describes; raise BadFile, with ``name`` as its file."""
    return bike_and_source(text, name).bike


def bike_and_source(text: str, name: str) -> BikeAndSource:
    """Return the bike that ``text`` describes and where each thing stands; raise BadFile."""
    parsed = parse(text, name, "bike")
    bike, flaws = build(Bike, parsed.root)
    flaws += [*parsed.flaws, *_checked(parsed.root)]
    if bike is None or flaws:
        raise refuse(name, flaws)
    return BikeAndSource(bike, Source(name, parsed.root))


def _checked(root: Keyed) -> Iterator[Flaw]:
    for check in CHECKS:
        yield from check(root)
    yield from names_of_bike(root)
    yield from set_aside(root, RULE_SLUGS, NEVER_SET_ASIDE)
