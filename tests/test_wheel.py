"""The wheel, built and installed as a user would have it: alone, and far from the checkout."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a wheel and unpack it into a folder of its own; give that folder."""
    built = tmp_path_factory.mktemp("built")
    target = tmp_path_factory.mktemp("installed")
    _run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(built), str(ROOT))
    (wheel,) = built.glob("*.whl")
    _run(sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(target), str(wheel))
    return target


def _run(*call: str, folder: Path | None = None, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a command to its end; fail with what it says where it fails."""
    ran = subprocess.run(
        call, cwd=folder, env=os.environ | environment, capture_output=True, encoding="utf-8", check=False
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran


def _portloom(installed: Path, folder: Path, *words: str) -> str:
    """Run the installed command in ``folder``; of this environment it takes the libraries, never the project."""
    command = installed / "bin" / "portloom"
    return _run(sys.executable, str(command), *words, folder=folder, PYTHONPATH=str(installed)).stdout


def test_taken_from_the_wheel(installed: Path, tmp_path: Path) -> None:
    """What these tests run is the wheel's code, not the checkout's."""
    where = _run(
        sys.executable, "-c", "import portloom; print(portloom.__file__)", folder=tmp_path, PYTHONPATH=str(installed)
    )
    assert Path(where.stdout.strip()) == installed / "portloom" / "__init__.py"


def test_bundled_units_are_found_by_name(installed: Path, tmp_path: Path) -> None:
    """From an empty folder elsewhere, the wheel lists its units and plans a bike on one of them by its name."""
    lines = _portloom(installed, tmp_path, "units", "--plain").splitlines()
    names = [line.removeprefix("unit: ") for line in lines if line.startswith("unit: ")]
    assert sorted(names) == sorted(path.stem for path in (ROOT / "profiles").glob("*.yaml"))
    (tmp_path / "bike.yaml").write_text(_portloom(installed, tmp_path, "new", "bike"), "utf-8")
    assert "FITS, proven best" in _portloom(installed, tmp_path, "plan", "bike.yaml", "--unit", "eleven-way")
    assert _portloom(installed, tmp_path, "units", "eleven-way").startswith("# ")


def test_nothing_else_is_installed(installed: Path) -> None:
    """The wheel holds the package and its profiles, no tests, examples or other folders."""
    assert {path.name for path in installed.iterdir() if not path.name.endswith(".dist-info")} == {"portloom", "bin"}
    held = {path.name for path in (installed / "portloom" / "_profiles").iterdir()}
    assert held == {path.name for path in (ROOT / "profiles").iterdir()}


def test_the_formulation_of_the_model_is_in_the_wheel(installed: Path) -> None:
    """Who checks the mathematics has it beside the code."""
    here = Path("portloom", "search", "FORMULATION.md")
    assert (installed / here).read_text("utf-8") == (ROOT / "solver" / here).read_text("utf-8")


def test_the_topics_are_in_the_wheel(installed: Path, tmp_path: Path) -> None:
    """What 'portloom help' tells is there without the checkout."""
    folder = ROOT / "solver" / "portloom" / "cli" / "help_texts"
    assert _portloom(installed, tmp_path, "help", "exit", "codes") == (folder / "exit codes.txt").read_text("utf-8")
