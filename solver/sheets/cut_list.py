"""The cut list as people read it: reel by reel, in the order in which it is cut."""

from decimal import ROUND_HALF_UP, Decimal

from solver.sheets.amounts import metres
from solver.sheets.layout import Column, Page
from solver.wiring.csv_files import colour_code
from solver.wiring.cut_list import Reel
from solver.wiring.lists import Lists
from solver.words.figures import counted
from solver.words.quantities import Micrometres

CUTS: tuple[Column, ...] = (
    ("cut", "right"), ("no.", "right"), ("wire", "left"), ("from", "left"), ("to", "left"),
)  # fmt: skip
TOTALS: tuple[Column, ...] = (
    ("reel", "left"), ("pieces", "right"), ("run", "right"), ("cut", "right"), ("waste", "right"), ("copper", "right"),
)  # fmt: skip


def write_cut_list(lists: Lists, page: Page) -> None:
    """Write what is cut from each reel, longest first, and the totals."""
    for reel in lists.reels:
        page.heading(f"{reel_name(reel)}: {counted(len(reel.wires), 'piece')}, {metres(reel.cut)}")
        rows = [[metres(w.cut), str(w.number), w.key, w.start.told, w.end.told] for w in reel.wires]
        page.table(CUTS, rows)
    page.heading("Totals")
    page.table(TOTALS, [*(_total(reel) for reel in lists.reels), _all(lists)])
    page.line("  Waste: what is cut beyond the runs, for the bike's margin, both ends and whole millimetres.")
    page.line("  Short wires at splices, fuses and terminals count here; the plan's own copper leaves them out.")


def reel_name(reel: Reel) -> str:
    """Say size and colour: '1 mm2, BU/WH'."""
    return ", ".join(filter(None, (reel.size.label, colour_code(reel.colour))))


def _total(reel: Reel) -> list[str]:
    lengths = (metres(length) for length in (reel.run, reel.cut, reel.waste))
    return [reel_name(reel), str(len(reel.wires)), *lengths, grams(reel.copper)]


def _all(lists: Lists) -> list[str]:
    run, cut, waste = (
        metres(Micrometres(sum(lengths)))
        for lengths in zip(*((reel.run, reel.cut, reel.waste) for reel in lists.reels), strict=True)
    )
    copper = sum((reel.copper for reel in lists.reels), Decimal(0))
    return ["all", str(sum(len(reel.wires) for reel in lists.reels)), run, cut, waste, grams(copper)]


def grams(mass: Decimal) -> str:
    """Write a mass to a tenth of a gram."""
    return f"{mass.quantize(Decimal('0.1'), ROUND_HALF_UP)} g"
