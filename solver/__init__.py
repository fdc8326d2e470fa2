"""portloom as a library.

``solver.plan``, ``solver.explain`` and ``solver.check`` take a typed bike and a typed unit.

``solver.compare`` takes several of each.

``solver.plan_pair`` takes two units in place of one.

The search is loaded when it is first asked for, so that reading and checking start without it.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from solver.answering.check import check
    from solver.comparing.compare import compare
    from solver.explaining.explain import explain
    from solver.pairing import plan_pair
    from solver.planning import plan

__all__ = ["check", "compare", "explain", "plan", "plan_pair"]


def __getattr__(name: str) -> object:
    """Return what the library offers, loading it now."""
    if name == "plan":
        from solver.planning import plan as planning  # noqa: PLC0415 - loads ortools, which takes 0.4 s

        return planning
    if name == "explain":
        from solver.explaining.explain import explain as explaining  # noqa: PLC0415 - loads ortools, too

        return explaining
    if name == "check":
        from solver.answering.check import check as checking  # noqa: PLC0415 - loads the rules, and ortools on a wish

        return checking
    if name == "compare":
        from solver.comparing.compare import compare as comparing  # noqa: PLC0415 - loads ortools, too

        return comparing
    if name == "plan_pair":
        from solver.pairing import plan_pair as pairing  # noqa: PLC0415 - loads ortools, too

        return pairing
    raise AttributeError(f"solver has no '{name}'")
