"""The lists of a plan as plain texts, each a sheet that stands alone."""

from collections.abc import Callable
from io import StringIO

from rich.console import Console

from solver.plans.cautions import CAUTIONS
from solver.sheets.always import write_cautions, write_set_aside
from solver.sheets.cut_list import write_cut_list
from solver.sheets.layout import WIDTH, Page, TextPage
from solver.sheets.parts_list import write_parts_list
from solver.sheets.settings import write_settings
from solver.sheets.wiring_list import write_connector_views, write_wiring_list
from solver.wiring.lists import Lists

Write = Callable[[Lists, Page], None]
SHEETS: dict[str, tuple[str, Write]] = {
    "wiring-list.txt": ("wiring list", write_wiring_list),
    "cut-list.txt": ("cut list", write_cut_list),
    "parts-list.txt": ("parts list", write_parts_list),
    "settings.txt": ("setting sheet", write_settings),
    "connectors.txt": ("connectors", write_connector_views),
}


def sheet_texts(lists: Lists) -> dict[str, str]:
    """Return the text of each sheet by its file's name, no line wider than 100 columns."""
    return {name: _sheet(lists, title, write) for name, (title, write) in SHEETS.items()}


def _sheet(lists: Lists, title: str, write: Write) -> str:
    text = StringIO()
    page = TextPage(Console(file=text, width=WIDTH, highlight=False, no_color=True, force_terminal=False))
    write_set_aside(lists.set_aside, page)
    page.line(f"{lists.bike} on the {lists.unit}: {title}")
    write(lists, page)
    write_cautions(CAUTIONS, page)
    return text.getvalue()
