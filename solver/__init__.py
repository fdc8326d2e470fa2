"""portloom as a library: ``solver.plan`` takes a typed bike and a typed unit and gives a typed answer.

The search is loaded when it is first asked for, so that reading and checking start without it.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from solver.planning import plan

__all__ = ["plan"]


def __getattr__(name: str) -> object:
    """Give what the library offers, loading it now."""
    if name != "plan":
        raise AttributeError(f"solver has no '{name}'")
    from solver.planning import plan as planning  # noqa: PLC0415 - loads ortools, which takes 0.4 s

    return planning
