"""``portloom diff`` as users call it: two plans or two bikes, what is printed, exit codes, and calls that are wrong.

The bikes are made up.
"""

import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from jsonschema import validate

from calls import DIMLESS, HARBOUR, NO_PLACE, ROOT, TOO_SMALL, Call, Portloom, changed, small_job
from portloom.documents.assumed import CAUTIONS
from slices import first_of
from test_golden import is_golden

GOLDEN = Path(__file__).parent / "golden" / "differences"
UNIT = ("--unit", "unit.yaml")
LISTED = {"type": "array", "items": {"type": "string"}}
SIDE = {"type": "object", "required": ["bike", "units"], "properties": {"bike": {"type": "string"}, "units": LISTED}}
CHANGE = {
    "type": "object",
    "required": ["kind", "part", "subject", "key", "old", "new"],
    "properties": {
        "kind": {"enum": ["moved", "wire", "setting", "whole", "sentence", "figure"]},
        "part": {"type": "string"},
        "subject": {"type": "string"},
        "key": {"type": "string"},
        "cut": {"type": "string"},
    },
}
DOCUMENT = {
    "type": "object",
    "additionalProperties": False,
    "required": ["status", "old", "new", "changes", "warnings_that_stay", "set_aside", "cautions"],
    "properties": {
        "status": {"enum": ["the same", "different"]},
        "old": SIDE,
        "new": SIDE,
        "changes": {"type": "array", "items": CHANGE},
        "warnings_that_stay": LISTED,
        "set_aside": {"type": "array"},
        "cautions": LISTED,
    },
}


@pytest.fixture
def bikes(tmp_path: Path) -> Path:
    """Return a folder with a small bike, the same with a longer tail, and their unit."""
    small_job(tmp_path)
    shutil.copy(tmp_path / "bike.yaml", tmp_path / "longer.yaml")
    changed(tmp_path / "longer.yaml", ("length: 360 mm", "length: 460 mm"))
    return tmp_path


@pytest.fixture
def plans(bikes: Path, portloom: Portloom) -> Path:
    """Return that folder with their plans in JSON, too."""
    for name in ("bike", "longer"):
        text = portloom("plan", f"{name}.yaml", *UNIT, "--json", folder=bikes).stdout
        (bikes / f"{name}.json").write_text(text, "utf-8")
    return bikes


# --- answers


def test_two_plans_that_are_the_same_are_0(portloom: Portloom, plans: Path) -> None:
    """One line says so."""
    ran = portloom("diff", "bike.json", "bike.json", folder=plans)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout == "My bike on the four-way: THE SAME plan, in all that it tells.\n"
    ran = portloom("diff", "bike.yaml", "bike.yaml", *UNIT, folder=plans)
    assert (ran.returncode, ran.stdout.count("\n")) == (0, 1)


def test_two_that_differ_are_1_and_bikes_say_what_their_plans_say(portloom: Portloom, plans: Path) -> None:
    """Two bikes with their unit give what their plans give, word for word, in text and in JSON."""
    for extra in ((), ("--json",)):
        of_plans = portloom("diff", "bike.json", "longer.json", *extra, folder=plans)
        of_bikes = portloom("diff", "bike.yaml", "longer.yaml", *UNIT, *extra, folder=plans)
        assert (of_plans.returncode, of_plans.stderr) == (of_bikes.returncode, of_bikes.stderr) == (1, "")
        assert of_plans.stdout == of_bikes.stdout


def test_text(portloom: Portloom, plans: Path, *, rewrite: bool) -> None:
    """The text is the golden one, no line wider than 100 columns, cautions last."""
    text = portloom("diff", "bike.json", "longer.json", folder=plans).stdout
    assert max(map(len, text.splitlines())) <= 100
    is_golden(text, GOLDEN / "longer-tail.txt", rewrite=rewrite)


CHANGED = (
    ("current: 3.5 A, fed: fuse,", "current: 3.5 A, fed: relay,"),
    ("- {part: tail lamp, at: tail,", "- {part: tail lamp, on: out 9, at: tail,"),
)  # fmt: skip


def test_text_of_a_whole_bike(portloom: Portloom, tmp_path: Path, *, rewrite: bool) -> None:
    """A horn that gets a relay and a tail lamp that is pinned: loads move, wires are cut, ports are set otherwise."""
    shutil.copy(ROOT / HARBOUR[1], tmp_path / "new.yaml")
    changed(tmp_path / "new.yaml", *CHANGED)
    ran = portloom("diff", str(ROOT / HARBOUR[1]), "new.yaml", "--unit", "eleven-way", folder=tmp_path)
    assert (ran.returncode, ran.stderr) == (1, "")
    is_golden(ran.stdout, GOLDEN / "harbour-trail-changed.txt", rewrite=rewrite)


def test_json(portloom: Portloom, plans: Path) -> None:
    """One document, with every change typed, the same or not."""
    for new, status in (("longer.json", "different"), ("bike.json", "the same")):
        document = json.loads(portloom("diff", "bike.json", new, "--json", folder=plans).stdout)
        validate(document, DOCUMENT)
        assert document["status"] == status
        assert bool(document["changes"]) is (status == "different")
        assert document["cautions"] == list(CAUTIONS)


