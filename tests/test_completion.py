"""What the Tab key finishes: commands, options, files, bundled units, and names in the files on the line.

The script for bash is run in bash. Those for zsh and fish were tried by hand in zsh 5.9 and fish 3.6; the one for
PowerShell was not, for want of one.
"""

import shlex
import subprocess

import pytest
import typer
from typer.core import TyperGroup

import unix
from calls import ROOT, Portloom
from portloom.cli.commands import app
from portloom.cli.completing import candidates, split
from portloom.cli.completion import SHELLS

WHY = "portloom why examples/harbour-trail.yaml --unit eleven-way"


@pytest.fixture(autouse=True)
def _in_the_project(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


def next_words(line: str) -> list[str]:
    """Return what the last word may become."""
    group = typer.main.get_command(app)
    assert isinstance(group, TyperGroup)
    return [one.word for one in candidates(line, group)]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("portloom pl", ["plan"]),
        ("portloom comp", ["compare", "completion"]),
        ("portloom plan --tr", ["--trade-offs"]),
        ("portloom plan bike.yaml --place here --pl", ["--plain"]),
        ("portloom plan exam", ["examples/"]),
        ("portloom plan examples/bare", ["examples/bare-single.yaml"]),
        ("portloom plan examples/bare-single.yaml --unit ele", ["eleven-way"]),
        ("portloom plan examples/harbour-trail.yaml --place und", ["under seat"]),
        (f"{WHY} --for igni", ["ignition coil"]),
        (f"{WHY} --not hor", ["horn="]),
        (f"{WHY} --not 'horn=out 1", ["horn=out 1", "horn=out 10", "horn=out 11"]),
        (f"{WHY} --not horn=out\\ 10", ["horn=out 10"]),
        ("portloom rules key", ["key-off"]),
        ("portloom parts side st", ["stand switch"]),
        ("portloom keys unit trip", ["trip", "trip_curve"]),
        ("portloom help ex", ["exit codes", "explaining"]),
        ("portloom new ", ["bike", "unit"]),
        ("portloom completion z", ["zsh"]),
        ("portloom weather ", []),
        ("portloom why nowhere.yaml --for ", []),
    ],
)
def test_next_words(line: str, words: list[str]) -> None:
    """What the last word of a line may become."""
    assert sorted(next_words(line)) == sorted(words)


def test_a_load_without_a_name_is_called_as_its_part() -> None:
    """Every load of the example is offered, once."""
    found = next_words(f"{WHY} --for ")
    assert {"horn", "dipped beam", "front left indicator", "heated grips"} <= set(found)
    assert len(found) == len(set(found))


def test_lines_are_parted_as_a_shell_does() -> None:
    """Quotes and backslashes, closed or not; the program's name is no word."""
    for line in ("portloom plan 'my bike.yaml' --unit x", 'p why a\\ b "c d" e'):
        words = shlex.split(line)
        assert [*split(line).words, split(line).last] == words[1:]
    assert split('portloom plan "my bi').last == "my bi"
    assert split("portloom plan ") == (("plan",), "")


def test_each_shell_has_its_script(portloom: Portloom) -> None:
    """The command prints it, and the script asks for the line so far."""
    for shell, script in SHELLS.items():
        assert portloom("completion", shell).stdout == script
        assert " complete " in script
    assert portloom("completion", "tcl").returncode == 2


@unix.shell
@pytest.mark.parametrize(
    ("words", "replies"),
    [
        (["portloom", "pla"], ["plan"]),
        (["portloom", "plan", "exam"], ["examples"]),
        ([*WHY.split(), "--for", "igni"], ["ignition coil"]),
        ([*WHY.split(), "--not", "horn", "=", "out\\ 10"], ["out 10"]),
        ([*WHY.split(), "--not", '"horn=out 10'], ["horn=out 10"]),
    ],
)
def test_bash(environment: dict[str, str], words: list[str], replies: list[str]) -> None:
    """In bash, which parts a word at '=' unless it is in quotes, the rest of the word comes back."""
    line = " ".join(words).replace(" = ", "=")
    given = " ".join(map(shlex.quote, words))
    script = (
        f"compopt() {{ :; }}\n{SHELLS['bash']}\nCOMP_LINE={shlex.quote(line)}; COMP_POINT=${{#COMP_LINE}}\n"
        f"COMP_WORDS=({given}); COMP_CWORD={len(words) - 1}\n_portloom_next portloom\n"
        "printf '%s\\n' \"${COMPREPLY[@]}\"\n"
    )
    ran = subprocess.run(
        ["bash", "-c", script], cwd=ROOT, env=environment, capture_output=True, encoding="utf-8", check=True
    )
    assert (ran.stdout.splitlines(), ran.stderr) == (replies, "")
