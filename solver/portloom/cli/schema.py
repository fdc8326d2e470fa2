"""``portloom schema``: the JSON Schema of a bike's file or a unit's, on stdout or in a new file."""

import json
from pathlib import Path
from typing import Literal

from portloom.cli.screen import note, on_stdout, write_json
from portloom.cli.written import check_new, write_new_file
from portloom.inputs.schema import bike_schema, unit_schema


def run(what: Literal["bike", "unit"], out: Path | None) -> None:
    """Write the schema; raise BadFile where what it would overwrite is there, or its folder is not."""
    document = bike_schema() if what == "bike" else unit_schema()
    if out is None:
        with on_stdout():
            write_json(document)
        return
    check_new("schema", "--out", out)
    write_new_file(out, json.dumps(document, indent=2) + "\n")
    note(f"the schema of a {what}'s file is written to {out}")
