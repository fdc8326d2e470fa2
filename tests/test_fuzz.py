"""Cases that once ended wrongly end as they should, and so do some new ones; ``python -m tests.fuzz`` tries more."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from fuzz.cases import Case, cases
from fuzz.corpus import kept
from fuzz.tried import faults


@pytest.mark.parametrize("case", kept(), ids=lambda case: " ".join(case.call)[:40].encode("ascii", "replace").decode())
def test_what_once_ended_wrongly_ends_as_it_should(case: Case, tmp_path: Path) -> None:
    """The smallest of each, as hypothesis or a user found it."""
    assert faults(case, tmp_path / "case", twice=True) == []


@settings(max_examples=60, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(cases())
def test_no_case_ends_wrongly(tmp_path_factory: pytest.TempPathFactory, case: Case) -> None:
    """The same few every time."""
    assert faults(case, tmp_path_factory.getbasetemp() / "case", twice=False) == []
