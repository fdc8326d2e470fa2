"""The parts list as people read it, group by group, and what comes out of the bike."""

from solver.sheets.layout import Column, Page
from solver.wiring.lists import Lists
from solver.wiring.part import BASIS, Group, Part
from solver.words.figures import capital, plain

PARTS: tuple[Column, ...] = (("what", "left"), ("size", "left"), ("how many", "right"), ("where", "left"))
NOTED: tuple[Column, ...] = (*PARTS, ("note", "left"))
OUT: tuple[Column, ...] = (("what", "left"), ("why", "left"))


def write_parts_list(lists: Lists, page: Page) -> None:
    """Write the parts by their groups, below each what it rests on, and what comes out of the bike."""
    for group in dict.fromkeys(part.group for part in lists.parts):
        _group(group, [part for part in lists.parts if part.group == group], page)
    page.heading("What comes out of the bike, where it has it")
    page.table(OUT, [[one.what, one.why] for one in lists.removed])


def _group(group: Group, parts: list[Part], page: Page) -> None:
    page.heading(capital(group))
    if any(part.note for part in parts):
        page.table(NOTED, [[*_part(part), part.note or "-"] for part in parts])
    else:
        page.table(PARTS, [_part(part) for part in parts])
    if group in BASIS:
        page.line(f"  {capital(BASIS[group])}.")


def _part(part: Part) -> list[str]:
    quantity = f"{part.quantity:.3f} m" if part.measure == "m" else plain(part.quantity)
    return [part.what, part.size or "-", quantity, part.where or "-"]
