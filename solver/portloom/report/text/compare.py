"""A comparison as a shop reads it: a table for each bike, what fits first, and how far each may grow."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import listed
from portloom.comparing.buying import to_buy
from portloom.comparing.ranking import called
from portloom.comparing.row import CurrentRoom, Fit, LaterRoom, NoFit, Row, ThinMargin
from portloom.comparing.tables import AcrossBikes, BikeTable, Compared, Comparison, PairsTried, together
from portloom.documents.assumed import CAUTIONS
from portloom.report.text.buying import what_to_buy
from portloom.report.text.layout import Page, TableColumn, amperes, metres, write_cautions, write_first


def verdict(table: BikeTable) -> str:
    """Say how many fit: of single units, then of two instead of one."""
    rows = [one.row for one in table.rows]
    of_two = [row for row in rows if row.of_two]
    alone = [row for row in rows if not row.of_two]
    said = _of_one(alone[0]) if len(alone) == 1 else _of_several(alone, "unit")
    if not of_two:
        return said
    return f"{said}; with two units instead of one, {_of_several(of_two, 'pair')}"


def _of_several(rows: Sequence[Row], what: str) -> str:
    """Say how many fit; that none does only where it is proved for each."""
    fit = sum(row.fit is not None for row in rows)
    refused = sum(isinstance(row.answer, NoFit) for row in rows)
    not_known = len(rows) - fit - refused
    rest = f", {not_known} not known: the time limit was reached" if not_known else ""
    tried = f"{len(rows)} {what}{'' if len(rows) == 1 else 's'}"
    if not fit:
        none = f"NO {what.upper()} FITS, proved for each"
        return f"none of {tried} is known to fit{rest}" if not_known else none
    return f"{fit} of {tried} {'fits' if fit == 1 else 'fit'}{rest}"


def _of_one(row: Row) -> str:
    if row.fit is not None:
        return f"FITS the {row.unit}"
    if isinstance(row.answer, NoFit):
        return f"DOES NOT FIT the {row.unit}, proved"
    return f"UNKNOWN whether it fits the {row.unit}: the time limit was reached"


def write_of_two(of_two: PairsTried, bikes: Sequence[BikeTable], page: Page) -> None:
    """Write which units were put together, which were not and how to ask for them."""
    page.line("")
    page.line(f"Two units instead of one: {_tried(of_two)}{_left_out(of_two)}")
    if any(one.row.headroom for table in bikes for one in table.rows):
        page.line("Headroom is given for single units only.")


def _tried(of_two: PairsTried) -> str:
    if not of_two.units:
        return "none was tried."
    if len(of_two.units) == 1:
        return f"two {of_two.units[0]} were tried."
    return f"each pair of {listed(of_two.units)}, and two of the same."


def _left_out(of_two: PairsTried) -> str:
    if not of_two.do_alone:
        return ""
    are = "is" if len(of_two.do_alone) == 1 else "are"
    return f" {listed(of_two.do_alone)} {are} enough alone; name units with --unit to pair these as well."


FITTING: tuple[TableColumn, ...] = (
    ("unit", "left"), ("price", "right"), ("place", "left"), ("wire and spare ports", "right"), ("wire run", "right"),
    ("copper", "right"), ("ports left", "left"), ("room for", "left"), ("feed", "right"), ("thin", "right"),
)  # fmt: skip
REASONS: tuple[TableColumn, ...] = (("unit", "left"), ("price", "right"), ("why not", "left"))
TOGETHER: tuple[TableColumn, ...] = (
    ("unit", "left"), ("price", "right"), ("fits", "left"), ("wire and spare ports", "right"), ("wire run", "right"),
)  # fmt: skip
LEGEND = (
    "Price: as the units' files have it, in one currency; those of the bundled units are made up. Wire and spare "
    "ports: what a plan comes to, its wire and the worth of the spare ports that it uses up, as so much wire; it "
    "compares plans, and is no money. Ports left: outputs + inputs with nothing on them yet. Room for: the later loads "
    "that these outputs could take. Feed: the worst case, out of the unit's limit."
)
BEATEN, NOT_PROVED = "*", "?"
"""Marks a unit that another beats in every respect, and one whose plan is not proved the best."""


def write_comparison(comparison: Comparison, files: Sequence[str], page: Page) -> None:
    """Write the table of each bike, then what holds for all of them; ``files`` are the bikes', in their order."""
    warnings = [f"{table.bike}: {line}" for table in comparison.bikes for line in table.first]
    aside = [(f"{rule} ({table.bike})", why) for table in comparison.bikes for rule, why in table.set_aside]
    rules = [rule for table in comparison.bikes for rule, _ in table.set_aside]
    page.line(what_to_buy(to_buy(comparison), rules), "bold")
    page.line("")
    write_first(warnings, aside, page)
    names = [table.bike for table in comparison.bikes]
    for number, (table, file) in enumerate(zip(comparison.bikes, files, strict=True)):
        if number:
            page.line("")
        _bike(table, f"{table.bike} ({file})" if names.count(table.bike) > 1 else table.bike, comparison.by, page)
    if len(comparison.bikes) > 1:
        _together(comparison, page)
    if comparison.of_two is not None:
        write_of_two(comparison.of_two, comparison.bikes, page)
    if any(one.row.fit for table in comparison.bikes for one in table.rows):
        page.line("")
        page.line(LEGEND)
    write_cautions(CAUTIONS, page)


