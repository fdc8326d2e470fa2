"""``portloom why`` as it is called: what is asked, refused and promised; its texts and its exit codes."""

import json
import sys
from collections.abc import Callable, Sequence
from io import StringIO
from pathlib import Path
from typing import Any, TypeVar

import pytest
from rich.console import Console

import portloom
import portloom.explaining.explain as story
from calls import ROOT, Call, Portloom
from calls import WHY_DIMLESS as DIMLESS
from calls import WHY_HARBOUR as HARBOUR
from calls import WHY_WINTER as WINTER
from oracle.starved import starved_case
from portloom.base.clock import Clock
from portloom.cli.files import read_files
from portloom.cli.main import main
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.explain import DoesNotFit, Explained, Undecided
from portloom.explaining.fixes.hunt import fixes_of
from portloom.explaining.json import explained_json
from portloom.explaining.telling.told import why_nothing_fits
from portloom.inputs.files import bundled_units, find_unit, read_unit, unit_from_text
from portloom.report.text.layout import WIDTH, TextPage
from portloom.report.text.why import write_explained
from ready import Ready
from slices import first_of, later, slices
from told_examples import REASONS, unit_named
from unasked import bike_from_text

Answer = TypeVar("Answer")
STARVED = (("dimming", 2), ("openings", 0), ("several", 9), ("lonely", 10))
"""Random bikes that do not fit, of four families, that are soon explained."""
SINGLE: Call = ("why", "examples/bare-single.yaml", "--unit", "six-way")
"""A small bike that fits."""
THREE: Call = ("why", "tests/data/reasons/three-things-at-once.yaml", "--unit", "six-way")
"""One with several conflicts."""
OF_PROGRAMS = ("infeasib", "solver", "constraint", "variable", "literal")
"""Words of those who write such programs, not of those who use this one."""
SMALL = """
bike: trial single
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, tail], length: 500 mm}], earth: [tray]}
places: [{name: here, front: tray}]
later: []
loads:
  - {name: %s, at: tail, current: 1 A}
  - {name: winch, at: tail, current: 15 A, kind: motor, fed: relay}
"""
TWO = "{unit: two-way, feed: {limit: 40 A}, outputs: [{names: [%s, out 2], limit: 5 A, peak: 60 A, trip: [2 A, 5 A]}]}"


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Return what runs the command in this process and gives its exit code, stdout and stderr."""

    def run(*words: str, folder: Path = ROOT) -> tuple[int | str | None, str, str]:
        monkeypatch.setattr(sys, "argv", ["portloom", *words])
        monkeypatch.chdir(folder)
        with pytest.raises(SystemExit) as end:
            main()
        return (end.value.code, *capsys.readouterr())

    return run


def line_of(file: str, beginning: str) -> int:
    """Return the number of the line of a file that begins so, its blanks left out."""
    lines = (ROOT / file).read_text("utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if line.strip().startswith(beginning))


# --- what is refused

BIKE, UNIT = HARBOUR[1], "profiles/eleven-way.yaml"


def of_the_load(name: str) -> str:
    """Return where a load of the Harbour Trail is written."""
    return f"{BIKE}:{line_of(BIKE, f'- {{part: {name},')}:3: '{name}'"


LOADS = f"{BIKE}:{line_of(BIKE, 'loads:') + 1}:1: the bike has no load"
OUTPUTS = f"eleven-way.yaml:{line_of(UNIT, '- {names: [out 1,')}:3: the eleven-way has no output"
PLACES = f"{BIKE}:{line_of(BIKE, '- {name: under seat')}:1: the bike has no place"
REFUSED = {
    (
        "--not",
        "ignition coil",
    ): "portloom why: 'ignition coil' names no port; write LOAD=PORT, such as 'horn=out 3'",
    ("--not", "ignition cil=out 3"): f"{LOADS} 'ignition cil'; write 'ignition coil'",
    ("--not", "=out 3"): f"{LOADS} ''; write one of ",
    ("--not", "ignition coil=out 33"): f"{OUTPUTS} 'out 33'; write one of out 1",
    ("--not", "ignition coil=ot 3"): f"{OUTPUTS} 'ot 3'; write 'out 3'",
    ("--not", "ignition coil=in 3"): f"{OUTPUTS} 'in 3'; ",
    ("--not", "ignition coil="): f"{OUTPUTS} ''; ",
    ("--not", "horn=out 3"): f"{of_the_load('horn')} is fed by a fuse, so it is on no output",
    ("--not", "fan=out 3"): f"{of_the_load('fan')} is fed by a relay, so it is on no output",
    ("--not", "indicator tell-tale=out 5"): (
        f"{of_the_load('indicator tell-tale')} is fed from front left indicator and front right indicator, "
        "so it is on no output of its own; "
    ),
    ("--not-place", "under seta"): f"{PLACES} 'under seta'; write 'under seat'",
    ("--for", "brake lmp"): f"{LOADS} 'brake lmp'; write 'brake lamp'",
    ("--for", "fan"): f"{of_the_load('fan')} is fed by a relay, so it is on no output",
    ("--not", "ignition coil=out 3", "--not-place", "under seat"): (
        "portloom why: --not and --not-place are two questions; ask one of them, then the other"
    ),
}


@pytest.mark.parametrize("words", REFUSED, ids=" ".join)
def test_a_wrong_question_is_refused(words: tuple[str, ...], call: Any) -> None:
    """Exit code 2, one line with the file and the line where there is one and what would be right, and no answer."""
    code, out, err = call(*HARBOUR, *words)
    assert (code, out, len(err.splitlines())) == (2, "", 1)
    assert err.startswith(REFUSED[words])


@pytest.mark.parametrize(
    "words", [("--not", "ignition coil=out 3"), ("--not-place", "under seat"), ("--for", "ignition coil")]
)
def test_a_right_question_is_not(words: tuple[str, ...], call: Any) -> None:
    """With no time for an answer it is taken as it is: the limit is reached."""
    assert call(*HARBOUR, *words, "--time-limit", "0")[0] in (1, 3)


# --- names


def small(folder: Path, load: str = "lamp", port: str = "out 1") -> tuple[str, ...]:
    """Write a bike of one load and a relay, and a unit, into a folder; give the call that asks about them."""
    (folder / "bike.yaml").write_text(SMALL % load, "utf-8")
    (folder / "unit.yaml").write_text(TWO % port, "utf-8")
    return "why", "bike.yaml", "--unit", "unit.yaml"


def test_a_load_with_an_equals_sign_in_its_name(call: Any, tmp_path: Path) -> None:
    """The last one parts load and port."""
    code, out, _ = call(*small(tmp_path, "a=b"), "--not", "a=b=out 2", folder=tmp_path)
    assert (code, "Why is a=b not on out 2?" in out) == (0, True)


def test_a_port_with_an_equals_sign_in_its_name(call: Any, tmp_path: Path) -> None:
    """The last one parts load and port here, too, so such a port can't be asked for; what was understood is told."""
    code, out, err = call(*small(tmp_path, port='"x=y"'), "--not", "lamp=x=y", folder=tmp_path)
    assert (code, out) == (2, "")
    assert "the bike has no load 'lamp=x'" in err


