"""Two slices of one range of trials: a few for every run, the others for the long part, both through the same code."""

from collections.abc import Sequence

import pytest

FEW = (1000, 1002)
"""Seeds of random bikes that most files take in every run: what is thrown for one file is there for the next.

They are soon thrown and planned. Some of them can be planned in every family but four, some can't in every family but
seven.
"""
ONE_MORE = 1005
"""Another one of these, which the long part takes beside its own seeds."""


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


def of_trials(few: int, many: int) -> pytest.MarkDecorator:
    """Run a test that takes a ``count`` of trials with a few every time, and with many in the long part."""
    return pytest.mark.parametrize("count", [few, pytest.param(many, marks=pytest.mark.long)])


def first_of(name: str | tuple[str, ...], cases: Sequence[object], count: int) -> pytest.MarkDecorator:
    """Run a test on the first of its cases every time, and on each of the others in the long part.

    Words of one call, under one name, are told by the call.
    """
    known = [pytest.param(*_values(name, case), id=_told(name, case)) for case in cases[:count]]
    more = [pytest.param(*_values(name, case), id=_told(name, case), marks=pytest.mark.long) for case in cases[count:]]
    return pytest.mark.parametrize(name, [*known, *more])


def _values(name: str | tuple[str, ...], case: object) -> Sequence[object]:
    """Return the values of a case: of several names as many, of one name the case as it is."""
    return case if isinstance(name, tuple) and isinstance(case, tuple) else (case,)


def _told(name: str | tuple[str, ...], case: object) -> str | None:
    """Return what a case of one name is called if it is words of a call; all else pytest names."""
    words = isinstance(name, str) and isinstance(case, tuple) and all(isinstance(word, str) for word in case)
    return " ".join(map(str, case)) if words and isinstance(case, tuple) else None


def third_of(name: str | tuple[str, ...], cases: Sequence[object], which: int) -> pytest.MarkDecorator:
    """Run a test on every third case every time, from number ``which`` on, and on the others in the long part.

    Files take other thirds: what each family is good for some test of every run sees.
    """
    chosen = [number % 3 == which for number in range(len(cases))]
    soon = [case for case, now in zip(cases, chosen, strict=True) if now]
    return first_of(name, [*soon, *(case for case, now in zip(cases, chosen, strict=True) if not now)], len(soon))


def later(cases: Sequence[object]) -> list[object]:
    """Return cases of a test as those of the long part."""
    each = (case if isinstance(case, tuple) else (case,) for case in cases)
    return [pytest.param(*values, marks=pytest.mark.long) for values in each]


def on_seeds(few: Sequence[int], *others: Sequence[int]) -> pytest.MarkDecorator:
    """Run a test that takes ``seeds`` on a few each time, and on others in the long part."""
    if few is FEW and others and ONE_MORE not in others[-1]:
        others = (*others[:-1], (*others[-1], ONE_MORE))
    return slices("seeds", few, *others)
