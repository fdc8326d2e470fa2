"""Two slices of one range of trials: a few for every run, the others for the long part, both through the same code."""

from collections.abc import Sequence

import pytest

FEW = range(1001, 1005)
"""Seeds of random bikes that most files take in every run: what is thrown for one file is there for the next.

In every family some of them can be planned, and in all but one some can't.
"""


def each_seed(few: Sequence[int], more: Sequence[int] = ()) -> pytest.MarkDecorator:
    """Run a test that takes one ``seed`` on each of a few every time, and on each of others in the long part."""
    return pytest.mark.parametrize("seed", [*few, *(pytest.param(seed, marks=pytest.mark.long) for seed in more)])


def slices(name: str, few: Sequence[object], *others: Sequence[object]) -> pytest.MarkDecorator:
    """Run a test on a few trials each time, and on each of the others where 'pytest -m long' asks for it."""
    known = [pytest.param(few, id="few")]
    known += [
        pytest.param(more, id=f"more {number}" if len(others) > 1 else "more", marks=pytest.mark.long)
        for number, more in enumerate(others, 1)
    ]
    return pytest.mark.parametrize(name, known)


def on_seeds(few: Sequence[int], *others: Sequence[int]) -> pytest.MarkDecorator:
    """Run a test that takes ``seeds`` on a few each time, and on others in the long part."""
    return slices("seeds", few, *others)
