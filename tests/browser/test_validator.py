"""Every page and picture is valid: HTML, SVG and CSS, as the Nu Html Checker has it.

Source: the checker that stands behind the W3C's (npm 'vnu-jar', which ``.ci/run`` brings; it needs Java). It is given
the files as they are written, and must have nothing to say, warnings too.
"""

import os
import shutil
import subprocess
from pathlib import Path

from pages import FolderOf

from calls import ROOT
from laid_bikes import FITTING
from slices import first_of

pytest_plugins = ("folders",)
JAR = Path(os.environ.get("VNU_JAR", ROOT / ".venv/validator/node_modules/vnu-jar/build/dist/vnu.jar"))


def said(*files: Path) -> list[str]:
    """Return what the validator says of some files, a line each."""
    java = shutil.which("java")
    assert java is not None, "no Java here: apt-get install default-jre-headless"
    assert JAR.is_file(), f"no validator at {JAR}: npm install --prefix .venv/validator vnu-jar@26.9.27"
    call = [java, "-jar", str(JAR), "--format", "gnu", "--also-check-svg", "--also-check-css", *map(str, files)]
    ran = subprocess.run(call, capture_output=True, encoding="utf-8", timeout=300, check=False)
    return ran.stderr.splitlines()


@first_of(("bike", "unit"), FITTING, 1)
def test_every_page_and_picture_is_valid(folder_of: FolderOf, bike: str, unit: str) -> None:
    folder = folder_of(bike, unit)
    files = sorted([*folder.glob("*.html"), *folder.glob("*.svg")])
    assert len(files) > 10
    assert said(*files) == []


def test_the_validator_finds_what_is_wrong(tmp_path: Path) -> None:
    """It is really asked."""
    wrong = {
        "page.html": "<!doctype html><html lang=en><title>a</title><p><table><td><div></span>",
        "picture.svg": '<svg xmlns="http://www.w3.org/2000/svg"><rectangle width="3"/></svg>',
    }
    for name, text in wrong.items():
        (tmp_path / name).write_text(text, "utf-8")
    complaints = said(*(tmp_path / name for name in wrong))
    assert all(any(name in line for line in complaints) for name in wrong)
