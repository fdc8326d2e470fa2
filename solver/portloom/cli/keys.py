"""``portloom keys``: every key of a bike's file or a unit's, or all about one."""

from collections.abc import Sequence
from itertools import groupby

from portloom.base.assumptions import TABLE
from portloom.base.nearest import suggest_key
from portloom.cli.screen import page, usage_error
from portloom.inputs.key_table import File, KeyRow, key_rows
from portloom.report.text.layout import Page, TableColumn

COLUMNS: tuple[TableColumn, ...] = (
    ("key", "left"), ("what it says", "left"), ("unit or words", "left"), ("default", "left"),
)  # fmt: skip
DEFAULTS: tuple[TableColumn, ...] = (("name", "left"), ("value", "left"), ("where it comes from", "left"))
TITLES: dict[File, str] = {"bike": "A bike's file", "unit": "A unit's file"}
OF_DEFAULTS = "assume"


def list_keys(file: File, key: str | None) -> None:
    """Write every key of a file, or those of one name; raise BadFile for a key that the file does not have."""
    rows = key_rows(file)
    wanted = rows if key is None else _asked(file, key, rows)
    sheet = page()
    for (entry, like), group in groupby(wanted, key=lambda row: (row.entry, row.like)):
        sheet.heading(_title(file, entry))
        if like:
            sheet.line(f"  Every key under {like}, and:")
        sheet.table(COLUMNS, [[row.key, row.says, row.takes, row.default] for row in group])
    if file == "bike" and key == OF_DEFAULTS:
        _write_defaults(sheet)


def _asked(file: File, key: str, rows: Sequence[KeyRow]) -> list[KeyRow]:
    """Return the keys that are called so, and those of the entries that they hold."""
    named = [row for row in rows if row.key == key]
    if not named:
        right = suggest_key(key, dict.fromkeys(row.key for row in rows))
        raise usage_error("keys", f"a {file}'s file has no key '{key}'", right)
    inside = [row.leads_to for row in named if row.leads_to]
    return [row for row in rows if row in named or row.entry in inside]


def _title(file: File, entry: tuple[str, ...]) -> str:
    return TITLES[file] if not entry else f"{TITLES[file]}, under {': '.join(entry)}"


def _write_defaults(sheet: Page) -> None:
    sheet.heading("What it may name")
    sheet.table(DEFAULTS, [[default.name, default.value, default.source] for default in TABLE])
