"""What a file of somebody else's can make the program do: nothing but plan. Python's audit events tell what is done.

Source: the table of audit events in the documentation of Python's library.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from calls import changed, small_job

WATCHED = """
import atexit, json, sys
from pathlib import Path
done = []
def heard(event, words):
    if event == "open":
        done.append([event, str(words[0]), str(words[1])])
    elif event.startswith(("socket.", "subprocess.", "os.exec", "os.posix_spawn", "os.spawn", "os.system", "urllib.")):
        done.append([event, str(words), ""])
atexit.register(lambda: Path("done.json").write_text(json.dumps(list(done))))
sys.addaudithook(heard)
sys.argv[0] = "portloom"
from portloom.cli.main import main
main()
"""
WITHIN = {"socket.__new__"}
"""A pair of sockets within the machine, by which processes talk: nothing is connected, bound or sent by an address."""


def _renamed(file: Path, name: str) -> None:
    """Write another name of the bike or the unit into its file."""
    key = f"{file.stem}: "
    (line,) = (line for line in file.read_text("utf-8").splitlines() if line.startswith(key))
    changed(file, (line, key + name))


@pytest.mark.parametrize(
    "words",
    [("plan",), ("plan", "--json"), ("why",), ("sheets", "--out", "sheets"), ("compare", "--csv", "rows.csv")],
    ids=" ".join,
)
def test_nothing_is_run_or_asked_or_opened(tmp_path: Path, words: tuple[str, ...]) -> None:
    """Names that look like paths, links and commands are names."""
    small_job(tmp_path)
    (tmp_path / "own-letter.txt").write_text("mine")
    for name in ("bike.yaml", "unit.yaml"):
        hostile = f"{tmp_path}/own-letter.txt; $(touch ran) `touch ran` http://127.0.0.1:9/"
        _renamed(tmp_path / name, repr(hostile))
    command, *options = words
    call = [sys.executable, "-c", WATCHED, command, "bike.yaml", "--unit", "unit.yaml", *options]
    ran = subprocess.run(call, cwd=tmp_path, capture_output=True, encoding="utf-8", check=False)
    assert (ran.returncode, "own-letter.txt" in ran.stdout + ran.stderr) == (0, command != "sheets")
    done = json.loads((tmp_path / "done.json").read_text())
    assert [event for event, *_ in done if event != "open" and event not in WITHIN] == []
    opened = {name: mode for event, name, mode in done if event == "open"}
    assert any(name.endswith("bike.yaml") for name in opened)
    assert [name for name in opened if "own-letter" in Path(name).name] == []
    within = {path.name for path in tmp_path.iterdir()} - {"done.json", "bike.yaml", "unit.yaml", "own-letter.txt"}
    named = {word for word in options if not word.startswith("--")}
    assert within == named | {f"{name}.resume" for name in named if name.endswith(".csv")}


@pytest.mark.parametrize(
    "tag", ["!!python/object/apply:os.system [touch ran]", "!!python/name:os.system", "!include own-letter.txt"]
)
def test_no_tag_makes_anything(tmp_path: Path, tag: str) -> None:
    """YAML tags that other readers make objects or other files of are refused with their line."""
    small_job(tmp_path)
    _renamed(tmp_path / "bike.yaml", tag)
    call = [sys.executable, "-m", "portloom.cli", "plan", "bike.yaml", "--unit", "unit.yaml"]
    ran = subprocess.run(call, cwd=tmp_path, capture_output=True, encoding="utf-8", check=False)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("bike.yaml:2:")
    assert not (tmp_path / "ran").exists()
