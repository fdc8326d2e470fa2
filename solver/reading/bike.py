"""Reads a bike."""

from collections.abc import Iterator
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import NamedTuple

from solver.reading.checks import events, inputs, legs, loads, names, points, settings, sharing, wires
from solver.reading.fields import build
from solver.reading.opening import file_text
from solver.reading.parsing import parse
from solver.reading.problems import Flaw, refuse
from solver.reading.source import Source
from solver.reading.tree import Keyed
from solver.rules.slugs import NEVER_SET_ASIDE, RULE_SLUGS
from solver.words.bike import Bike


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
    for check in (points, legs, loads, inputs, events, sharing, wires, settings):
        yield from check.flaws(root)
    yield from names.of_bike(root)
    yield from settings.set_aside(root, RULE_SLUGS, NEVER_SET_ASIDE)
