"""``portloom check`` as it is called: posts in every form, what is told of them, and the exit codes."""

import json
import subprocess
import sys
from itertools import count
from pathlib import Path
from typing import Any

import pytest

import unix
from calls import ROOT, Portloom
from slices import first_of, third_of
from unix import used

HARBOUR = ("examples/harbour-trail.yaml", "--unit", "eleven-way")
BEST = {
    "out 1": "dipped beam",
    "out 2": "main beam",
    "out 3": "position lamp, tail lamp, plate lamp",
    "out 4": "ignition coil",
    "out 5": "front left indicator, rear left indicator",
    "out 6": "front right indicator, rear right indicator",
    "out 7": "starter solenoid",
    "out 8": "fuel pump",
    "out 9": "brake lamp",
    "out 11": "engine controller, dash",
}
"""The best plan of the Harbour Trail on the eleven-way, as ``portloom plan`` finds it."""
PLAIN = "\n".join(f"{port}: {loads}" for port, loads in BEST.items())
INPUTS = """
in 1: neutral switch
in 2: side stand switch
in 3: key switch
in 4: engine stop switch
in 5: starter button
in 6: clutch switch
in 8: engine speed signal
in 9: neck gatherer
in 11: front brake switch
in 12: rear brake switch
in 13: dip switch, flash button
neck gatherer: left indicator button, right indicator button, hazard switch
"""
"""Its inputs."""
FORMS = {
    "plain": PLAIN,
    "the other way round": "\n".join(f"{loads.replace(', ', ' and ')} -> {port}" for port, loads in BEST.items()),
    "markdown": "My plan:\n\n| Output | Loads |\n|:--|---|\n" + "\n".join(f"| {p} | {ls} |" for p, ls in BEST.items()),
    "csv": "port,load\n" + "\n".join(f'{port},"{loads}"' for port, loads in BEST.items()),
    "semicolons": "\ufeffport;load\r\n" + "\r\n".join(f"{port};{loads}" for port, loads in BEST.items()),
    "a row a load": "port,load\n" + "\n".join(f"{p},{load}" for p, ls in BEST.items() for load in ls.split(", ")),
    "yaml": "outputs:\n" + "\n".join(f"  {port}: [{loads}]" for port, loads in BEST.items()),
    "yaml list": "outputs:\n" + "\n".join(f"  - {{port: {port}, loads: [{loads}]}}" for port, loads in BEST.items()),
    "json": json.dumps({"outputs": BEST}),
}


LOADED = """
import sys
from portloom.cli.main import main
try:
    main()
finally:
    sys.stderr.write(str([name for name in sys.modules if name.startswith(("ortools", "portloom.search"))]))
"""


@pytest.fixture
def check(portloom: Portloom, tmp_path: Path) -> Any:
    """Return what checks a text and gives the exit code, the document and stderr."""
    numbers = count()

    def run(text: str, *words: str) -> tuple[int, Any, str]:
        post = tmp_path / str(next(numbers)) / "post.txt"
        post.parent.mkdir()
        post.write_bytes(text.encode())
        done = portloom("check", str(post), str(ROOT / HARBOUR[0]), *HARBOUR[1:], *words, "--json")
        return done.returncode, json.loads(done.stdout) if done.stdout else None, done.stderr

    return run


@third_of("form", [*FORMS], 0)
def test_one_plan_in_every_form(form: str, check: Any) -> None:
    """Nothing is wrong with it, however it is written."""
    code, found, err = check(FORMS[form])
    assert (code, found["status"], found["clashes"], err) == (0, "nothing wrong", [], "")


@first_of("bike", ["bare-single", "harbour-trail", "dressed-tourer", "market-parallel", "winter-trail"], 1)
def test_what_the_plan_prints_is_sound(bike: str, portloom: Portloom, tmp_path: Path) -> None:
    """The document of a best plan is a post: inputs, place and way round are judged, too."""
    file, post = str(ROOT / f"examples/{bike}.yaml"), tmp_path / "plan.json"
    post.write_text(portloom("plan", file, "--unit", "twenty-way", "--json").stdout, "utf-8")
    done = portloom("check", str(post), file, "--unit", "twenty-way", "--json")
    found = json.loads(done.stdout)
    assert (done.returncode, found["clashes"], len(found["judged_at"])) == (0, [], 1)
    assert [line for line in found["not_judged"] if line.startswith("inputs")] == []
    assert found["status"] == ("nothing wrong" if found["not_judged"] else "sound")
    assert set(found["kept"]) >= {"wire", "main-fuse", "trip", "cover"}


def test_what_is_wrong_is_told_with_its_rule(check: Any) -> None:
    """A brake lamp beside others, a load left out: exit code 1, with the figures."""
    text = PLAIN.replace("out 9: brake lamp\n", "").replace("plate lamp", "plate lamp, brake lamp")
    code, found, _ = check(text.replace("out 8: fuel pump\n", ""))
    assert (code, found["status"]) == (1, "broken")
    told = [(clash["rule"], clash["sentence"]) for clash in found["clashes"]]
    assert ("cover", "fuel pump is on no output") in told
    assert "brake-lamp" in [rule for rule, _ in told]
    assert "brake-lamp" not in found["kept"]


