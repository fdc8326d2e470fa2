"""What three printed plans have decided is allowed: by the sums of the sheet, which knows nothing of the program.

The bikes and units are made up.
"""

import pytest

from .decisions import DECISIONS, Check
from .figures import Sheet


@pytest.mark.parametrize("check", DECISIONS, ids=lambda check: check.__name__)
def test_a_decision(sheet: Sheet, check: Check) -> None:
    """Each check finds nothing wrong."""
    assert [*check(sheet)] == []
