"""Frozen classes of ``portloom.base.values`` against the same classes made by Python's own ``dataclasses``."""

import copy
import dataclasses
import pickle
import subprocess
import sys
from collections.abc import Callable
from dataclasses import field, replace
from functools import cached_property, partial
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portloom.base import values
from portloom.base.quantities import Micrometres
from portloom.job.goal import Cost

Maker = Callable[..., Any]


def empty(maker: Maker) -> type:
    """Return a class of nothing."""

    @maker(frozen=True)
    class Leg:
        """Nothing is known of it."""

    return Leg


def single(maker: Maker) -> type:
    """Return a class of one field."""

    @maker(frozen=True)
    class Leg:
        """One end."""

        start: int

    return Leg


def rich(maker: Maker) -> type:
    """Return a class with defaults of both sorts, things that are not told or not compared, a property, a constant."""

    @maker(frozen=True)
    class Leg:
        """All that a field can be."""

        start: int
        end: int = 7
        names: list[int] = field(default_factory=list, compare=False)
        hidden: int = field(default=3, repr=False, compare=False)

        @cached_property
        def length(self) -> int:
            """Worked out once."""
            return self.end - self.start

    return Leg


def own(maker: Maker) -> type:
    """Return a class that tells and compares by itself, and looks at what it was given."""

    @maker(frozen=True)
    class Leg:
        """With methods of its own."""

        start: int
        end: int = 1

        def __post_init__(self) -> None:
            if self.end < 0:
                raise ValueError("ends before it starts")

        def __repr__(self) -> str:
            return f"leg {self.start}"

        def __eq__(self, other: object) -> bool:
            return isinstance(other, type(self)) and self.start == other.start

        def __hash__(self) -> int:
            return self.start

    return Leg


def by_identity(maker: Maker) -> type:
    """Return a class whose objects are equal to themselves alone."""

    @maker(frozen=True, eq=False)
    class Leg:
        """Two of them are two."""

        start: int
        end: int = 1

    return Leg


def derived(maker: Maker) -> type:
    """Return a class with the fields of another before its own, one of them with another default."""
    base: Any = rich(maker)

    @maker(frozen=True)
    class Sleeve(base):  # type: ignore[misc]
        """A leg, and more."""

        end: int = 9
        width: int = 2

    return Sleeve


SHAPES = (empty, single, rich, own, by_identity, derived)


def told(call: Callable[[], Any]) -> Any:
    """Return what a call returns, or which error it raises."""
    try:
        return call()
    except (TypeError, ValueError, AttributeError) as fault:
        return type(fault), str(fault) if isinstance(fault, dataclasses.FrozenInstanceError | ValueError) else ""


@pytest.mark.parametrize("shape", SHAPES)
@given(some=st.lists(st.integers(-3, 3), max_size=5), others=st.lists(st.integers(-3, 3), max_size=5))
def test_objects_are_those_of_dataclasses(shape: Callable[[Maker], type], some: list[int], others: list[int]) -> None:
    """Made, told, compared, hashed, copied and refused alike, whatever they are made of."""
    seen = [list(_seen(shape(maker), some, others)) for maker in (values.dataclass, dataclasses.dataclass)]
    assert seen[0] == seen[1]


def _seen(cls: Any, some: list[int], others: list[int]) -> Any:
    yield cls.__match_args__, [each.name for each in dataclasses.fields(cls)], cls.__doc__
    one, same, other = (told(partial(cls, *args)) for args in (some, some, others))
    yield repr(one), repr(other)
    if isinstance(one, tuple):
        return
    yield one == same, one == other, one != other, one == 3, told(lambda: len({one, same, other}))
    yield told(lambda: hash(one) == hash(same)), told(lambda: (one.start, one.end))
    yield repr(told(lambda: replace(one, start=5))), repr(told(lambda: replace(one, nothing=5)))
    yield repr(copy.deepcopy(one)), told(lambda: one.length), told(lambda: one.hidden)
    for name in ("start", "nothing"):
        yield told(partial(setattr, one, name, 1)), told(partial(delattr, one, name))
    yield repr(told(lambda: cls(start=2))), told(lambda: cls(1, 2, begin=2)), repr(told(lambda: cls(1, start=2)))


def test_objects_are_sent_to_a_process_that_never_made_one() -> None:
    """Pickled here and read there they are the same, and more can be made."""
    said = subprocess.run(
        [
            sys.executable,
            "-c",
            "import pickle, sys; one = pickle.load(sys.stdin.buffer); print(one, one == type(one)(1, 2))",
        ],
        input=pickle.dumps(Cost(Micrometres(1), Micrometres(2))),
        capture_output=True,
        check=True,
    )
    assert said.stdout == b"Cost(wire_run=1, spare_port_loss=2, legs_in_use=0) True\n"


def test_an_object_that_holds_itself_is_told() -> None:
    """What is told of it ends."""
    cls = rich(values.dataclass)
    one = cls(1)
    one.names.append(one)
    assert repr(one).count("...") == 1
