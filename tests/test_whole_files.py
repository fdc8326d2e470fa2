"""A single file is written whole or not at all, and what a killed command left of it is found."""

import os
import subprocess
import sys
from contextlib import suppress
from errno import ENOSPC, EPERM
from pathlib import Path

import pytest

import unix
from calls import Portloom
from portloom.disk import whole_file
from portloom.disk.whole_file import PART, remove_parts, replace, write_new

LEFT = f"{PART}0123456789abcdef"


def full(*_: object) -> None:
    """Stand in for a disk with no room."""
    raise OSError(ENOSPC, os.strerror(ENOSPC))


def test_a_new_file_is_never_written_over_another(tmp_path: Path) -> None:
    """Not even over one that came while it was written."""
    (tmp_path / "bike.yaml").write_text("mine")
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "bike.yaml", b"new")
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"bike.yaml": "mine"}


def test_without_links_it_is_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """There are file systems on which nothing can be linked (link(2): EPERM)."""

    def refuse(*_: object) -> None:
        raise PermissionError(EPERM, os.strerror(EPERM))

    monkeypatch.setattr(os, "link", refuse)
    write_new(tmp_path / "bike.yaml", b"new")
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "bike.yaml", b"newer")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"bike.yaml": b"new"}


@unix.links
def test_a_file_that_is_replaced_keeps_its_mode_and_its_link(tmp_path: Path) -> None:
    """A link still leads to it, and who may read it is as it was."""
    (tmp_path / "rows.csv").write_bytes(b"old")
    (tmp_path / "rows.csv").chmod(0o640)
    (tmp_path / "link.csv").symlink_to("rows.csv")
    replace(tmp_path / "link.csv", b"new")
    assert (tmp_path / "link.csv").is_symlink()
    assert (tmp_path / "rows.csv").read_bytes() == b"new"
    assert (tmp_path / "rows.csv").stat().st_mode & 0o777 == 0o640


def test_on_a_full_disk_all_is_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The old file is whole, no new one is there, and nothing is left over."""
    (tmp_path / "rows.csv").write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        replace(tmp_path / "rows.csv", b"new")
    with pytest.raises(OSError, match="No space left"):
        write_new(tmp_path / "bike.yaml", b"new")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"rows.csv": b"old"}


def test_only_what_we_left_is_taken_away(tmp_path: Path) -> None:
    """A hidden file with a name like ours that we would not have given stays."""
    for name in (LEFT, f"{PART}notes", ".portloom-sheets.txt"):
        (tmp_path / name).write_text("x")
    assert remove_parts(tmp_path) == (LEFT,)
    assert sorted(path.name for path in tmp_path.iterdir()) == [f"{PART}notes", ".portloom-sheets.txt"]
    assert remove_parts(tmp_path / "nowhere") == ()


def test_what_is_being_written_is_not_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While a command writes a file, another one that looks for left-overs waits until it is done."""
    code = "import sys; from pathlib import Path; from portloom.disk.whole_file import remove_parts as looked"
    code += "; print('ready', flush=True); print(looked(Path(sys.argv[1])))"
    others = []

    def looked_at(part: Path, content: bytes) -> None:
        part.write_bytes(content)
        call = [sys.executable, "-c", code, str(tmp_path)]
        other = subprocess.Popen(call, stdout=subprocess.PIPE, encoding="utf-8")
        assert other.stdout
        others.append((other, other.stdout.readline()))
        with suppress(subprocess.TimeoutExpired):  # it does not end while this goes on
            assert other.wait(0.3) is None

    monkeypatch.setattr(whole_file, "write_down", looked_at)
    write_new(tmp_path / "bike.yaml", b"new")
    assert [other.communicate(timeout=60)[0] for other, _ in others] == ["()\n"]
    assert (tmp_path / "bike.yaml").read_bytes() == b"new"


def test_the_next_command_says_what_it_took_away(portloom: Portloom, tmp_path: Path) -> None:
    """On stderr, by its name; the answer is as ever."""
    (tmp_path / LEFT).write_text("bike: half a na")
    ran = portloom("new", "bike", "--out", "bike.yaml", folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (0, "")
    assert ran.stderr.splitlines() == [
        f"{LEFT} is taken away: an earlier run was stopped while it wrote there",
        "a bike to start from is written to bike.yaml",
    ]
    assert [path.name for path in tmp_path.iterdir()] == ["bike.yaml"]
