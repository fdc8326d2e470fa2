"""Ctrl-C ends the command with 130 and one word, whatever it is doing; the bike is made up, and large."""

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from bench.big_bikes import big_bike

AT = (
    "import os, signal, sys, threading; sys.argv[:] = ['portloom', *sys.argv[1:]]; from portloom.cli.main import main; "
)
WHILE_LOADING = """
import builtins
plain = builtins.__import__
def heard(name, *rest, **more):
    if name == 'ortools.sat.python':
        os.kill(os.getpid(), signal.SIGINT)
    return plain(name, *rest, **more)
builtins.__import__ = heard
main()
"""
WHILE_SOLVING = """
from ortools.sat.python import cp_model
plain = cp_model.CpSolver.solve
def heard(*words, **more):
    cp_model.CpSolver.solve = plain
    threading.Timer(0.02, os.kill, (os.getpid(), signal.SIGINT)).start()
    return plain(*words, **more)
cp_model.CpSolver.solve = heard
main()
"""


def answered(bike: dict[str, Any]) -> dict[str, Any]:
    """Return a large bike that leaves no question open."""
    heated = [load for load in bike["loads"] if load.get("kind") == "heater" or load["mode"] == "dim"]
    for load in heated:
        load["own_switch"] = load["at"]
    for switch in bike["inputs"]:
        if switch.get("tells") == "engine turning":
            switch["from"] = "tacho"
    return {**bike, "ignition": "own", "stand": "none", "engine_stop": "key"}


@pytest.mark.parametrize("moment", [WHILE_LOADING, WHILE_SOLVING], ids=["while loading", "while solving"])
def test_interrupted(tmp_path: Path, moment: str) -> None:
    """Interrupted while the solver loads or solves, it says so, and shows no plan and no fault of the solver."""
    bike, unit = big_bike(3)
    for name, entry in (("bike", answered(bike)), ("unit", unit)):
        (tmp_path / f"{name}.yaml").write_text(yaml.safe_dump(entry, sort_keys=False), "utf-8")
    ran = subprocess.run(
        [sys.executable, "-c", AT + moment, "plan", "bike.yaml", "--unit", "unit.yaml"],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, "", "interrupted\n")
