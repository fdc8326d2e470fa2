"""The figures of a load, and what is left of each when it is dropped."""

from dataclasses import replace
from typing import Any

from portloom.base.current import Inrush
from portloom.base.quantities import MicroAmps, Microseconds, MilliAmps
from portloom.job.consumers import Consumer

FIGURES: dict[str, dict[str, Any]] = {
    "current": {"current": MilliAmps(0)},
    "inrush": {"inrush": Inrush(MicroAmps(0), Microseconds(0))},
    "mode": {"modes": frozenset()},
    "kind": {"suppressed": True, "dims": True},
    "load lowest": {"lowest": None},
}


def without(load: Consumer, what: str) -> Consumer:
    """Return a load without one of its figures, 'current', 'inrush', 'mode', 'kind' or 'load lowest'."""
    return replace(load, **FIGURES[what])
