"""portloom as a library.

``portloom.plan``, ``portloom.explain`` and ``portloom.check`` take a typed bike and a typed unit.

``portloom.compare`` takes several of each.

``portloom.diff`` takes two plans, each as ``portloom.plan`` found it or as it was read back from JSON.

``portloom.plan`` takes two units instead of one, too.

The search is loaded when it is first asked for, so that reading and checking start without it.
"""

TYPE_CHECKING = False  # as in typing, which takes longer to load than the rest of this
if TYPE_CHECKING:
    from portloom.comparing.compare import compare
    from portloom.documents.difference.diff import diff
    from portloom.explaining.explain import explain
    from portloom.planning.plan import plan
    from portloom.review.check import check

__all__ = ["check", "compare", "diff", "explain", "plan"]


def __getattr__(name: str) -> object:
    """Return what the library offers, loading it now."""
    if name == "plan":
        from portloom.planning.plan import plan as planning  # noqa: PLC0415 - loads the search

        return planning
    if name == "explain":
        from portloom.explaining.explain import explain as explaining  # noqa: PLC0415 - loads ortools, too

        return explaining
    if name == "check":
        from portloom.review.check import check as checking  # noqa: PLC0415 - loads the rules, and ortools on a wish

        return checking
    if name == "compare":
        from portloom.comparing.compare import compare as comparing  # noqa: PLC0415 - loads ortools, too

        return comparing
    if name == "diff":
        from portloom.documents.difference.diff import diff as differing  # noqa: PLC0415 - loads what plans are told by

        return differing
    raise AttributeError(f"portloom has no '{name}'")
