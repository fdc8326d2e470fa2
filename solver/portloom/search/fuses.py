"""The main fuse as a part of the choice: which steps a plan may need, and the least that each column can live with.

A larger fuse loses less, and more trips are below it; only feed and looms bear it worse (FORMULATION.md, C3 and C5).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.fuses import carries
from portloom.base.quantities import MilliAmps
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.rules.book import place_clashes, wired_clashes
from portloom.rules.shapes import Rule
from portloom.search.columns import Column, FuseColumn, Link, OutputColumn, SumRow


def allowed_at(rules: Sequence[Rule], site: Site) -> Site | None:
    """Return a site with the main fuses with which the rules allow the unit there; None where there is none."""
    for number, fuse in enumerate(site.fuses):
        if next(place_clashes(rules, site.with_fuses(fuse)), None) is None:
            return site.with_fuses(*site.fuses[number:])
    return None


def fused(rules: Sequence[Rule], site: Site, columns: Sequence[OutputColumn]) -> tuple[FuseColumn | OutputColumn, ...]:
    """Return the main fuses that a plan may need, small to large, then the columns, each with its least fuse.

    ``columns`` are those that the largest fuse of the site allows. A fuse is not needed where a smaller one allows
    the same columns with the same wires, and carries all that the bike draws.
    """
    # The rule of wires, which takes longest, is the first in the book.
    fitting = [rule for rule in reversed(rules) if rule.wired_fit]
    steps: list[FuseColumn] = []
    least: dict[int, MilliAmps] = {}
    open_columns = dict(enumerate(columns))
    for fuse in site.fuses:
        alone = site.with_fuses(fuse)
        steps.append(FuseColumn(alone, Losses(alone)))
        for number, column in tuple(open_columns.items()):
            wired = column.wired.fed_at(alone, steps[-1].losses)
            if next(wired_clashes(fitting, wired), None) is None:
                least.setdefault(number, fuse)
                if column.later or len(wired.serving) == len(column.wired.serving):
                    del open_columns[number]
        if not open_columns and (site.feed_most is None or carries(fuse, site.job.worst)):
            break
    return (*steps, *(replace(column, least_fuse=least[number]) for number, column in enumerate(columns)))


def one_fuse_each(columns: Sequence[Column]) -> Iterator[SumRow]:
    """Each unit has one main fuse."""
    of_units: dict[str, list[tuple[int, int]]] = {}
    for number, column in enumerate(columns):
        if isinstance(column, FuseColumn):
            of_units.setdefault(column.site.place.name, []).append((number, 1))
    return (SumRow(tuple(entries), 1, 1, name=("main fuse", place)) for place, entries in of_units.items())


def fuse_links(columns: Sequence[Column]) -> Iterator[Link]:
    """A circuit is there only with a main fuse that it can live with."""
    steps = [(number, column) for number, column in enumerate(columns) if isinstance(column, FuseColumn)]
    if not steps:
        return
    for number, column in enumerate(columns):
        if isinstance(column, OutputColumn):
            own = [(at, step.fuse) for at, step in steps if step.site.shares(column.wired.site)]
            able = tuple(at for at, fuse in own if fuse >= column.least_fuse)
            if len(able) < len(own):
                yield Link(number, able)
