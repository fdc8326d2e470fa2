"""Crowds: more loads or switches than the ports that take them.

Things on ports at random, checked by Hall's theorem with networkx (``hall``), and bikes with numbers by hand.
"""

from collections.abc import Callable, Iterable, Sequence

from hypothesis import given, settings
from hypothesis import strategies as st

from explained import Texts, questions_on
from fact_trials import FINE, HALF, IN, IT, OTHER, PLAIN, SWITCH, TOGETHER, texts
from hall import assert_crowd, most_seated
from oracle.facts import Key
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import relaxed_to
from portloom.search.matching import Matching

# --- any things on any ports

seats = st.integers(1, 6).flatmap(
    lambda kinds: st.tuples(
        st.lists(st.integers(1, 4), min_size=kinds, max_size=kinds),
        st.lists(st.lists(st.integers(0, kinds - 1), unique=True), max_size=14),
    )
)


@given(seats)
@settings(deadline=None, max_examples=500)
def test_each_thing_that_stands_has_its_crowd(seat: tuple[list[int], list[list[int]]]) -> None:
    """As many things stand as networkx leaves without a port, and for each there is a crowd."""
    room, able = seat
    ports = [[f"{kind}.{number}" for number in range(count)] for kind, count in enumerate(room)]
    takes = {f"thing {number}": [port for kind in kinds for port in ports[kind]] for number, kinds in enumerate(able)}
    matching = Matching({f"thing {number}": kinds for number, kinds in enumerate(able)}, room)
    assert len(takes) - len(matching.standing) == most_seated(takes, takes)
    crowds = matching.crowds()
    assert len(crowds) == len(matching.standing)
    assert [len(crowd.things) for crowd in crowds] == sorted(len(crowd.things) for crowd in crowds)
    for crowd in crowds:
        assert_crowd(crowd.things, [port for kind in crowd.kinds for port in ports[kind]], takes)


# --- bikes with numbers by hand

DIMS = "current: 1 A, kind: heater, mode: dim"
DIMMING = f"names: [c, d], {FINE.removeprefix('name: a, ')}, pwm: true"
PULSING = "signal: pulse, tells: key, rate: 100 Hz"


def crowds_of(written: Texts, crowds: Callable[..., Iterable[Sequence[Key]]]) -> list[set[Key]]:
    """Return the facts of each crowd of a whole bike."""
    instance = questions_on(written).instance
    return [set(keys) & instance.everything for keys in crowds(relaxed_to(instance, instance.keys))]


def test_three_loads_on_two_dimming_outputs() -> None:
    """A fourth load that is not dimmed is none of the crowd; with a third dimming output there is none."""
    loads = [f"name: heater {number}, at: head, {DIMS}" for number in (1, 2, 3)]
    names = ("heater 1", "heater 2", "heater 3")
    wanted = {(what, name) for what in ("load", "mode") for name in names} | {("outputs", "c")}
    others = (FINE, FINE.replace(" a", " b"))
    bike = texts(PLAIN, *loads, outputs=(*others, DIMMING))
    assert crowds_of(bike, output_crowds) == [wanted]
    assert crowds_of(texts(PLAIN, *loads, outputs=(*others, DIMMING.replace("d]", "d, e]"))), output_crowds) == []


def test_a_load_that_no_output_takes_is_a_crowd_of_one() -> None:
    """31 A at switch-on on a peak of 30 A; the crowd counts no port."""
    bike = texts(f"{IT}, current: 1 A, inrush: 31 A", outputs=(FINE,))
    assert crowds_of(bike, output_crowds) == [{("load", "it"), ("inrush", "it")}]


def test_loads_that_may_share_are_no_crowd() -> None:
    """Two of a group on one output are none; of two modes, which are kept apart, they are."""
    ban: set[Key] = {("load", "it"), ("load", "other"), ("ban", "it", "other"), ("outputs", "a")}
    assert crowds_of(texts(HALF, OTHER, outputs=(TOGETHER,)), output_crowds) == []
    assert crowds_of(texts(f"{HALF}, mode: hold", OTHER, outputs=(TOGETHER,)), output_crowds) == [ban]


def test_two_sensors_on_one_pulse_input() -> None:
    """A switch to earth goes on another input."""
    switches = (f"{SWITCH}, {PULSING}", f"name: second, at: head, {PULSING}", "name: third, at: head, signal: earth")
    inputs = (IN, "names: [in 2, in 3], accepts: [earth]")
    wanted: set[Key] = {(what, name) for what in ("switch", "signal") for name in ("switch", "second")}
    bike = texts(PLAIN, switches=(*switches[:2], f"{switches[2]}, operates: it"), inputs=inputs)
    assert crowds_of(bike, input_crowds) == [wanted | {("inputs", "in 1")}]