def test_two_units(portloom: Portloom, bikes: Path) -> None:
    """Plans of two units are compared, too, and one of two with one of one."""
    seat = "rear: tail, way_round: either}"
    changed(bikes / "bike.yaml", (seat, f"{seat}\n  - {{name: neck, front: headstock}}"))
    call = ("diff", "bike.yaml", "bike.yaml", *UNIT, *UNIT)
    assert portloom(*call, folder=bikes).returncode == 0
    for name, units in (("one", UNIT), ("two", (*UNIT, *UNIT))):
        text = portloom("plan", "bike.yaml", *units, "--json", folder=bikes).stdout
        (bikes / f"{name}.json").write_text(text, "utf-8")
    ran = portloom("diff", "one.json", "two.json", folder=bikes)
    assert ran.returncode == 1
    assert "four-way 1 " in ran.stdout
    assert "four-way 2 " in ran.stdout


def test_a_bike_without_a_plan_is_1(portloom: Portloom) -> None:
    """No difference is told; which bike has no plan is, on stdout, and nobody reads it as the same."""
    call = ("diff", "examples/bare-single.yaml", DIMLESS[1], "--unit", "six-way")
    ran, document = portloom(*call), portloom(*call, "--json")
    assert (ran.returncode, document.returncode, ran.stderr) == (1, 1, "")
    assert ran.stdout.startswith("NO DIFFERENCE CAN BE TOLD: there are not two plans.\n")
    assert f"{DIMLESS[1]}: NOTHING FITS, proved." in ran.stdout
    told = json.loads(document.stdout)
    assert (told["status"], told["old"]["status"], told["new"]["status"]) == ("no plan", "planned", "no plan")


# --- calls and files that are wrong

UNPLANNED: dict[str, Call] = {
    "nothing fits": (*DIMLESS, "--json"),
    "no place": (*NO_PLACE, "--json"),
    "time limit": (*HARBOUR, "--time-limit", "0", "--json"),
    "why": ("why", *HARBOUR[1:], "--json"),
    "why not": ("why", *TOO_SMALL[1:], "--json"),
    "check": ("check", "examples/harbour-trail-posted.md", *HARBOUR[1:], "--json"),
    "compare": ("compare", "examples/bare-single.yaml", "--unit", "six-way", "--json"),
    "units": ("units", "--json"),
    "parts": ("parts", "--json"),
    "schema": ("schema", "bike"),
}


@first_of("what", [*UNPLANNED], 1)
def test_other_documents_are_refused(portloom: Portloom, plans: Path, what: str) -> None:
    """What other commands print is no plan: one line on stderr says what it is, and what would be right."""
    (plans / "other.json").write_text(portloom(*UNPLANNED[what]).stdout, "utf-8")
    for call in (("bike.json", "other.json"), ("other.json", "bike.json")):
        ran = portloom("diff", *call, folder=plans)
        assert (ran.returncode, ran.stdout, ran.stderr.count("\n")) == (2, "", 1)
        assert ran.stderr.startswith("other.json:1:1: this ")


def test_a_difference_is_no_plan(portloom: Portloom, plans: Path) -> None:
    """Nor is what this command prints itself."""
    (plans / "difference.json").write_text(portloom("diff", "bike.json", "longer.json", "--json", folder=plans).stdout)
    ran = portloom("diff", "bike.json", "difference.json", folder=plans)
    assert ran.returncode == 2
    assert "this is a difference of two plans" in ran.stderr


def _with(name: str, value: object) -> Callable[[dict[str, object]], None]:
    return lambda document: document.update({name: value})


SPOILT: dict[str, tuple[Callable[[dict[str, object]], object], str]] = {
    "a key that is gone": (lambda document: document.pop("energy"), "it has no 'energy'"),
    "a key of a unit that is gone": (lambda document: document.pop("lamps"), "it has no 'lamps'"),
    "a key that is new": (_with("plugs", []), "this one knows no 'plugs'"),
    "no list": (_with("outputs", "none"), "what stands under 'outputs' is not what this version prints there"),
    "no entries": (_with("legs", [1]), "what stands under 'legs' is not"),
    "no loads": (_with("outputs", [{"port": "out 1"}]), "what stands under 'outputs' is not"),
    "no words": (_with("warnings", [1]), "what stands under 'warnings' is not"),
    "no feed": (_with("feed", []), "what stands under 'feed' is not"),
    "three units": (_with("units", [{}, {}, {}]), "what stands under 'units' is not"),
}


@first_of("what", [*SPOILT], 4)
def test_plans_of_another_version_are_refused(portloom: Portloom, plans: Path, what: str) -> None:
    """A plan that this version would not print like that is refused with what is other, never compared in part."""
    spoil, said = SPOILT[what]
    document = json.loads((plans / "bike.json").read_text("utf-8"))
    spoil(document)
    (plans / "spoilt.json").write_text(json.dumps(document), "utf-8")
    ran = portloom("diff", "bike.json", "spoilt.json", folder=plans)
    assert (ran.returncode, ran.stdout, ran.stderr.count("\n")) == (2, "", 1)
    assert ran.stderr.startswith("spoilt.json:1:1: ")
    assert said in ran.stderr