def test_blanks_round_the_equals_sign_are_left_out(call: Any, tmp_path: Path) -> None:
    assert call(*small(tmp_path), "--not", " lamp = out 2 ", folder=tmp_path)[0] == 0


def test_a_relays_coil_is_asked_about_by_its_own_name(call: Any, tmp_path: Path) -> None:
    """The winch is on no output; what switches its relay is."""
    call_it = small(tmp_path)
    assert call(*call_it, "--not", "winch=out 2", folder=tmp_path)[0] == 2
    code, out, _ = call(*call_it, "--not", "winch relay=out 1", folder=tmp_path)
    assert (code, "Why is winch relay not on out 1?" in out) == (0, True)
    assert call(*call_it, "--for", "winch relay", folder=tmp_path)[0] == 0


# --- exit codes


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (HARBOUR, 0, "Near misses"),
        ((*HARBOUR, "--not", "ignition coil=out 3"), 0, "Possible"),
        ((*HARBOUR, "--not", "dipped beam=out 5"), 1, "Impossible by itself"),
        ((*HARBOUR, "--not", "brake lamp=out 7"), 1, "Impossible with the rest"),
        *later([((*HARBOUR, "--not-place", "battery box"), 0, "Possible")]),
        *later([((*HARBOUR, "--for", "ignition coil"), 0, "What its port offers that others don't")]),
        *later([(WINTER, 1, "NOTHING FITS, proved.")]),
        ((*DIMLESS, "--not", "tail lamp=out 3"), 1, "NOTHING FITS, proved."),
        ((*HARBOUR, "--time-limit", "0"), 3, "UNKNOWN, the time limit was reached."),
        ((*WINTER, "--time-limit", "0"), 3, "UNKNOWN, the time limit was reached."),
        ((*HARBOUR, "--time-limit", "0", "--not", "ignition coil=out 3"), 3, "Not known: the time limit was reached."),
        ((*HARBOUR, "--time-limit", "0", "--not", "dipped beam=out 5"), 1, "Impossible by itself"),
    ],
)
def test_exit_codes(words: tuple[str, ...], code: int, said: str, portloom: Portloom) -> None:
    """0 if it fits and the wish is possible, 1 if not, 3 where a limit left nothing proved; nothing on stderr."""
    ran = portloom(*words)
    assert (ran.returncode, said in ran.stdout, ran.stderr) == (code, True, "")


