"""DEVELOPERS.md tells the truth about the code: its rooms, its commands, and every place that a new rule touches."""

import ast
import re
import sys
import threading
import tomllib
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path
from types import FrameType

import portloom
from calls import ROOT
from portloom.cli.plan import PlanOptions, run
from portloom.job.goal import TERMS

TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
KIND = "total"
"""The kind of fact of the story's rule."""
PATH = re.compile(r"`((?:solver|tests|profiles|\.ci|README|pyproject)[\w./-]*)`")


def _section(title: str) -> str:
    return TEXT.partition(f"\n## {title}\n")[2].partition("\n## ")[0]


def test_every_path_is_there() -> None:
    """Each file and folder that it names exists."""
    named = set(PATH.findall(TEXT))
    assert len(named) > 20
    assert sorted(path for path in named if not (ROOT / path).exists()) == []
    files = [path.as_posix() for folder in ("solver", "tests") for path in (ROOT / folder).rglob("*.py")]
    short = set(re.findall(r"`((?!solver|tests)[\w/]+\.py)`", TEXT))
    assert len(short) > 10
    assert sorted(name for name in short if not any(file.endswith(f"/{name}") for file in files)) == []


def test_rooms() -> None:
    """The rooms are those of the import contract, from the top down, and all that the package holds."""
    listed = re.findall(r"^\| `solver/portloom/(\w+)` \|", _section("Rooms"), re.MULTILINE)
    layers = PROJECT["tool"]["importlinter"]["contracts"][0]["layers"]
    assert listed == [room for layer in layers for room in layer.split(" | ")]
    inside = {
        path.stem
        for path in (ROOT / "solver" / "portloom").iterdir()
        if path.suffix == ".py" or (path / "__init__.py").exists()
    }
    assert set(listed) == inside - {"__init__"}


def test_the_walk_is_the_way_of_a_plan() -> None:
    """A plan enters the files of the walk in the order of its stops."""
    stops = re.findall(r"^\d+\. `([\w./-]+)`", _section("From a bike's file to its plan, in ten stops"), re.MULTILINE)
    entered: dict[str, None] = {}

    def enter(frame: FrameType, event: str, _: object) -> None:
        if event == "call":
            entered.setdefault(frame.f_code.co_filename)

    written = StringIO()
    threading.setprofile(enter)
    sys.setprofile(enter)
    try:
        with redirect_stdout(written):
            run(ROOT / "examples" / "bare-single.yaml", ["six-way"], PlanOptions(), as_json=False)
    finally:
        sys.setprofile(None)
        threading.setprofile(None)
    assert "FITS" in written.getvalue()
    package = Path(portloom.__file__).parent
    files = [str(package / Path(stop).relative_to("solver/portloom")) for stop in stops]
    assert len(files) == 10
    assert [file for file in entered if file in files] == files


def _numbered(title: str) -> list[str]:
    """Return the files that the numbered list of a section begins its entries with."""
    return sorted(re.findall(r"^\d+\. `([\w./-]+)`", _section(title), re.MULTILINE))


def _naming(pattern: str, *others: Path) -> list[str]:
    """Return the files of the package, and of ``others``, that name a thing in text or by their own name."""
    files = (*(ROOT / "solver").rglob("*.py"), *others)
    return sorted(
        path.relative_to(ROOT).as_posix()
        for path in files
        if re.search(pattern, f"{path.stem}\n{path.read_text('utf-8', 'replace')}", re.IGNORECASE)
    )


def test_a_rules_places_are_all_listed() -> None:
    """Each file that knows the rule of the story, its module or its kind of fact is in the list, and no other.

    Of tests the list has the rule's trial; the section names each other one that knows it.
    """
    knowing = {path.relative_to(ROOT).as_posix() for path in _python() if _knows_rule(path)}
    assert _numbered("Add a rule") == sorted(
        path for path in knowing if path.startswith("solver/") or path == "tests/rule_trials.py"
    )
    assert sorted(knowing - set(PATH.findall(_section("Add a rule")))) == []


def _python() -> list[Path]:
    return [path for folder in ("solver", "tests") for path in (ROOT / folder).rglob("*.py")]


def _knows_rule(path: Path) -> bool:
    """Tell whether a module names the rule of the story by slug or module, or its kind of fact in a tuple or a set."""
    text = path.read_text("utf-8")
    if re.search("unit.total", f"{path.stem}\n{text}"):
        return True
    if not re.search(f"[\"']{KIND}[\"']", text):  # so it need not be taken apart, which takes long
        return False
    tuples = (node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Tuple | ast.Set | ast.Call))
    words = {
        word.value
        for node in tuples
        for word in (node.args if isinstance(node, ast.Call) else node.elts)
        if isinstance(word, ast.Constant)
    }
    return KIND in words


def test_a_keys_places_are_all_listed() -> None:
    """Each file that knows the key of the story is in the list, and no other."""
    assert _numbered("Add a key of the bike's file") == _naming(r"\bdim_to\b", *(ROOT / "tests" / "bad").glob("*.yaml"))


def test_a_parts_places_are_all_listed() -> None:
    """Each file that knows the part of the story is in the list, and no other."""
    assert _numbered("Add a part") == _naming(r"lambda.heater", ROOT / "tests" / "test_catalogue.py")


def test_the_table_of_terms_is_that_of_the_goal() -> None:
    """The guide has each term of the goal with its part and its sentence, in order."""
    rows = re.findall(
        r"^\| ([^|]+) \| (wire run|spare-port loss|legs in use) \| ([^|]+) \|$",
        _section("Add a term to the goal"),
        re.MULTILINE,
    )
    assert rows == [(term.name, term.part, term.sentence) for term in TERMS]


def test_a_terms_places_are_all_listed() -> None:
    """Each file that knows the term of the story is in the list, and no other."""
    assert _numbered("Add a term to the goal") == _naming("abilit", ROOT / "tests" / "test_goal.py")


def test_commands_are_those_of_the_checks() -> None:
    """The commands to check a change by hand are those that run on every change."""
    run = (ROOT / ".ci" / "run").read_text("utf-8")
    commands = re.findall(r"^\.venv/bin/(?!pip)\S.*$", _section("Set up and check"), re.MULTILINE)
    assert len(commands) == 5
    assert [command for command in commands if command not in run] == []


def test_what_changed_is_told_of_this_version() -> None:
    """The version of the project has its heading, and nothing stands above it but what is not released yet."""
    headings = re.findall(r"^### (.+)$", _section("What changed for users, version by version"), re.MULTILINE)
    released = [heading for heading in headings if heading != "Not released yet"]
    assert released[0] == PROJECT["project"]["version"]
    assert "Not released yet" not in headings[1:]
