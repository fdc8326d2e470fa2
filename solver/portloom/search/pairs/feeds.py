"""How thick a feed is at least with each main fuse, and what that adds to the looms of an eased choice."""

from collections.abc import Mapping, Sequence

from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps
from portloom.job.fixed_wires import FixedWireKey
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, feed_demands
from portloom.job.losses import Losses
from portloom.job.site import Site, feed_conductor, feed_reels
from portloom.job.sizing import carries
from portloom.rules.book import budgets_of
from portloom.rules.shapes import Key, Rule
from portloom.search.columns import given
from portloom.search.levels import Levels, Variable
from portloom.search.pairs.seats import Seat

Flags = Mapping[MilliAmps, Variable]


def least_feeds(both: Site, seat: Seat) -> dict[MilliAmps, Conductor | None]:
    """Return the thinnest feed of each main fuse of a seat: it carries the fuse beside what lies there in every plan.

    ``both`` are the leanest sites of both units. None where no reel carries it there.
    """
    bundles = Bundles(Laid(both, Losses(both), (), (), ()))
    return {fuse: _thinnest(site, bundles) for fuse, site in zip(seat.fuses, seat.sites, strict=True)}


def _thinnest(site: Site, bundles: Bundles) -> Conductor | None:
    first = feed_conductor(site).size
    legs, demands = site.feed.run.legs, tuple(feed_demands(site))
    reels = (reel for reel in feed_reels(site.job) if reel.size >= first)
    return next((reel for reel in reels if all(carries(site, reel, legs, each, bundles) for each in demands)), None)


def lay_feeds(levels: Levels, rules: Sequence[Rule], seats: Sequence[Seat], flags: Sequence[Flags]) -> None:
    """Add the sums over looms once more, each feed as thick as the main fuse that is chosen asks for at least."""
    both = levels.choice.site
    sizes = [least_feeds(both, seat) for seat in seats]
    for own, of_seat in zip(sizes, flags, strict=True):
        levels.at_most([(of_seat[fuse], 1) for fuse, size in own.items() if size is None], 0, "feed", "no reel carries")
    added = [
        (flag, seat.sites[0].feed.key, size)
        for seat, own, of_seat in zip(seats, sizes, flags, strict=True)
        for fuse, flag in of_seat.items()
        if (size := own[fuse]) is not None and seat.sites[0].feed.run.legs
    ]
    for rule in rules:
        if rule.of_whole_bike:
            _restate(levels, rule, added)


def _restate(levels: Levels, rule: Rule, added: Sequence[tuple[Variable, FixedWireKey, Conductor]]) -> None:
    """Add each row of a rule's sums to which a feed adds more than at its thinnest."""
    site = levels.choice.site
    more: dict[tuple[int, Key], list[tuple[Variable, int]]] = {}
    lean = [budget.rows for budget in budgets_of(rule, site)]
    for flag, key, size in added:
        for number, budget in enumerate(budgets_of(rule, site.with_sizes({key: size}))):
            for at, row in budget.rows.items():
                if row.fixed > lean[number][at].fixed:
                    more.setdefault((number, at), []).append((flag, row.fixed - lean[number][at].fixed))
    budgets = list(budgets_of(rule, site))
    for (number, at), terms in more.items():
        row = budgets[number].rows[at]
        columns = (
            (n, amount)
            for n, column in enumerate(levels.choice.columns)
            for own, amount in given(budgets[number], column)
            if own == at
        )
        levels.at_most([*columns, *terms], row.at_most - row.fixed, rule.slug, row.subject, "feeds")