BROKEN = {
    '{"status": "planned",\n  "bike": }': "broken.json:2:11: this is no JSON: ",
    "[1, 2]": "broken.json:1:1: this JSON is no plan",
    "3": "broken.json:1:1: this JSON is no plan",
    '{"status": "planned", "status": "planned"}': "broken.json:1:1: 'status' stands twice in one object",
    '{"status": NaN}': "broken.json:1:1: 'NaN' is no figure of a plan",
    '{"status": 1e999999999999999999999}': "broken.json:1:1: '1e999999999999999999999' is no figure of a plan",
    "[" * 100_000: "broken.json:1:1: this is nested too deep",
}


@pytest.mark.parametrize("text", BROKEN, ids=lambda text: text[:20])
def test_broken_json_is_refused_with_its_place(portloom: Portloom, tmp_path: Path, text: str) -> None:
    """It is told with line and column, for each of both files."""
    (tmp_path / "broken.json").write_text(text, "utf-8")
    ran = portloom("diff", "broken.json", "broken.json", folder=tmp_path)
    assert (ran.returncode, ran.stdout, ran.stderr.count("\n")) == (2, "", 1)
    assert ran.stderr.startswith(BROKEN[text])


WRONG: tuple[tuple[Call, str], ...] = (
    (("bike.yaml", "longer.yaml"), "portloom diff: these files are no JSON, and bikes are planned on a unit; add"),
    (("bike.json", "longer.yaml"), "portloom diff: bike.json is in JSON as a plan is, and longer.yaml is not; "),
    (("bike.yaml", "longer.json", *UNIT), "portloom diff: longer.json is in JSON as a plan is, and bike.yaml is"),
    (("bike.json", "longer.json", *UNIT), "portloom diff: --unit is for two bikes, here are two plans in JSON; "),
    (("bike.yaml", "longer.yaml", *UNIT, *UNIT, *UNIT), "portloom diff: --unit is given 3 times; name one unit"),
    (("bike.yaml", "longer.yaml", "--unit", "elevn-way"), "elevn-way: there is no such file in "),
    (("bike.yaml", "unit.yaml", *UNIT), "unit.yaml:"),
    (("nowhere.json", "bike.json"), "nowhere.json: there is no such file in "),
)


@pytest.mark.parametrize(("words", "said"), WRONG)
def test_wrong_calls_are_told_in_a_line(portloom: Portloom, plans: Path, words: Call, said: str) -> None:
    """One clear line, exit code 2, nothing on stdout."""
    ran = portloom("diff", *words, folder=plans)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.splitlines()[0].startswith(said)


def test_what_is_wrong_with_both_files_comes_at_once(portloom: Portloom, bikes: Path) -> None:
    """A line each; of the unit, which both share, once."""
    changed(bikes / "bike.yaml", ("10 Ah", "10"))
    changed(bikes / "longer.yaml", ("620 mm", "620 A"))
    changed(bikes / "unit.yaml", ("face: rear", "face: top"))
    ran = portloom("diff", "bike.yaml", "longer.yaml", *UNIT, folder=bikes)
    told = [":".join(line.split(":")[:2]) for line in ran.stderr.splitlines()]
    assert (ran.returncode, told) == (2, ["bike.yaml:5", "longer.yaml:9", "unit.yaml:3", "More: portloom help keys"])
    ran = portloom("diff", "nowhere.json", "neither.json", folder=bikes)
    assert ran.stderr.count("there is no such file") == 2


def test_a_bike_may_be_written_in_json(portloom: Portloom, bikes: Path) -> None:
    """JSON is YAML, so a bike's file in JSON is a bike's."""
    legs = [{"between": ["tray", "tail"], "length": "300 mm"}]
    bike = {
        "bike": "Small", "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": "tray"}},
        "frame": {"legs": legs, "earth": "tray"}, "places": [{"name": "here", "front": "tray"}],
        "loads": [{"part": "tail lamp", "at": "tail", "lamp": "P21/5W tail"}], "ignition": "own", "stand": "none",
        "engine_stop": "key", "inputs": [{"part": "key switch", "at": "tray"}],
    }  # fmt: skip
    (bikes / "small.json").write_text(json.dumps(bike), "utf-8")
    ran = portloom("diff", "small.json", "small.json", *UNIT, folder=bikes)
    assert (ran.returncode, ran.stderr) == (0, "")


def test_two_plans_are_compared_without_the_search(plans: Path, environment: dict[str, str]) -> None:
    """No ortools is loaded to compare two documents."""
    code = (
        "import sys; sys.argv = ['portloom', 'diff', 'bike.json', 'longer.json']\n"
        "from portloom.cli.main import main\n"
        "try:\n    main()\nexcept SystemExit as end:\n    sys.exit(10 * ('ortools' in sys.modules) + end.code)\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], cwd=plans, env=environment, capture_output=True, check=False)
    assert ran.returncode == 1
