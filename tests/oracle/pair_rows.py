"""The 0/1 programme of two units at two places: its columns, of which unit each is, and its rows."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise, product
from math import inf
from typing import Any

from .circuits import all_circuits, groups, may_join
from .drive import Column
from .job import Laid
from .judge import later_fits
from .matched import apart
from .pair import Spots, Two, reserved_ma
from .programme import Model
from .reading import on_unit
from .site import Site
from .sizing import able
from .things import Load
from .wanting import together, wanted_for

EITHER = (0, 1)
Terms = dict[int, int]


@dataclass
class PairModel:
    """A programme, with the unit of each column, and the column as it is with each fuse that it needs one of.

    `sites` are those that can be had at all, by main fuse (mA). Columns that go with any fuse
    have nothing in `by_fuse`; a later load has no wires.
    """

    two: Two
    sites: tuple[dict[int, Site], dict[int, Site]]
    model: Model = field(default_factory=Model)
    units: list[int] = field(default_factory=list)
    by_fuse: list[dict[int, Column | None]] = field(default_factory=list)

    def add(
        self, unit: int, meaning: tuple[str, Any, Any], held: Column | None, by_fuse: dict[int, Column | None]
    ) -> None:
        """Add a column of a unit."""
        self.model.column(meaning, held.cost_um if held else 0, held)
        self.units.append(unit)
        self.by_fuse.append(by_fuse)

    def each(self, what: str, unit: int) -> Iterator[tuple[int, Any, Any]]:
        """Return the columns of one sort of a unit: number, what is held, and where."""
        for number, (sort, held, port) in enumerate(self.model.meanings):
            if sort == what and self.units[number] == unit:
                yield number, held, port

    def driving(self, load: Load, unit: int) -> Terms:
        """Return the circuits of a unit that hold a load."""
        return {number: 1 for number, held, _ in self.each("circuit", unit) if load in held.loads}


def pair_model(two: Two, spots: Spots) -> PairModel | None:
    """The programme for two places; None if one of the units can't be there, or the wires of every plan can't."""
    one, other = ({fuse: two.site(unit, spots[unit], fuse) for fuse in two.fuses_ma(unit)} for unit in EITHER)
    sound = tuple({fuse: site for fuse, site in sites.items() if site.sound} for sites in (one, other))
    bare = able(two.looms, ())
    if not all(sound) or bare is None:
        return None
    made = PairModel(two, (sound[0], sound[1]))
    for unit in EITHER:
        _add_columns(made, unit)
    return made


def always_laid(made: PairModel) -> list[Laid]:
    """Return the wires that every plan has but the feeds, no thicker than in any plan."""
    bare = able(made.two.looms, ())
    earths = [next(iter(sites.values())).unit_earth for sites in made.sites]
    return [*made.two.job.always, *earths, *(bare.thinnest() if bare else ())]


def _add_columns(made: PairModel, unit: int) -> None:
    two, sites = made.two, made.sites[unit]
    for held, output in product(all_circuits(two.bike), two.units[unit].outputs):
        found = {fuse: site.output_column(held, output) for fuse, site in sites.items()}
        with_fuse = {fuse: column for fuse, column in found.items() if column is not None}
        if with_fuse:
            thinnest = min(with_fuse.values(), key=lambda column: column.wires[0].diameter_um)
            made.add(unit, ("circuit", held, output), thinnest, dict(with_fuse))
    any_site = next(iter(sites.values()))
    for switches, port in product(groups(list(two.bike.switches), may_join), two.units[unit].inputs):
        column = any_site.input_column(switches, port)
        if column is not None:
            made.add(unit, ("switches", (unit, switches), port), column, {})
    for later, output in product(two.bike.later, two.units[unit].outputs):
        fuses = [fuse for fuse, site in sites.items() if later_fits(site, later, output)]
        if fuses:
            made.add(unit, ("later", later, output), None, dict.fromkeys(fuses))
            made.model.costs[-1] = -later.worth_um
    for fuse, site in sites.items():
        bare = able(site.looms, ())
        feed, sizes = bare.feeds[0] if bare else (site.looms.feeds[0], site.looms.feeds[0].sizes)
        made.add(unit, ("fuse", unit, fuse), Column(0, (Laid(sizes[0].diameter_um, feed.run),), 0, None), {})


def add_rows(made: PairModel) -> None:
    """Add all rows but those of openings."""
    _cover(made)
    _together(made)
    _alike(made)
    for unit in EITHER:
        _fuses(made, unit)
        _budgets(made, unit)
        _links(made, unit)
    _switches(made)


def _cover(made: PairModel) -> None:
    row = made.model.row
    for load in on_unit(made.two.bike):
        row(made.driving(load, 0) | made.driving(load, 1), 1, 1)
    once = defaultdict[Any, Terms](dict)
    for number, (what, held, port) in enumerate(made.model.meanings):
        if what != "fuse":
            once[port][number] = 1
        if what == "later":
            once[held][number] = 1
    for terms in once.values():
        row(terms, -inf, 1)


def _together(made: PairModel) -> None:
    for crowd in together(made.two.bike):
        for one, other in pairwise(crowd):
            mine, its = made.driving(one, 0), made.driving(other, 0)
            apart = dict.fromkeys(mine.keys() - its.keys(), 1) | dict.fromkeys(its.keys() - mine.keys(), -1)
            made.model.row(apart, 0, 0)


def _alike(made: PairModel) -> None:
    """No two circuits with loads whose outputs must be alike are on outputs that are not, whichever unit has them."""
    circuits = [one for unit in EITHER for one in made.each("circuit", unit)]
    for one, other in apart(made.two.bike, circuits):
        made.model.row({one: 1, other: 1}, -inf, 1)


def _fuses(made: PairModel, unit: int) -> None:
    chosen = {fuse: number for number, _, fuse in made.each("fuse", unit)}
    made.model.row(dict.fromkeys(chosen.values(), 1), 1, 1)
    for number, by_fuse in enumerate(made.by_fuse):
        if made.units[number] == unit and by_fuse and len(by_fuse) < len(chosen):
            made.model.row({number: 1, **{chosen[fuse]: -1 for fuse in by_fuse}}, -inf, 0)


def _budgets(made: PairModel, unit: int) -> None:
    profile, fused = made.two.units[unit], {n: -reserved_ma(fuse) for n, _, fuse in made.each("fuse", unit)}
    for case in made.two.job.cases:
        circuits, later = made.each("circuit", unit), made.each("later", unit)
        driven = {n: (held.steady_ma, port.bank) for n, held, port in circuits if held.names & case.on}
        added = {n: (x.load.current_ma, port.bank) for n, x, port in later if x.load.name in case.on}
        made.model.row({n: ma for n, (ma, _) in driven.items()} | fused, -inf, 0)
        drawn = driven | added
        made.model.row({n: ma for n, (ma, _) in drawn.items()}, -inf, profile.limit_ma)
        for name, limit in profile.banks.items():
            made.model.row({n: ma for n, (ma, bank) in drawn.items() if bank == name}, -inf, limit)


def _links(made: PairModel, unit: int) -> None:
    site = next(iter(made.sites[unit].values()))
    for number, held, output in made.each("circuit", unit):
        if not site.suffices(held):
            made.model.row({number: 1}, -inf, 0)
        if output.follow:
            helps = {
                n: -1
                for n, (_, switches), port in made.each("switches", unit)
                if port.name == output.follow and any(held.names <= switch.operates for switch in switches)
            }
            made.model.row({number: 1, **helps}, -inf, 0)


def _switches(made: PairModel) -> None:
    for switch in made.two.bike.switches:
        wanted = wanted_for(made.two.bike, switch)
        seats = [{n: 1 for n, (_, switches), _ in made.each("switches", unit) if switch in switches} for unit in EITHER]
        if not wanted:
            made.model.row(seats[0] | seats[1], 1, 1)
        for unit in EITHER if wanted else ():
            _seat(made, seats[unit], [made.driving(load, unit) for load in wanted])


def _seat(made: PairModel, seats: Terms, wanting: list[Terms]) -> None:
    """Let a switch be on one input of a unit if one of its loads is there, else on none."""
    minus = dict.fromkeys(seats, -1)
    made.model.row(seats, -inf, 1)
    for driving in wanting:
        made.model.row(driving | minus, -inf, 0)
    anyone = {number: -1 for driving in wanting for number in driving}
    made.model.row(seats | anyone, -inf, 0)
