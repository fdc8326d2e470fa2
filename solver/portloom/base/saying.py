"""Who is told what is being done while work goes on."""

from collections.abc import Callable

Say = Callable[[str], None]
"""Is told in a few words what is done now."""


def silent(_: str) -> None:
    """Say nothing of it."""
