"""The README tells the truth: every command in it is run, every output in it is the one that comes.

So is every one in `golden/answers.md`, which has an answer of every command and option.

A console block holds one command and what it prints. A comment before it may cut that down to the lines
from one beginning to another ('from: ...; until: ...') and name its exit code ('exit: ...'), or leave it
to the long part ('part: long'). ``--rewrite`` writes all outputs that are run anew; ``-m ''`` with it runs all.
"""

import re
import shlex
import shutil
import subprocess
from collections.abc import Callable
from itertools import dropwhile, takewhile
from pathlib import Path

import pytest

import unix
from calls import ROOT, Portloom, Ran
from portloom.cli.help import topic_text, topics
from portloom.documents.assumed import CAUTIONS

README, ANSWERS = ROOT / "README.md", ROOT / "tests/golden/answers.md"
BLOCK = re.compile(r"(?:<!-- (?P<cut>[^\n]*) -->\n)?```(?P<kind>\w+)\n(?P<body>.*?)```\n", re.DOTALL)
MARK = "..."
Shell = Callable[[Path, str], Ran]
"""Runs a command in a folder."""
SET_UP = (
    "python3 -m venv .venv && .venv/bin/pip install -q . && "
    ".venv/bin/portloom plan examples/harbour-trail.yaml --unit eleven-way\n"
)
LONGEST = 350
"""Lines, with outputs and all."""
SET_UP_TO_TEST = "python3 -m venv .venv && .venv/bin/pip install -q '.[test]' && .venv/bin/pytest -q\n"


def _blocks(kind: str, file: Path = README) -> list[str]:
    return [found["body"] for found in BLOCK.finditer(file.read_text("utf-8")) if found["kind"] == kind]


def _cuts(comment: str | None) -> dict[str, str]:
    """Take the comment before a block; give what it says about exit code, first and last line."""
    return dict(part.split(": ", 1) for part in (comment or "").split("; ") if part)


def _cut(text: str, cuts: dict[str, str]) -> str:
    """Return the lines that a block shows, with a mark where others are left out."""
    lines = text.splitlines()
    shown = list(dropwhile(lambda line: not line.startswith(cuts.get("from", "")), lines))
    shown = list(takewhile(lambda line: "until" not in cuts or not line.startswith(cuts["until"]), shown))
    assert shown or not lines, f"nothing is left of the output by {cuts}"
    while shown and not shown[-1]:
        shown.pop()
    before, after = [MARK] * ("from" in cuts), [MARK] * ("until" in cuts)
    return "".join(f"{line}\n" for line in (*before, *shown, *after))


def _run(folder: Path, command: str, shell: Shell, exit_code: str) -> str:
    """Run a command of the README as a shell does; give what it prints, on stdout or for a wrong call on stderr."""
    ran = shell(folder, command)
    assert str(ran.returncode) == exit_code, command + "\n" + ran.stderr
    return ran.stdout + ran.stderr


@pytest.fixture
def shell(portloom: Portloom, environment: dict[str, str]) -> Shell:
    """Return what runs a command in a folder; where nothing is piped, by the command that is loaded already."""

    def run(folder: Path, command: str) -> Ran:
        program, *words = shlex.split(command)
        if program == "portloom" and "|" not in words:
            return portloom(*words, folder=folder)
        return subprocess.run(
            ["sh", "-c", command], cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False
        )

    return run


