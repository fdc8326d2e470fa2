"""Plans as they are printed for programs, made into sheets."""

import json
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

from ready import Ran

from .entries import ROOT
from .figures import Sheet
from .things import Bike, Unit
from .wires import Plan

Portloom = Callable[..., Ran]
PLANNED = (("harbour-trail", "eleven-way"), ("bare-single", "six-way"), ("dressed-tourer", "eleven-way"))


def sheet_of(portloom: Portloom, bike: Path, unit: str) -> Sheet:
    """Return the sheet of a bike's plan on a bundled unit."""
    ran = portloom("plan", str(bike), "--unit", unit, "--json")
    printed = json.loads(ran.stdout, parse_float=Decimal)
    profile = (ROOT / f"profiles/{unit}.yaml").read_text(encoding="utf-8")
    return Sheet(Plan(Bike(bike.read_text(encoding="utf-8")), [Unit(profile)], printed))
