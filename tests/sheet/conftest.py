"""The sheets of three examples, the largest in the long part."""

import pytest

from slices import later

from .entries import ROOT
from .figures import Sheet
from .printed import PLANNED, Portloom, sheet_of


@pytest.fixture(
    scope="session", params=[*PLANNED[:2], *later([(pair,) for pair in PLANNED[2:]])], ids=lambda pair: pair[0]
)
def sheet(request: pytest.FixtureRequest, portloom: Portloom) -> Sheet:
    """Return an example's plan on a unit, printed once, as a sheet."""
    bike, unit = request.param
    return sheet_of(portloom, ROOT / f"examples/{bike}.yaml", unit)
