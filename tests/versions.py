"""The core of the tests with the oldest and the newest version of each library, and on each Python that ortools is for.

Run on demand: ``python -m tests.versions``. It makes environments of its own in a temporary folder, from a package
registry, and takes the Pythons that are on the path or that pyenv has; those that are not there are named.
"""

import argparse
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from importlib.metadata import metadata
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parent.parent
CORE = ("test_bad_files", "test_command_line", "test_golden", "test_new", "test_plan_json")
"""Every command, the golden texts, and each bad file."""
WITH = ("pytest", "pytest-xdist")
"""What these need beside the program."""


def pinned() -> dict[str, str]:
    """Return each library that the program runs on, with the oldest version that is allowed."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    found = re.findall(r"^([\w-]+)>=([\d.]+),<", "\n".join(project["dependencies"]), re.MULTILINE)
    assert len(found) == len(project["dependencies"]), "each library has an oldest version, and one that is too new"
    return dict(found)


def pythons() -> tuple[str, ...]:
    """Return the Pythons that both the program and its solver are for, such as '3.12'."""
    known = metadata("ortools").get_all("Classifier") or []
    minors = [
        int(found[1]) for line in known if (found := re.fullmatch(r"Programming Language :: Python :: 3\.(\d+)", line))
    ]
    return tuple(f"3.{minor}" for minor in sorted(minors) if minor >= 11)


def interpreter(version: str) -> str | None:
    """Return a Python of that version on this machine."""
    by_pyenv = sorted(Path.home().glob(f".pyenv/versions/{version}.*/bin/python"))
    for name in (shutil.which(f"python{version}"), *map(str, by_pyenv)):
        if name and subprocess.run([name, "--version"], capture_output=True, check=False).returncode == 0:
            return name
    return None


def sets(oldest: Mapping[str, str], *, with_oldest: bool) -> Iterator[tuple[str, list[str]]]:
    """Return what is installed each time, by a name: the newest of all, then the oldest of each, then of all."""
    yield "the newest of each", [*oldest]
    if with_oldest:
        for name, version in oldest.items():
            yield f"{name} {version}", [f"{name}=={version}", *(other for other in oldest if other != name)]
        yield "the oldest of each", [f"{name}=={version}" for name, version in oldest.items()]


def tried(python: Path, wanted: list[str]) -> tuple[bool, str]:
    """Install what is wanted into an environment and run the core; return whether it passed, and what was said last."""
    quiet = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--upgrade"]
    for step in (
        [*quiet, *wanted],
        [*quiet, "--no-deps", "--force-reinstall", str(ROOT)],
        ["-m", "pip", "check"],
        _tests(),
    ):
        ran = subprocess.run(
            [str(python), *step], cwd=ROOT, env=_environment(), capture_output=True, encoding="utf-8", check=False
        )
        if ran.returncode:
            return False, ran.stdout + ran.stderr
    return True, ran.stdout.splitlines()[-1]


def _tests() -> list[str]:
    return ["-m", "pytest", "-q", "-n", "2", "--tb=line", *(f"tests/{name}.py" for name in CORE)]


def _environment() -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}


def main() -> int:
    """Print a line for each Python and each set of versions; return 1 where one fails."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--python", action="append", help="only this one, such as 3.12; may be repeated")
    failed = 0
    for number, version in enumerate(asked.parse_args().python or pythons()):
        found = interpreter(version)
        if found is None:
            print(f"Python {version}: not tried, there is none on this machine", flush=True)
            continue
        with TemporaryDirectory() as folder:
            subprocess.run([found, "-m", "venv", folder], check=True)
            python = Path(folder) / ("Scripts" if sys.platform == "win32" else "bin") / "python"
            for name, wanted in sets(pinned(), with_oldest=number == 0):
                passed, said = tried(python, [*wanted, *WITH])
                print(f"Python {version}, {name}: {'passed' if passed else 'FAILED'}, {said}", flush=True)
                failed += not passed
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
