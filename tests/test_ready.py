"""The command that most tests call is loaded once and forked; here it is held against the installed one."""

from pathlib import Path

import pytest

from calls import HARBOUR, NO_PLACE, Call, Portloom
from slices import later

CALLS: tuple[Call, ...] = (
    HARBOUR,
    (*HARBOUR, "--json"),
    (*NO_PLACE, "--time-limit", "0"),
    ("why", "tests/data/reasons/no-output-dims.yaml", "--unit", "six-way"),
    ("check", "--help"),
    ("units",),
    ("rules",),
    ("new", "bike"),
    ("schema", "unit"),
    ("plan", "nowhere.yaml", "--unit", "six-way"),
    ("plan", "--no-such-word"),
    (),
)


@pytest.mark.parametrize("call", [*CALLS[:4], *later([(call,) for call in CALLS[4:]])], ids=" ".join)
def test_the_same_as_the_installed_command(portloom: Portloom, installed: Portloom, call: Call) -> None:
    """Exit code, stdout and stderr are the same to the letter."""
    ready, real = portloom(*call), installed(*call)
    assert (ready.returncode, ready.stdout, ready.stderr) == (real.returncode, real.stdout, real.stderr)


def test_one_call_leaves_nothing_to_the_next(portloom: Portloom, tmp_path: Path) -> None:
    """A call that fails, in another folder, changes nothing for the next one."""
    right = portloom("rules")
    assert portloom("plan", "bike.yaml", "--unit", "six-way", folder=tmp_path).returncode == 2
    assert portloom("rules", folder=tmp_path).stdout == right.stdout
