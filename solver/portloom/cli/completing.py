"""What may come next on a line of the command: commands, options, files, units, and names in the files on the line.

A shell gives the line up to where Tab was pressed; the answer is the whole words that the last one may become.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from typer.core import TyperArgument, TyperCommand, TyperGroup, TyperOption

WORD = re.compile(r"""(?:[^\s"'\\]|\\.|"(?:[^"\\]|\\.)*(?:"|$)|'[^']*(?:'|$))+""")
PIECE = re.compile(r"""\\(?P<single>.)|"(?P<double>(?:[^"\\]|\\.)*)(?:"|$)|'(?P<quoted>[^']*)(?:'|$)|(?P<plain>.)""")
FILES = (".yaml", ".yml", ".json", ".csv", ".md", ".txt")
PORTS = re.compile(r"(?P<load>.+)=(?P<port>.*)")


class Line(NamedTuple):
    """A line as far as it is typed: the finished words after the program's name, and the one that is not finished."""

    words: tuple[str, ...]
    last: str


class Candidate(NamedTuple):
    """A word that may stand there, and what it is."""

    word: str
    says: str = ""


class Spot(NamedTuple):
    """Where the last word stands: in which command, as the value of what, and what is on the line beside it."""

    command: TyperCommand
    param: TyperOption | TyperArgument | None
    given: Mapping[str, tuple[str, ...]]
    """What is on the line already, by parameter."""


def split(text: str) -> Line:
    """Return a line in words, as a shell parts them; quotes that are still open hold to the end."""
    found = [_unquoted(word[0]) for word in WORD.finditer(text)]
    if text[-1:].isspace() or not found:
        return Line(tuple(found[1:]), "")
    return Line(tuple(found[1:-1]), found[-1] if len(found) > 1 else "")


def _unquoted(word: str) -> str:
    pieces = (piece for piece in PIECE.finditer(word))
    return "".join(next((part for part in piece.groups() if part is not None), "") for piece in pieces)


def candidates(text: str, group: TyperGroup) -> list[Candidate]:
    """Return what the last word of a line may become, in order, without repeats; nothing where nothing is known."""
    line = split(text)
    if not line.words:
        known = (Candidate(name, one.get_short_help_str(60)) for name, one in group.commands.items() if not one.hidden)
        own = (Candidate(name) for name in ("--version", "--help"))
        return _begun((*known, *own), line.last)
    command = group.commands.get(line.words[0])
    if not isinstance(command, TyperCommand) or command.hidden:
        return []
    spot = _spot(command, line.words[1:])
    if line.last.startswith("-") and not isinstance(spot.param, TyperOption):
        return _begun(_options(spot), line.last)
    return _begun(_values(spot, line.last), line.last)


def _begun(all_of: Iterable[Candidate], start: str) -> list[Candidate]:
    return list({one.word: one for one in all_of if one.word.casefold().startswith(start.casefold())}.values())


def _options(spot: Spot) -> Iterator[Candidate]:
    """Return the options that may still be given."""
    for param in spot.command.params:
        if isinstance(param, TyperOption) and (param.multiple or param.opts[0] not in spot.given):
            yield Candidate(param.opts[0], param.help or "")
    yield Candidate("--help")


def _spot(command: TyperCommand, words: Iterable[str]) -> Spot:
    """Walk the finished words of a command."""
    named = {opt: param for param in command.params if isinstance(param, TyperOption) for opt in param.opts}
    places = [param for param in command.params if isinstance(param, TyperArgument)]
    given: dict[str, tuple[str, ...]] = {}
    waits: TyperOption | None = None
    for word in words:
        option, _, value = word.partition("=")
        if waits is not None:
            given[waits.opts[0]] = (*given.get(waits.opts[0], ()), word)
            waits = None
        elif option in named:
            param = named[option]
            given[param.opts[0]] = (*given.get(param.opts[0], ()), *([value] if value else []))
            waits = param if not param.is_flag and "=" not in word else None
        elif places and not word.startswith("-"):
            name = str(places[0].metavar)
            given[name] = (*given.get(name, ()), word)
            if places[0].nargs == 1:
                places.pop(0)
    return Spot(command, waits or (places[0] if places else None), given)


def _values(spot: Spot, start: str) -> Iterable[Candidate]:
    """Return what a value may be: of an option by its name, of an argument by what its help calls it."""
    if spot.param is None:
        return ()
    name = spot.param.opts[0] if isinstance(spot.param, TyperOption) else f"{spot.command.name} {spot.param.metavar}"
    known = VALUES.get(name) or VALUES.get(str(spot.param.metavar))
    if known is None:
        return ()
    return _rest(spot, known(spot, start)) if name in IN_WORDS else known(spot, start)


def _rest(spot: Spot, known: Iterable[Candidate]) -> Iterator[Candidate]:
    """Return what is left of names of several words, of which some are on the line: 'stand switch' after 'side'."""
    begun = "".join(f"{word} " for word in spot.given.get(str(spot.param and spot.param.metavar), ()))
    return (Candidate(one.word[len(begun) :], one.says) for one in known if one.word.startswith(begun))


def _files(__: Spot, start: str) -> Iterator[Candidate]:
    """Return the files and folders that a path may go on to."""
    folder, _, name = start.rpartition("/")
    shown = f"{folder}/" if "/" in start else ""
    try:
        inside = sorted(Path(shown or ".").expanduser().iterdir())
    except (OSError, ValueError, RuntimeError):
        return
    for path in inside:
        if path.name.startswith(".") and not name.startswith("."):
            continue
        if path.is_dir():
            yield Candidate(f"{shown}{path.name}/")
        elif path.suffix in FILES:
            yield Candidate(f"{shown}{path.name}")


def _units(spot: Spot, start: str) -> Iterator[Candidate]:
    yield from _bundled(spot, start)
    yield from _files(spot, start)


def _bundled(_: Spot, __: str) -> Iterator[Candidate]:
    from portloom.inputs.profiles import bundled_units  # noqa: PLC0415 - only here

    return (Candidate(name, "bundled unit") for name, _ in bundled_units())


def _loads(spot: Spot, _: str) -> Iterator[Candidate]:
    from portloom.cli.names_on_line import loads  # noqa: PLC0415 - reads files

    return (Candidate(name, "load") for name in loads(spot.given))


def _load_on_port(spot: Spot, start: str) -> Iterator[Candidate]:
    from portloom.cli.names_on_line import loads, outputs  # noqa: PLC0415 - reads files

    found = PORTS.fullmatch(start)
    if found is None:
        return (Candidate(f"{name}=", "load") for name in loads(spot.given))
    return (Candidate(f"{found['load']}={port}", "output") for port in outputs(spot.given))


def _places(spot: Spot, _: str) -> Iterator[Candidate]:
    from portloom.cli.names_on_line import places  # noqa: PLC0415 - reads files

    return (Candidate(name, "place") for name in places(spot.given))


def _rules(_: Spot, __: str) -> Iterator[Candidate]:
    from portloom.inputs.rule_slugs import RULE_SLUGS  # noqa: PLC0415 - only here

    return (Candidate(slug, "rule") for slug in RULE_SLUGS)


def _parts(_: Spot, __: str) -> Iterator[Candidate]:
    from portloom.base.parts.in_short import load_in_short, switch_in_short  # noqa: PLC0415 - only here

    return (Candidate(name, "part") for name in (*load_in_short(), *switch_in_short()))


def _topics(_: Spot, __: str) -> Iterator[Candidate]:
    from portloom.cli.help import topics  # noqa: PLC0415 - only here

    return (Candidate(name, "topic") for name in topics())


def _terms(_: Spot, __: str) -> Iterator[Candidate]:
    from portloom.cli.help import glossary  # noqa: PLC0415 - only here

    return (Candidate(word, "word") for term in glossary() for word in term.word.split(", "))


def _keys(spot: Spot, _: str) -> Iterator[Candidate]:
    from portloom.inputs.key_table import MODELS, key_rows  # noqa: PLC0415 - slow to build

    file = next((known for known in MODELS if known in spot.given.get("bike|unit", ())), None)
    return (Candidate(row.key, "key") for row in (key_rows(file) if file else ()))


def _which(_: Spot, __: str) -> Iterator[Candidate]:
    return (Candidate(name) for name in ("bike", "unit"))


def _shells(_: Spot, __: str) -> Iterator[Candidate]:
    from portloom.cli.completion import SHELLS  # noqa: PLC0415 - only here

    return (Candidate(name, "shell") for name in SHELLS)


IN_WORDS = ("parts NAME", "help TOPIC", "glossary WORD")
"""Arguments that take a name of several words, in quotes or without."""
VALUES: dict[str, Callable[[Spot, str], Iterable[Candidate]]] = {
    "--unit": _units, "--for": _loads, "--not": _load_on_port, "--place": _places, "--not-place": _places,
    "units NAME": _bundled,
    "rules NAME": _rules, "parts NAME": _parts, "help TOPIC": _topics, "glossary WORD": _terms, "keys KEY": _keys,
    "bike|unit": _which, "completion SHELL": _shells,
    "BIKE": _files, "PLAN": _files, "OLD": _files, "NEW": _files, "FILE": _files, "FOLDER": _files,
}  # fmt: skip
"""What a value may be, by the option, by command and argument, or by what its help calls it."""
