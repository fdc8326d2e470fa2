"""A call that misses by little: units by nearly their names, files that are not there, files in other codes."""

from pathlib import Path

import pytest

from calls import HARBOUR, ROOT, Portloom, small_job
from portloom.inputs.parsing import decode
from portloom.inputs.problems import BadFile
from portloom.inputs.profiles import bundled_name, names_meant
from slices import first_of

BIKE = HARBOUR[1]


@first_of("said", ["Eleven Way", "elevenway", "ELEVEN-WAY", "eleven_way"], 2)
def test_capitals_and_joints_are_forgiven(portloom: Portloom, said: str) -> None:
    """The unit that is meant is taken, and stderr says so; the answer is that of its own name."""
    meant, own = portloom("plan", BIKE, "--unit", said), portloom(*HARBOUR)
    assert (meant.returncode, meant.stdout) == (0, own.stdout)
    assert meant.stderr == f"'{said}' is read as the bundled unit eleven-way\n"


def test_a_file_comes_before_what_may_be_meant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file or a folder that is called so to the letter is no slip."""
    monkeypatch.chdir(tmp_path)
    assert bundled_name("Six Way") == "six-way"
    (tmp_path / "Six Way").write_text("unit: mine\n")
    (tmp_path / "Elevenway").mkdir()
    assert bundled_name("Six Way") is None
    assert bundled_name("Elevenway") is None
    assert bundled_name("seven-way") is None


def test_what_may_be_two_is_neither() -> None:
    """Names that differ in nothing else are all meant, unless one is written as it is."""
    names = ("ten-way", "tenway", "six-way")
    assert names_meant("Ten Way", names) == ("ten-way", "tenway")
    assert names_meant("tenway", names) == ("tenway",)


def test_what_may_be_two_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Both are named, and nothing is taken."""
    monkeypatch.setattr("portloom.inputs.profiles.bundled_units", lambda: (("ten-way", Path()), ("tenway", Path())))
    with pytest.raises(BadFile) as refused:
        bundled_name("Ten Way")
    assert str(refused.value) == "Ten Way: this may be ten-way or tenway; write one of them as it stands here"


@pytest.mark.parametrize("call", [("plan", BIKE), ("why", BIKE), ("sheets", BIKE), ("plan", BIKE, "--unit")])
def test_a_missing_unit_names_those_there_are(portloom: Portloom, call: tuple[str, ...]) -> None:
    """Every bundled unit is named, and the topic."""
    ran = portloom(*call)
    assert (ran.returncode, ran.stdout) == (2, "")
    units = sorted(path.stem for path in (ROOT / "profiles").glob("*.yaml"))
    assert [unit for unit in units if unit not in ran.stderr] == []
    assert ran.stderr.endswith("More: portloom help units\n")


def test_other_missing_things_name_no_units(portloom: Portloom) -> None:
    """Only a unit is answered with units."""
    assert "six-way" not in portloom("plan").stderr
    assert "six-way" not in portloom(*HARBOUR, "--place").stderr


def test_a_file_that_is_not_there_says_where_it_was_looked_for(portloom: Portloom, tmp_path: Path) -> None:
    """By the folder, in full; a path that is full already says it itself. No line is told of what is no file."""
    small_job(tmp_path)
    right = "give the path of a file that can be read\n"
    near = portloom("plan", "bik.yaml", "--unit", "unit.yaml", folder=tmp_path)
    assert near.stderr == f"bik.yaml: there is no such file in {tmp_path}; {right}"
    below = portloom("plan", "away/bike.yaml", "--unit", "unit.yaml", folder=tmp_path)
    assert below.stderr == f"away/bike.yaml: there is no such file in {tmp_path}/away; {right}"
    full = portloom("plan", f"{tmp_path}/bik.yaml", "--unit", "unit.yaml", folder=tmp_path)
    assert full.stderr == f"{tmp_path}/bik.yaml: there is no such file; {right}"


@pytest.mark.parametrize("code", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16_with_its_mark_is_read(portloom: Portloom, tmp_path: Path, code: str) -> None:
    """A bike in UTF-16 is the same bike."""
    call = small_job(tmp_path)
    wanted = portloom(*call, folder=tmp_path).stdout
    text = (tmp_path / "bike.yaml").read_text("utf-8")
    mark = "" if code == "utf-16" else "\ufeff"
    (tmp_path / "wide.yaml").write_bytes((mark + text).encode(code))
    ran = portloom("plan", "wide.yaml", *call[2:], folder=tmp_path)
    assert (ran.returncode, ran.stdout.replace("wide.yaml", "bike.yaml")) == (0, wanted)


@pytest.mark.parametrize(
    ("data", "what"),
    [
        ("bike: x\n".encode("utf-16-le"), "this looks like UTF-16 without its mark"),
        ("bike: x\n".encode("utf-16-be"), "this looks like UTF-16 without its mark"),
        ("bike: x\n".encode("utf-32"), "this is UTF-32"),
        (b"\xff\xfeb\x00i\x00\x00\xd8k\x00", "this UTF-16 is broken"),
        (b"\xff\xfe\x00\x00b\x00", "this is UTF-32"),
        (b"bike: \x00\n", "this is a binary file"),
    ],
)
def test_other_codes_are_named(data: bytes, what: str) -> None:
    """What can't be read says why, and what to save it as."""
    with pytest.raises(BadFile) as refused:
        decode(data, "bike.yaml")
    assert [problem.what for problem in refused.value.problems] == [what]


def test_errors_point_to_topics(portloom: Portloom, tmp_path: Path) -> None:
    """The last line names the topics that have more, each once; nothing follows where there is none."""
    call = small_job(tmp_path)
    text = (tmp_path / "bike.yaml").read_text("utf-8")
    (tmp_path / "bike.yaml").write_text(text.replace("620 mm", "620 A").replace("10 Ah", "10"), "utf-8")
    assert portloom(*call, folder=tmp_path).stderr.splitlines()[-1] == "More: portloom help keys"
    (tmp_path / "bike.yaml").write_text("bike: {\n", "utf-8")
    again = portloom("plan", "./bike.yaml", *call[2:], folder=tmp_path)
    assert again.stderr.splitlines()[-1] == "More: portloom help files"
