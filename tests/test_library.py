"""The same as a library: typed models in, a typed answer out."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

import portloom
from portloom.comparing.row import Fit
from portloom.documents.difference.printed import PrintedPlan
from portloom.documents.json import plan_json
from portloom.inputs.files import find_unit, read_bike, read_unit
from portloom.planning.plan import Planned

EXAMPLES = Path(__file__).parents[1] / "examples"


def test_plan_takes_and_gives_typed_models() -> None:
    """``portloom.plan`` plans a bike that was read, or built, on a unit."""
    answer = portloom.plan(read_bike(EXAMPLES / "bare-single.yaml"), read_unit(find_unit("six-way")))
    assert isinstance(answer, Planned)
    assert answer.plan.only.unit == "six-way"


def test_compare_takes_and_gives_typed_models() -> None:
    """``portloom.compare`` compares units for bikes that were read, or built."""
    bikes, units = [read_bike(EXAMPLES / "bare-single.yaml")], [read_unit(find_unit("six-way"))]
    (table,) = portloom.compare(bikes, units).bikes
    fit = table.of_unit("six-way").fit
    assert isinstance(fit, Fit)
    assert fit.place == "under the tank"


def test_diff_takes_plans_and_gives_a_typed_difference() -> None:
    """``portloom.diff`` compares plans as they were found, or read back from JSON."""
    answer = portloom.plan(read_bike(EXAMPLES / "bare-single.yaml"), read_unit(find_unit("six-way")))
    assert isinstance(answer, Planned)
    printed = PrintedPlan.read(json.dumps(plan_json(answer.plan)), "plan.json")
    assert portloom.diff(answer.plan, printed).same


def test_the_library_starts_without_the_search() -> None:
    """Importing the library, and reading files by it, loads no ortools."""
    code = "import portloom, portloom.inputs.files, sys; sys.exit('ortools' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_what_there_is_not_is_said() -> None:
    """An unknown name is an AttributeError, as anywhere."""
    with pytest.raises(AttributeError, match="portloom has no 'fly'"):
        _ = portloom.fly
