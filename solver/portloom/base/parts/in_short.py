"""What the catalogue says of a part, in one line, as editors show it beside its name."""

from collections.abc import Iterator

from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.parts.switches import SWITCH_PART


def load_in_short() -> dict[str, str]:
    """Return each load's name with its other words, its kind, its mode and when it is on."""
    return {name: "; ".join(_of_load(part)) for name, part in LOAD_PART.items()}


def switch_in_short() -> dict[str, str]:
    """Return each switch's name with its other words, and what it tells and works."""
    return {name: "; ".join(_of_switch(part)) for name, part in SWITCH_PART.items()}


def _of_load(part: LoadPart) -> Iterator[str]:
    yield from _also(part.also)
    yield f"of kind {part.kind}" if part.kind else "of its lamp's kind"
    if part.fed_from:
        yield f"fed from a {' and a '.join(part.fed_from)}"
        return
    yield "driven as its switches work" if part.beam else f"in mode {', '.join(part.modes)}"
    yield f"on in {', '.join(part.when)}"


def _of_switch(part: SwitchPart) -> Iterator[str]:
    yield from _also(part.also)
    if part.tells:
        yield f"tells {', '.join(part.tells)}"
    if part.works:
        yield f"works every {', '.join(part.works)}"
    if part.shown:
        yield "may be there for a dash alone"


def _also(also: tuple[str, ...]) -> Iterator[str]:
    if also:
        yield f"also {', '.join(also)}"
