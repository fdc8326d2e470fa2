"""Bikes read without the questions that their files leave open: small ones, with no more than a test speaks of."""

from collections.abc import Collection
from pathlib import Path

from portloom.base.bike import Bike
from portloom.inputs.fields import build
from portloom.inputs.files import BikeAndSource, _checked
from portloom.inputs.parsing import file_text, parse
from portloom.inputs.parts.filling import filled
from portloom.inputs.problems import refuse
from portloom.inputs.tree import Source


def bike_and_source(text: str, name: str, own_modes: Collection[str] = ()) -> BikeAndSource:
    """Return the bike of a text and where each thing stands; all but open questions is judged as ever."""
    parsed = parse(text, name, "bike")
    whole = filled(parsed.root, own_modes)
    bike, flaws = build(Bike, whole.root)
    flaws += [*parsed.flaws, *whole.flaws, *_checked(whole.root)]
    if bike is None or flaws:
        raise refuse(name, flaws)
    return BikeAndSource(bike.having_read(whole.as_read), Source(name, parsed.root, whole.numbers))


def bike_from_text(text: str, name: str, own_modes: Collection[str] = ()) -> Bike:
    """Return the bike of a text."""
    return bike_and_source(text, name, own_modes).bike


def read_bike(path: Path) -> Bike:
    """Return the bike of a file."""
    return bike_from_text(file_text(path), str(path))