def test_a_limit_proves_nothing(call: Any) -> None:
    """Where it is reached before any answer, neither text nor document says that something is impossible."""
    _, text, _ = call(*WINTER, "--time-limit", "0")
    _, document, _ = call(*WINTER, "--time-limit", "0", "--json")
    assert not any(word in text for word in ("NOTHING FITS", "mpossible", "FITS,"))
    assert json.loads(document)["status"] == "unknown"
    assert not {"conflicts", "fixes", "near"} & set(json.loads(document))


# --- a limit between one proof and the next


def out_of_time(ask: Callable[..., Answer]) -> Callable[..., Answer]:
    """Let the limit be reached just before something is asked."""

    def late(questions: Questions, *rest: Any, **named: Any) -> Answer:
        questions.clock = Clock(0)
        return ask(questions, *rest, **named)

    return late


def test_a_limit_after_the_conflict_leaves_the_conflict(call: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was proved is told, and exit code 1; that there are no fixes is not said."""
    monkeypatch.setattr(story, "fixes_of", out_of_time(fixes_of))
    code, text, _ = call(*DIMLESS)
    document = json.loads(call(*DIMLESS, "--json")[1])
    assert (code, "NOTHING FITS, proved." in text, "must be dimmed" in text) == (1, True, True)
    assert "Not every change was tried" in text
    assert "Proved: no change" not in text
    assert [conflict["proof"] for conflict in document["conflicts"]] == ["proved"]
    assert (document["fixes"], document["fixes_complete"]) == ([], False)


def test_a_limit_before_the_conflict_leaves_that_nothing_fits(call: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """That was proved before; of the reasons it is said that there may be more."""
    monkeypatch.setattr(story, "why_nothing_fits", out_of_time(why_nothing_fits))
    code, text, _ = call(*DIMLESS)
    document = json.loads(call(*DIMLESS, "--json")[1])
    assert (code, "NOTHING FITS, proved." in text) == (1, True)
    assert "The time limit was reached: there may be more conflicts." in text
    assert (document["conflicts"], document["conflicts_complete"]) == ([], False)


@pytest.mark.parametrize(("family", "seed"), [("dimming", 2), pytest.param("sums", 103, marks=pytest.mark.long)])
def test_at_whatever_limit_only_what_is_so_is_told(family: str, seed: int) -> None:
    """Conflicts and fixes told at a limit are among those told without one, or are the bigger unit; never a plan."""
    bike, unit = starved_case(seed, family)
    read = bike_from_text(bike, "bike"), unit_from_text(unit, "unit")
    whole = explained_json(portloom.explain(*read))
    for limit in (0.0, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0):
        part = explained_json(portloom.explain(*read, time_limit=limit))
        assert part["status"] in ("unknown", "no plan")
        if part["status"] == "no plan":
            conflicts = [conflict["sentence"] for conflict in whole["conflicts"]]
            assert [conflict["sentence"] for conflict in part["conflicts"]] == conflicts[: len(part["conflicts"])]
            assert part["conflicts_complete"] is (len(part["conflicts"]) == len(conflicts)) or part["fixes"] == []
            assert part["fixes"] == whole["fixes"] or not part["fixes_complete"]


# --- the same each time


def explained(family: str, seed: int) -> Explained:
    """Explain a random bike, with no unit known that may take the place of its own."""
    bike, unit = starved_case(seed, family)
    return portloom.explain(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))


def text_of(explained: Explained) -> str:
    """Return the text of an explanation, with its proof."""
    paper = StringIO()
    write_explained(explained, TextPage(Console(file=paper, width=WIDTH, highlight=False)), proof=True)
    return paper.getvalue()


@pytest.mark.parametrize("times", [2, pytest.param(20, marks=pytest.mark.long)])
@first_of(("family", "seed"), STARVED, 2)
def test_many_times_the_same_text(family: str, seed: int, times: int) -> None:
    """Conflicts, fixes and proofs are told in the same words each time, however the threads run."""
    texts = {text_of(explained(family, seed)) for _ in range(times)}
    assert len(texts) == 1
    assert "What would make it fit" in texts.pop()


@slices("files", [("no-output-dims", "six-way")], REASONS[::32], REASONS[16::32], REASONS[8::16])
def test_the_same_under_another_seed_of_hashes(
    files: tuple[tuple[str, str], ...], tmp_path: Path, environment: dict[str, str]
) -> None:
    """Runs under two seeds give texts that are the same to the byte."""
    thrown = [Ready({**environment, "PYTHONHASHSEED": seed}, tmp_path) for seed in ("1", "2")]
    for bike, unit in files:
        call = ("why", f"tests/data/reasons/{bike}.yaml", "--unit", unit_named(unit))
        printed = [one.run(call, ROOT) for one in thrown]
        assert {ran.returncode for ran in printed} == {1}
        assert len({ran.stdout for ran in printed}) == 1
    for one in thrown:
        one.end()


@pytest.mark.parametrize(
    ("words", "about"),
    [(DIMLESS, None), *later([(HARBOUR, "ignition coil"), (WINTER, None)])],
)
def test_the_library_gives_the_same_answer(words: Call, about: str | None, portloom: Portloom) -> None:
    """On the files as read, with the bundled units known, ``portloom.explain`` gives the command's document."""
    files = read_files(ROOT / words[1], words[3])
    known = [read_unit(file) for _, file in bundled_units()]
    answer = story.explain(files.bike, files.unit, known=known, where=files.where, about=about)
    extra = () if about is None else ("--for", about)
    printed = portloom(words[0], str(ROOT / words[1]), *words[2:], *extra, "--json").stdout
    assert json.loads(json.dumps(explained_json(answer))) == json.loads(printed)


# --- words


def test_what_is_in_the_way_is_told_while_it_is_proved_that_it_is_minimal() -> None:
    """A few are named, more are counted: one conflict after the other."""
    said: list[str] = []
    bike = bike_from_text((ROOT / WINTER[1]).read_text("utf-8"), "bike")
    explained = story.explain(bike, read_unit(find_unit("six-way")), say=said.append)
    assert isinstance(explained.answer, DoesNotFit)
    told = [line for line in said if line.startswith("in the way: ")]
    assert len(told) == len(explained.answer.why.conflicts)
    assert all(line.endswith("; proving that nothing of it can be spared") for line in told)
    assert any("in the way: fuel pump;" in line for line in told)
    assert any("in the way: seven loads and four limits;" in line for line in told)


@first_of(
    ("fitting", "tight", "starved"),
    [(SINGLE, DIMLESS, STARVED[:1]), (HARBOUR, THREE, STARVED), (HARBOUR, WINTER, STARVED)],
    1,
)
def test_no_text_speaks_of_programs(
    fitting: Call, tight: Call, starved: Sequence[tuple[str, int]], portloom: Portloom
) -> None:
    """It speaks of motorcycles and wires: in its help, its answers, its proofs and its JSON."""
    calls = [
        ("why", "--help"),
        fitting,
        (*fitting, "--for", "brake lamp"),
        (*fitting, "--json"),
        (*tight, "--all", "--proof"),
        (*tight, "--all", "--proof", "--json"),
        (*tight, "--time-limit", "0"),
    ]
    texts = [portloom(*words).stdout for words in calls]
    texts += [text_of(explained(family, seed)) for family, seed in starved]
    assert [word for word in OF_PROGRAMS for text in texts if word in text.lower()] == []


def test_the_unknown_is_no_answer() -> None:
    """As a library, too, a limit that was reached is an answer of its own."""
    bike, unit = starved_case(2, "dimming")
    read = bike_from_text(bike, "bike"), unit_from_text(unit, "unit")
    assert portloom.explain(*read, time_limit=0).answer == Undecided()
