"""Ctrl-C and SIGTERM end the command with one word, whatever it is doing; the bike is made up, and large.

Source of the exit codes: POSIX.1-2017, Shell & Utilities 2.8.2, a status above 128; that it is 128 and the number of
a signal is common practice of shells.
"""

import subprocess
import sys
from pathlib import Path
from signal import SIGINT, SIGTERM, Signals
from typing import Any

import pytest
import yaml

import unix
from bench.big_bikes import big_bike

AT = """
import os, signal, sys, threading
sys.argv[:] = ['portloom', *sys.argv[1:]]
from portloom.cli.start import main
"""
"""The command before its start; what follows says at which moment it is sent what is wanted."""
WHILE_LOADING = """
import builtins
plain = builtins.__import__
def heard(name, *rest, **more):
    if name == at:
        os.kill(os.getpid(), wanted)
    return plain(name, *rest, **more)
builtins.__import__ = heard
main()
"""
WHILE_SOLVING = """
from portloom.search.cp_sat import CpSatRun
plain = CpSatRun.solve
def heard(*words, **more):
    CpSatRun.solve = plain
    threading.Timer(0.02, os.kill, (os.getpid(), wanted)).start()
    return plain(*words, **more)
CpSatRun.solve = heard
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


MOMENTS = {
    f"while loading {name}": f"at = '{name}'{WHILE_LOADING}" for name in ("typer", "pydantic", "ortools.sat.python")
}
MOMENTS |= {"while solving": WHILE_SOLVING}


@unix.signals
@pytest.mark.parametrize(("number", "code", "said"), [(SIGINT, 130, "interrupted\n"), (SIGTERM, 143, "terminated\n")])
@pytest.mark.parametrize("moment", MOMENTS)
def test_interrupted(tmp_path: Path, moment: str, number: Signals, code: int, said: str) -> None:
    """Ended while something loads or solves, it says so, and shows no plan, no traceback and no fault of the solver."""
    bike, unit = big_bike(3)
    for name, entry in (("bike", answered(bike)), ("unit", unit)):
        (tmp_path / f"{name}.yaml").write_text(yaml.safe_dump(entry, sort_keys=False), "utf-8")
    ran = subprocess.run(
        [
            sys.executable,
            "-c",
            f"{AT}wanted = {int(number)}\n{MOMENTS[moment]}",
            "plan",
            "bike.yaml",
            "--unit",
            "unit.yaml",
        ],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (code, "", said)