# --- one bike


def _bike(table: BikeTable, name: str, by: str, page: Page) -> None:
    fitting = [(one, one.row.fit) for one in table.rows if one.row.fit]
    others = [one.row for one in table.rows if not one.row.fit]
    ranked = f" Ranked by {called(by)}." if len(fitting) > 1 else ""
    page.line(f"{name}: {verdict(table)}.{ranked}", "bold")
    if fitting:
        page.line("")
        page.table(FITTING, [_fitting(one, fit) for one, fit in fitting])
        page.items(list(_behind(fitting)))
    if others:
        page.line("")
        page.table(REASONS, [[row.unit, _price(row.price), _why_not(row)] for row in others])
    if table.no_two:
        page.line("")
        page.line(f"No two units instead of one: {table.no_two}.")
    write_headroom([one.row for one, _ in fitting], page)


def _fitting(one: Compared, fit: Fit) -> list[str]:
    marks = [mark for mark, marked in ((BEATEN, one.beaten_by), (NOT_PROVED, not fit.proven)) if marked]
    return [
        " ".join((one.row.unit, *marks)),
        _price(one.row.price),
        listed(tuple(unit.seat for unit in fit.units)),
        metres(fit.cost),
        metres(fit.wire_run),
        f"{-(-fit.copper_mg // 1000)} g",
        f"{fit.free_outputs}+{fit.free_inputs}",
        _room(fit),
        ",\n".join(f"{amperes(unit.worst).removesuffix(' A')} of {amperes(unit.limit)}" for unit in fit.units),
        str(len(fit.thin)) if fit.thin else "-",
    ]


def _price(price: str | None) -> str:
    return "-" if price is None else price


def _room(fit: Fit) -> str:
    if not fit.room_for:
        return "none" if fit.no_room_for else "-"
    return listed(fit.room_for) if fit.no_room_for else "all"


def _behind(fitting: Sequence[tuple[Compared, Fit]]) -> Iterator[str]:
    """Return what the marks and the last column stand for."""
    thin = [f"{one.row.unit}: {', '.join(_thin(margin) for margin in fit.thin)}" for one, fit in fitting if fit.thin]
    if thin:
        yield f"thin, less than 10 % left: {'; '.join(thin)}"
    beaten = [f"{one.row.unit} by {listed(one.beaten_by)}" for one, _ in fitting if one.beaten_by]
    if beaten:
        yield f"{BEATEN} beaten in every respect: {'; '.join(beaten)}"
    if not all(fit.proven for _, fit in fitting):
        yield f"{NOT_PROVED} the best found, not proved the best"


def _thin(margin: ThinMargin) -> str:
    return f"{listed(margin.subject.split(', '))} {margin.used // 10} % (rule {margin.rule})"


def _why_not(row: Row) -> str:
    return row.answer.reason.said if isinstance(row.answer, NoFit) else "not known: the time limit was reached"


# --- all bikes


def _together(comparison: Comparison, page: Page) -> None:
    every = comparison.fit_every_bike
    bikes = len(comparison.bikes)
    page.heading(f"All {bikes} bikes: {listed(every) if every else 'no unit'} {_fits(every)} every one of them.")
    page.line("")
    page.table(TOGETHER, [_one_unit(one, bikes) for one in together(comparison)])


def _fits(units: Sequence[str]) -> str:
    return "fit" if len(units) > 1 else "fits"


def _one_unit(one: AcrossBikes, bikes: int) -> list[str]:
    cost = "-" if one.cost is None else metres(one.cost)
    wire_run = "-" if one.wire_run is None else metres(one.wire_run)
    return [one.unit, _price(one.price), f"{one.fits} of {bikes}", cost, wire_run]


HEADROOM: tuple[TableColumn, ...] = (
    ("unit", "left"), ("later loads, in order", "left"), ("current", "right"), ("worst case", "right"),
    ("why no more", "left"),
)  # fmt: skip


def write_headroom(rows: Sequence[Row], page: Page) -> None:
    """Write what may be added before a unit no longer fits; nothing where it was not asked for."""
    grown = [(row, row.headroom) for row in rows if row.headroom is not None]
    if not grown:
        return
    page.heading("Headroom: how much more fits, as later loads or as more current in everything on the unit")
    page.table(
        HEADROOM,
        [
            [row.unit, _later(room.later), f"x {_times(room.current)}", amperes(room.current.total), _why(room.current)]
            for row, room in grown
        ],
    )


def _times(room: CurrentRoom) -> str:
    return f"{room.percent // 100}.{room.percent % 100 // 10}"


def _later(room: LaterRoom) -> str:
    """Say which fit, and which does not any more."""
    fit = listed(room.fit) if room.fit else ""
    if room.next is None:
        return f"all: {fit}" if fit else "none are listed"
    end = f"not {room.next}" if room.end == "no plan" else f"{room.next} not proved"
    return f"{fit}; {end}" if fit else end


def _why(room: CurrentRoom) -> str:
    if room.end == "all":
        return "nothing more was tried"
    if room.end == "not proved":
        return "not proved: the time limit was reached"
    return room.reason.sentence if room.reason is not None else "no plan, proved"
