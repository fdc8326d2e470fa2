"""The sheets of every example, as the command writes them: one folder each, for all that looks at them."""

import os
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest
from pages import FolderOf

from calls import ROOT
from laid_bikes import FITTING
from ready import Ran

EVERY_TIME = ("harbour-trail", "bare-single", "sidecar-hauler")
"""A bike of the usual size, the smallest and the largest: looked at in every run, the others in the long part."""


@pytest.fixture(scope="session")
def folder_of(installed: Callable[..., Ran], tmp_path_factory: pytest.TempPathFactory) -> FolderOf:
    """Return what writes an example's sheets and gives their folder."""

    @cache
    def written(bike: str, unit: str) -> Path:
        known = shared(tmp_path_factory) / f"sheets of {bike} on {unit}"
        if not known.exists():
            made = tmp_path_factory.mktemp(bike) / "sheets"
            ran = installed("sheets", str(ROOT / "examples" / f"{bike}.yaml"), "--unit", unit, "--out", str(made))
            assert ran.returncode == 0, ran.stderr
            with suppress(OSError):  # another worker was sooner, with the same sheets
                made.rename(known)
        return known

    return written


def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder that this run's workers have in common."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


def _example(bike: str, unit: str) -> object:
    return pytest.param((bike, unit), marks=() if bike in EVERY_TIME else pytest.mark.long, id=bike)


@pytest.fixture(scope="session", params=[_example(*example) for example in FITTING])
def folder(request: pytest.FixtureRequest, folder_of: FolderOf) -> Path:
    """Return the folder of an example's sheets; a session's, so that all tests of one follow one another."""
    return folder_of(*request.param)
