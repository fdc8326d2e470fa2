"""``portloom help`` and ``portloom glossary``: texts that lie in the package, a file a topic."""

from importlib.resources import files
from textwrap import wrap
from typing import NamedTuple

import typer

from portloom.base.nearest import suggest
from portloom.cli.screen import usage_error

FOLDER = "help_texts"
ENDING = ".txt"
GLOSSARY = "glossary"
WIDTH = 78
KEYS_OF = "@keys "
"""What a line begins with in whose place the keys of a file come."""


class Term(NamedTuple):
    """A word of the trade, and what it means here."""

    word: str
    means: str


def topics() -> tuple[str, ...]:
    """Return the name of every topic, in the order of the alphabet."""
    found = (file.name.removesuffix(ENDING) for file in files("portloom.cli").joinpath(FOLDER).iterdir())
    return tuple(sorted(name for name in found if name != GLOSSARY))


def list_topics() -> None:
    """Write the topics, each with its first line."""
    typer.echo("Topics, each told by 'portloom help TOPIC':\n")
    width = max(map(len, topics()))
    for name in topics():
        typer.echo(f"  {name:{width}}  {_text(name).splitlines()[0]}")
    typer.echo("\nA word: 'portloom glossary'. A command: 'portloom COMMAND -h'. A key: 'portloom keys bike KEY'.")


def tell_topic(said: str) -> None:
    """Write one topic; raise BadFile where there is none of that name."""
    name = named(said)
    if name is None:
        raise usage_error("help", f"there is no topic '{said}'", suggest(said, topics(), "the topics are"))
    typer.echo(topic_text(name), nl=False)


def named(said: str) -> str | None:
    """Return the topic that is meant, capitals and joints aside; None where there is none."""
    plain = said.casefold().replace("-", " ").replace("_", " ").strip()
    return plain if plain in topics() else None


def topic_text(name: str) -> str:
    """Return the text of a topic, with the keys of a file where it asks for them."""
    return "".join(_filled(line) for line in _text(name).splitlines(keepends=True))


def _filled(line: str) -> str:
    if not line.startswith(KEYS_OF):
        return line
    from portloom.inputs.key_table import MODELS, key_rows  # noqa: PLC0415 - one topic needs it

    file = next(known for known in MODELS if known == line.removeprefix(KEYS_OF).strip())
    of_entry: dict[str, list[str]] = {}
    for row in key_rows(file):
        of_entry.setdefault(": ".join(row.entry), []).append(row.key)
    return "".join(_paragraph(f"under {entry}" if entry else "at the top", keys) for entry, keys in of_entry.items())


def _paragraph(title: str, keys: list[str]) -> str:
    lines = wrap(f"{title}: {', '.join(keys)}", WIDTH, initial_indent="  ", subsequent_indent="      ")
    return "".join(f"{line}\n" for line in lines)


def glossary() -> tuple[Term, ...]:
    """Return every word with its meaning, by the alphabet."""
    entries = (" ".join(entry.split()) for entry in _text(GLOSSARY).split("\n\n"))
    parted = (entry.partition(": ") for entry in entries if entry)
    return tuple(sorted(Term(word, means) for word, _, means in parted))


def tell_glossary(said: str | None) -> None:
    """Write all words, or the one that is asked for; raise BadFile for one that is not there."""
    terms = glossary()
    if said is not None:
        terms = tuple(term for term in terms if said.casefold() in _spoken(term))
        if not terms:
            words = [word for term in glossary() for word in _spoken(term)]
            raise usage_error("glossary", f"'{said}' is not in it", suggest(said, words, "the words are"))
    for term in terms:
        typer.echo("\n".join(wrap(f"{term.word}: {term.means}", WIDTH, subsequent_indent="    ")))


def _spoken(term: Term) -> list[str]:
    """Return the words that an entry stands for: 'state, event, case' are three."""
    return [word.casefold() for word in term.word.split(", ")]


def _text(name: str) -> str:
    return files("portloom.cli").joinpath(FOLDER, f"{name}{ENDING}").read_text("utf-8")
