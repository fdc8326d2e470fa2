"""What stands on every sheet whatever it tells: what is set aside, and the cautions."""

from collections.abc import Iterable

from solver.sheets.layout import Page

CAUTION = "CAUTION"
"""The heading over the cautions."""


def write_set_aside(set_aside: Iterable[tuple[str, str]], page: Page) -> None:
    """Write the rules that a bike file sets aside, first on every sheet."""
    lines = [f"rule {rule}: {reason}" for rule, reason in set_aside]
    if lines:
        page.line("SET ASIDE by the bike file:", "bold red")
        page.items(lines, "!")
        page.line("")


def write_cautions(cautions: tuple[str, ...], page: Page) -> None:
    """Write the cautions, last and on every sheet."""
    page.heading(CAUTION)
    page.items(cautions, "!")