@pytest.mark.parametrize(
    ("before", "after", "line", "what"),
    [
        ("out 9: brake", "out 99: brake", 9, "there is no port 'out 99'; "),
        ("ignition coil", "toaster", 4, "there is no load 'toaster'; "),
        ("dipped beam", "beam", 1, "'beam' may be dipped beam or main beam; write which"),
        ("ignition coil", "ignition coil, dipped", 4, "dipped beam is on out 1 and on out 4; leave one of them out"),
        (
            "out 4: ignition coil",
            "ignition coil",
            4,
            "'ignition coil' does not say what is on which port; write a line a port, ",
        ),
    ],
)
def test_a_name_that_is_not_clear_is_told(before: str, after: str, line: int, what: str, check: Any) -> None:
    """With its line and what would be right, exit code 2; all else is judged."""
    code, found, err = check(PLAIN.replace(before, after, 1))
    assert code == 2
    assert any(f"post.txt:{line}:" in told and what in told for told in err.splitlines())
    assert found["kept"] == []
    assert [clash for clash in found["clashes"] if "is on no" in clash["sentence"]] == []


def test_a_mix_of_forms_is_told(check: Any) -> None:
    """A line beside a table that names a port."""
    code, _, err = check(FORMS["markdown"] + "\n\nout 10: dash\n")
    assert (code, "is outside the table" in err) == (2, True)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "the post is empty"),
        ("outputs: {}", "the post does not say what is on any port"),
        ("place: under seat", "the post does not say what is on any port"),
        ("| load | colour |\n|---|---|\n| horn | red |", "this table has no column of ports; "),
        ('port,load\nout 1,"dipped', "this record can't be read"),
        ("x" * 70_000, "the post is longer than 64,000 letters"),
        ("x" * 10_000_000, "larger than 4 MB"),
    ],
)
def test_what_can_not_be_read(text: str, what: str, check: Any) -> None:
    """One clear line, exit code 2."""
    code, _, err = check(text)
    assert (code, what in err) == (2, True)


def test_names_are_told_as_they_were_taken(check: Any) -> None:
    """Spelling variants with one clear reading are matched, and the answer says how."""
    code, found, _ = check(PLAIN.replace("out 1: dipped beam", "Out-01: dipped").replace("out 4", "4"))
    assert code == 0
    assert {(one["said"], one["as"]) for one in found["taken"]} == {
        ("Out-01", "out 1"), ("dipped", "dipped beam"), ("4", "out 4"),
    }  # fmt: skip


def test_no_place_means_every_place(check: Any) -> None:
    """Where the post names none, all are looked at; with --place only that."""
    assert len(check(PLAIN)[1]["judged_at"]) > 1
    assert check(PLAIN, "--place", "battery box")[1]["judged_at"] == ["battery box"]
    assert check(f"place: seat\n{PLAIN}")[1]["judged_at"] == ["under seat", "under seat, turned around"]
    assert check(PLAIN, "--place", "nowhere")[0] == 2


def test_what_could_not_be_read_may_name_what_is_missed(check: Any) -> None:
    """A post is not said to name no main fuse while a line of it is not clear."""
    _, found, _ = check(f"The 30A main fuse sits right at the battery.\n{FORMS['json']}")
    assert "main fuse: none that could be read, but some lines are not clear" in found["not_judged"]
    _, clear, _ = check(FORMS["json"])
    assert "main fuse: the post names none" in clear["not_judged"]


def test_a_post_alone(portloom: Portloom) -> None:
    """Without a bike's file what the post says by itself is judged; what needs the file is refused."""
    call = ("check", "examples/small-build-posted.txt", "--unit", "eleven-way")
    done = portloom(*call, "--json")
    found = json.loads(done.stdout)
    assert (done.returncode, found["status"], found["bike"]) == (1, "broken", None)
    for option in (("--place", "under seat"), ("--best",), ("--repair",)):
        refused = portloom(*call, *option)
        assert (refused.returncode, refused.stdout) == (2, "")
        assert f"{option[0]} needs more than a post says by itself; add the bike's file" in refused.stderr


def test_a_reply_to_paste(portloom: Portloom) -> None:
    """Markdown and nothing else on stdout; in JSON under a key of its own."""
    call = ("check", "examples/harbour-trail-posted.md", *HARBOUR, "--reply")
    written, document = portloom(*call), json.loads(portloom(*call, "--json").stdout)
    assert written.returncode == 1
    assert written.stdout == document["reply"]
    assert written.stdout.startswith("Thank you")


def test_more_is_asked(check: Any) -> None:
    """The best plan and the fewest moves are in the document; no time is no answer, with its own exit code."""
    code, found, _ = check(PLAIN.replace("out 8: fuel pump", "out 10: fuel pump"), "--best", "--repair")
    assert (code, found["best"]["answer"], found["best"]["proven"]) == (1, "found", True)
    assert (found["repair"]["moves"], found["repair"]["proven"]) == (1, True)
    assert found["repair"]["moved"] == [{"name": "fuel pump", "from": "out 10", "to": "out 8"}]
    assert check(PLAIN, "--repair", "--time-limit", "0")[0] == 3


@unix.usage
@first_of(
    "text",
    ["x" * 10_000_000, "out 1: horn\n" * 900_000, "out 1: dipd\n" * 5_000, "port,load\n" + "out 1,hron\n" * 5_000],
    2,
)
def test_a_long_post_is_refused_soon(text: str, check: Any) -> None:
    """Within two seconds of the processor's time."""
    before = used()
    code, _, _ = check(text)
    assert code == 2
    assert used() - before < 2


def test_from_stdin_and_without_the_solver() -> None:
    """A post may come through a pipe, and neither ortools nor the search is loaded for one that names its inputs."""
    call = [sys.executable, "-c", LOADED, "check", "-", *HARBOUR]
    done = subprocess.run(call, input=PLAIN + INPUTS, capture_output=True, text=True, check=False, cwd=ROOT)
    assert (done.returncode, done.stderr) == (0, "[]")
    assert "nothing wrong found" in done.stdout
    assert "CAUTION" in done.stdout
