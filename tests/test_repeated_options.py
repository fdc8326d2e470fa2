"""An option that may not be repeated is refused where it is: none of its values is dropped without a word.

What options there are is asked of the commands themselves, so that a new one is tried, too.
"""

from collections.abc import Iterator

import pytest
import typer
from typer.core import TyperCommand, TyperGroup, TyperOption

from calls import Call, Portloom
from portloom.cli.commands import app


def commands() -> dict[str, TyperCommand]:
    """Return every command by its name."""
    group = typer.main.get_command(app)
    assert isinstance(group, TyperGroup)
    return {name: command for name, command in group.commands.items() if isinstance(command, TyperCommand)}


def options(*, repeated: bool) -> Iterator[tuple[str, TyperOption]]:
    """Return each command's options, those that may be repeated or the others."""
    for name, command in commands().items():
        for option in command.params:
            if isinstance(option, TyperOption) and option.multiple is repeated:
                yield name, option


def given(option: TyperOption) -> Call:
    """Return the words that give an option."""
    return (option.opts[0],) if option.is_flag else (option.opts[0], "1")


@pytest.mark.parametrize(
    ("command", "option"), [pytest.param(c, o, id=f"{c} {o.opts[0]}") for c, o in options(repeated=False)]
)
def test_a_repeated_option_is_refused(portloom: Portloom, command: str, option: TyperOption) -> None:
    """One line on stderr that names the option, and exit code 2; nothing is read or planned."""
    ran = portloom(command, *given(option), *given(option))
    told = f"portloom {command}: {option.opts[0]} is given 2 times; give it once"
    assert (ran.returncode, ran.stdout, ran.stderr.count("\n")) == (2, "", 1)
    assert ran.stderr.startswith(told)


def test_both_ways_to_write_an_option_count(portloom: Portloom) -> None:
    """'--place=NAME' and '--place NAME' are the same option."""
    ran = portloom("plan", "--place=here", "bike.yaml", "--place", "there")
    assert ran.stderr == "portloom plan: --place is given 2 times; give it once\n"


def test_what_may_be_repeated_says_so() -> None:
    """The help of an option tells that it may be repeated; of the others none does."""
    assert [f"{command} {option.opts[0]}" for command, option in options(repeated=True)] == [
        "plan --unit",
        "diff --unit",
        "compare --unit",
    ]
    for repeated in (True, False):
        for _, option in options(repeated=repeated):
            assert ("may be repeated" in (option.help or "")) is repeated
