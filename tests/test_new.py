"""``portloom new``: the bike plans at once, the unit takes it, and each shows every key of its file just once."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

import unix
from calls import Portloom
from portloom.inputs.schema import bike_schema, unit_schema

KEY = re.compile(r"^ *#(?P<depth> +)(?P<key>[a-z_]+): \S")
HEAD = re.compile(r"^ *# Every further key of ")


def _keys_of_schema(schema: dict[str, object]) -> Counter[str]:
    """Count the keys of a file by the JSON Schema: each of every entry, those of a later load that a load has aside."""
    entries = [schema, *schema["$defs"].values()]  # type: ignore[attr-defined]  # a schema's own
    of_load = set(schema["$defs"].get("Load", {}).get("properties", ()))  # type: ignore[attr-defined]
    found: Counter[str] = Counter()
    for entry in entries:
        keys = set(entry["properties"])
        if {"worth"} <= keys:
            keys -= of_load
        found.update(keys - ({"name"} if "names" in keys else set()))
    return found


def _live(value: object, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    """Return each key that the file itself uses, with the keys that lead to it."""
    if isinstance(value, dict):
        for key, below in value.items():
            yield path, key
            yield from _live(below, (*path, key))
    elif isinstance(value, list):
        for below in value:
            yield from _live(below, path)


def _commented(text: str) -> list[str]:
    lines = text.splitlines()
    return [found["key"] for line in lines if not HEAD.match(line) and (found := KEY.match(line))]


@pytest.mark.parametrize(("what", "schema"), [("bike", bike_schema()), ("unit", unit_schema())], ids=["bike", "unit"])
def test_every_key_is_shown_once(portloom: Portloom, what: str, schema: dict[str, object]) -> None:
    """Each key of each entry is used, or stands once in a comment with what it does."""
    text = portloom("new", what).stdout
    shown = Counter(_commented(text)) + Counter(key for _, key in set(_live(yaml.safe_load(text))))
    assert shown == _keys_of_schema(schema)


def test_a_comment_that_is_left_out_is_missed(portloom: Portloom) -> None:
    """The count above sees one key less, and one twice."""
    text = portloom("new", "bike").stdout
    one = next(line for line in text.splitlines() if "pull_in: " in line)
    assert Counter(_commented(text.replace(f"{one}\n", ""))) != Counter(_commented(text))
    assert Counter(_commented(text.replace(one, f"{one}\n{one}"))) != Counter(_commented(text))


@pytest.mark.parametrize("what", ["bike", "unit"])
def test_lines_are_short(portloom: Portloom, what: str) -> None:
    """No line is wider than a page of 100 columns, and none has blanks at its end."""
    lines = portloom("new", what).stdout.splitlines()
    assert max(len(line) for line in lines) <= 100
    assert [line for line in lines if line != line.rstrip()] == []


def test_the_bike_plans_at_once(portloom: Portloom, tmp_path: Path) -> None:
    """On the eleven-way, with nothing asked, and on the unit to start from."""
    for what in ("bike", "unit"):
        ran = portloom("new", what, "--out", f"{what}.yaml", folder=tmp_path)
        assert (ran.returncode, ran.stdout) == (0, "")
        assert ran.stderr == f"a {what} to start from is written to {what}.yaml\n"
    for unit in ("eleven-way", "unit.yaml"):
        ran = portloom("plan", "bike.yaml", "--unit", unit, folder=tmp_path)
        assert (ran.returncode, ran.stderr) == (0, "")
        assert "FITS, proven best" in ran.stdout


def test_what_is_written_is_what_is_printed(portloom: Portloom, tmp_path: Path) -> None:
    """The file has the text that stdout has."""
    portloom("new", "bike", "--out", "bike.yaml", folder=tmp_path)
    assert (tmp_path / "bike.yaml").read_text("utf-8") == portloom("new", "bike").stdout


@unix.links
def test_nothing_is_overwritten(portloom: Portloom, tmp_path: Path) -> None:
    """A file that is there, a link, a folder, and a folder that is not there: 2, and nothing is touched."""
    (tmp_path / "mine.yaml").write_text("bike: mine\n", "utf-8")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "nowhere.yaml")
    for name in ("mine.yaml", "link.yaml", "."):
        ran = portloom("new", "bike", "--out", name, folder=tmp_path)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert f"--out names what is there already, {name}; give the name of a new file" in ran.stderr
    assert (
        "there is no folder away to write to"
        in portloom("new", "unit", "--out", "away/unit.yaml", folder=tmp_path).stderr
    )
    assert (tmp_path / "mine.yaml").read_text("utf-8") == "bike: mine\n"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["link.yaml", "mine.yaml"]
