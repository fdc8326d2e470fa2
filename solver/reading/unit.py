"""Reads a unit profile."""

from importlib.resources.abc import Traversable
from pathlib import Path
from typing import NamedTuple

from solver.reading.checks.names import names_of_unit
from solver.reading.checks.ports import port_flaws
from solver.reading.expanding import expand
from solver.reading.fields import build
from solver.reading.opening import file_text
from solver.reading.parsing import parse
from solver.reading.problems import refuse
from solver.reading.source import Source
from solver.words.unit import Unit


class UnitAndSource(NamedTuple):
    """A unit, and where its profile says each thing."""

    unit: Unit
    source: Source


def read_unit(path: Path | Traversable) -> Unit:
    """Return the unit in the file at ``path``; raise BadFile with all that is wrong in it."""
    return read_unit_with_positions(path).unit


def read_unit_with_positions(path: Path | Traversable) -> UnitAndSource:
    """Return the unit in the file at ``path`` and where each thing stands; raise BadFile."""
    return unit_and_source(file_text(path), str(path))


def unit_from_text(text: str, name: str) -> Unit:
    """Return the unit that ``text`` describes; raise BadFile, with ``name`` as its file."""
    return unit_and_source(text, name).unit


def unit_and_source(text: str, name: str) -> UnitAndSource:
    """Return the unit that ``text`` describes and where each thing stands; raise BadFile."""
    parsed = parse(text, name, "unit")
    root, doubled = expand(parsed.root)
    unit, flaws = build(Unit, root)
    flaws += [*parsed.flaws, *doubled, *names_of_unit(root), *port_flaws(root)]
    if unit is None or flaws:
        raise refuse(name, flaws)
    return UnitAndSource(unit, Source(name, root))