@unix.shell
@pytest.mark.parametrize(
    ("file", "parts"),
    [
        pytest.param(README, ("",), id="README.md"),
        pytest.param(ANSWERS, ("",), id="answers.md", marks=pytest.mark.long),
        pytest.param(ANSWERS, ("", "long"), id="all of answers.md", marks=pytest.mark.long),
    ],
)
def test_outputs(file: Path, parts: tuple[str, ...], tmp_path: Path, shell: Shell, *, rewrite: bool) -> None:
    """Each command, run in the file's order in a folder with the examples, prints what the file shows."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")

    def anew(block: re.Match[str]) -> str:
        cuts = _cuts(block["cut"])
        if block["kind"] != "console" or cuts.get("part", "") not in parts:
            return block[0]
        command = block["body"].splitlines()[0]
        output = _run(tmp_path, command.removeprefix("$ "), shell, cuts.get("exit", "0"))
        comment = f"<!-- {block['cut']} -->\n" if block["cut"] else ""
        return f"{comment}```console\n{command}\n{_cut(output, cuts)}```\n"

    text = file.read_text("utf-8")
    right = BLOCK.sub(anew, text)
    if rewrite:
        file.write_text(right, "utf-8")
        text = right
    assert text.splitlines() == right.splitlines()


def test_its_pictures_are_those_of_its_sheets(portloom: Portloom, tmp_path: Path, *, rewrite: bool) -> None:
    """The pictures that it shows are what its command for sheets writes; ``--rewrite`` writes them anew."""
    command = next(body.splitlines()[0] for body in _blocks("console") if " sheets " in body)
    _, program, *words = shlex.split(command)
    assert program == "portloom"
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    assert portloom(*words, folder=tmp_path).returncode == 0
    shown = [ROOT / link for link in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README.read_text("utf-8"))]
    assert len(shown) == 2
    for picture in shown:
        drawn = (tmp_path / words[-1] / picture.name).read_bytes()
        if rewrite:
            picture.write_bytes(drawn)
        assert picture.read_bytes() == drawn


def test_every_block_is_tested() -> None:
    """There is no block but set-up commands, and commands with their outputs that start with the program."""
    text = README.read_text("utf-8")
    assert text.count("```") == 2 * len(BLOCK.findall(text))
    assert {found["kind"] for found in BLOCK.finditer(text)} == {"sh", "bat", "console"}
    assert all(body.startswith("$ portloom ") for body in _blocks("console"))


def test_it_is_short() -> None:
    """A first reader gets through it; what it leaves out is told by the topics."""
    assert len(README.read_text("utf-8").splitlines()) <= LONGEST


def test_its_contents_are_its_headings() -> None:
    """The list at the top leads to each heading, in their order."""
    text = README.read_text("utf-8")
    headings = re.findall(r"^## (.*)$", text, re.MULTILINE)
    anchors = [re.sub(r"[^a-z -]", "", heading.lower()).replace(" ", "-") for heading in headings]
    assert re.findall(r"^- \[(.*)\]\(#(.*?)\)", text, re.MULTILINE) == list(zip(headings, anchors, strict=True))


def test_what_it_links_to_is_there() -> None:
    """Each picture and each file that it leads to lies where it says."""
    links = re.findall(r"\]\(([^)#]+)[)#]", README.read_text("utf-8"))
    assert len(links) > 2
    assert [link for link in links if not (ROOT / link).is_file()] == []


def test_every_command_and_option_is_told(portloom: Portloom) -> None:
    """Each command has an answer that is compared word for word, and the README or a topic tells of each option."""
    shown = {body.split()[2] for file in (README, ANSWERS) for body in _blocks("console", file)}
    commands = portloom("--help").stdout.rpartition("Commands:\n")[2].splitlines()
    known = {line.split()[0] for line in commands if re.match(r"  \w", line)}
    told = set(re.findall(r"^  ([a-z]+) {2,}", topic_text("commands"), re.MULTILINE))
    assert shown - {"--version"} <= known == told
    assert known - shown <= {"keys", "glossary", "completion"}
    everything = README.read_text("utf-8") + "".join(map(topic_text, topics()))
    helps = "".join(portloom(command, "--help").stdout for command in sorted(known - {"help"}))
    options = set(re.findall(r"--[a-z-]+", helps)) - {"--help"}
    assert len(options) >= 20
    assert sorted(option for option in options if option not in everything) == []


def test_set_up_commands() -> None:
    """The two set-up commands are these, word for word; on Windows they differ in how paths and Python are called."""
    assert _blocks("sh") == [SET_UP, SET_UP_TO_TEST]
    assert _blocks("bat") == [_for_windows(SET_UP), _for_windows(SET_UP_TO_TEST)]


def _for_windows(command: str) -> str:
    return command.replace("python3 ", "py ").replace(".venv/bin/", ".venv\\Scripts\\").replace("'", '"')


def test_end_of_the_first_set_up_command(portloom: Portloom) -> None:
    """The last part of the first set-up command plans the example.

    It is run with the program as installed here, not with one that the command's first parts install: these
    need a package registry. That a wheel installs and runs on its own is tested in ``test_wheel.py``.
    """
    program, *words = SET_UP.rpartition(" && ")[2].split()
    assert program == ".venv/bin/portloom"
    ran = portloom(*words)
    assert ran.returncode == 0
    assert "FITS, proven best" in ran.stdout


def test_the_second_set_up_command_is_what_is_run_on_every_change() -> None:
    """The README's own command for the tests is the one that ``.ci/run`` runs; no test can run it from inside."""
    assert SET_UP_TO_TEST in (ROOT / ".ci" / "run").read_text("utf-8")


def test_cautions_are_the_programs() -> None:
    """The cautions that stand on every plan stand in the README, word for word."""
    text = " ".join(README.read_text("utf-8").split())
    assert [caution for caution in CAUTIONS if f"- {caution}" not in text] == []
