"""Every page and picture is valid: HTML, SVG and CSS, as the Nu Html Checker has it.

Source: the checker that stands behind the W3C's (npm 'vnu-jar', which ``.ci/run`` brings; it needs Java). It is given
the files as they are written, and must have nothing to say, warnings too.
"""

import os
import shutil
import subprocess
from itertools import chain
from pathlib import Path

import pytest
from pages import FolderOf

from calls import ROOT
from laid_bikes import FITTING

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


def test_every_page_and_picture_is_valid(folder_of: FolderOf) -> None:
    """Those of all examples at once: the validator takes long to start."""
    folders = [folder_of(*example) for example in FITTING]
    files = [sorted([*folder.glob("*.html"), *folder.glob("*.svg")]) for folder in folders]
    assert min(map(len, files)) > 10
    assert said(*chain.from_iterable(files)) == []


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("page.html", "<!doctype html><html lang=en><title>a</title><p><table><td><div></span>"),
        ("picture.svg", '<svg xmlns="http://www.w3.org/2000/svg"><rectangle width="3"/></svg>'),
    ],
)
def test_the_validator_finds_what_is_wrong(tmp_path: Path, name: str, text: str) -> None:
    """It is really asked."""
    (tmp_path / name).write_text(text, "utf-8")
    assert said(tmp_path / name)
