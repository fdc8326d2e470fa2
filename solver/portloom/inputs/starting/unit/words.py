"""How what a data sheet says of a port is read: amperes, modes, signals, faces."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import get_args

from portloom.base.letters import quoted
from portloom.base.nearest import suggest
from portloom.base.quantities import QuantityError
from portloom.base.sizes import parse_size
from portloom.base.unit import FACES, KeyOff
from portloom.base.vocabulary import DIM, MODES, Signal
from portloom.inputs.starting.answers import listed
from portloom.inputs.starting.kinds import SPACED, Cell, NotRight, amount
from portloom.inputs.starting.ports import span
from portloom.inputs.tree import CURRENT, FREQUENCY, TIME, VOLTAGE

NOT_TOLD = "not told"
"""Where the sheet does not say it: the file leaves it out, and what hangs on it is not judged."""
LEAST, MOST = "0.1 A", "100 A"
HIGHEST_PEAK = "500 A"


def _or_not_told(read: Callable[[str], str]) -> Callable[[str], str]:
    return lambda said: NOT_TOLD if said.casefold() == NOT_TOLD else read(said)


def _word_of(known: Sequence[str], said: str) -> str:
    if said.casefold() not in known:
        raise NotRight(f"'{quoted(said)}' is not a word for this; {suggest(said, known)}")
    return said.casefold()


def _words_of(known: Sequence[str], said: str) -> str:
    return ", ".join(dict.fromkeys(_word_of(known, word) for word in _at_least_one(said)))


def _at_least_one(said: str) -> tuple[str, ...]:
    words = listed(said)
    if not words:
        raise NotRight(f"'{quoted(said)}' names none; write one at least, with commas between several")
    return words


def _limit(said: str) -> str:
    return amount(said, CURRENT, LEAST, MOST)


def _peak(said: str) -> str:
    current, for_, time = said.partition(" for ")
    return amount(current, CURRENT, LEAST, HIGHEST_PEAK) + (
        f" for {amount(time, TIME, '1 ms', '10 s')}" if for_ else ""
    )


def _trips(said: str) -> str:
    return ", ".join(amount(trip, CURRENT, LEAST, MOST) for trip in _at_least_one(said))


def _pulses(said: str) -> str:
    voltage, comma, rate = said.partition(",")
    if not comma:
        raise NotRight("two are wanted, the highest voltage and the highest rate; write such as '30 V, 1 kHz'")
    return f"{amount(voltage, VOLTAGE, '1 V', '1000 V')}, {amount(rate, FREQUENCY, '1 Hz', '100 kHz')}"


def _bank(said: str) -> str:
    name, comma, limit = said.partition(",")
    if said.casefold() == NO_BANK:
        return NO_BANK
    if not comma or not name.strip():
        raise NotRight("its name and its limit are wanted; write such as 'A, 22 A'")
    return f"{name.strip()}, {amount(limit, CURRENT, LEAST, '500 A')}"


def _size(said: str) -> str:
    try:
        return parse_size(SPACED.sub(" ", said, count=1)).label
    except QuantityError as error:
        raise NotRight(str(error)) from error


NO_BANK = NO_INPUT = "none"
YES_NO = ("yes", "no")
LIMIT = Cell("", _limit)
PEAK = Cell(NOT_TOLD, _or_not_told(_peak))
TRIPS = Cell(NOT_TOLD, _or_not_told(_trips))
DIMS = Cell("no", partial(_word_of, YES_NO))
INDUCTIVE = Cell(NOT_TOLD, partial(_word_of, (*YES_NO, NOT_TOLD)))
KEY_OFF = Cell("never", partial(_word_of, get_args(KeyOff)))
BANK = Cell(NO_BANK, _bank)
FACE = Cell("front", partial(_word_of, FACES))
WIRE = Cell(NOT_TOLD, _or_not_told(_size))
SIGNALS = Cell("", partial(_words_of, get_args(Signal)))
PULSES = Cell(NOT_TOLD, _or_not_told(_pulses))


def modes(own: Sequence[str]) -> Cell:
    """Return how switch modes are read; ``own`` are those that the unit has beside the usual ones."""
    return Cell("", partial(_words_of, (*(mode for mode in MODES if mode != DIM), *own)))


def following(inputs: Sequence[str]) -> Cell:
    """Return how the input is read whose switch an output always follows."""

    def read(said: str) -> str:
        if said not in (NO_INPUT, *inputs):
            raise NotRight(f"there is no input '{quoted(said)}'; {suggest(said, inputs)}")
        return said

    return Cell(NO_INPUT, read)


Each = Mapping[str, str]


def peaks_too_low(limits: Each, peaks: Each) -> str:
    """Say which output could pass less for a moment than for hours."""
    low = [
        port for port, peak in peaks.items()
        if peak != NOT_TOLD and CURRENT.parse(peak.partition(" for ")[0]) < CURRENT.parse(limits[port])
    ]  # fmt: skip
    return f"the peak of {span(low)} is less than the limit, {limits[low[0]]}; write the higher current" if low else ""


def trips_too_high(limits: Each, trips: Each) -> str:
    """Say which output has no trip that protects it."""
    high = [
        port for port, said in trips.items()
        if said != NOT_TOLD and min(map(CURRENT.parse, listed(said))) > CURRENT.parse(limits[port])
    ]  # fmt: skip
    right = "write one at least that is no more"
    return f"no trip of {span(high)} is within the limit, {limits[high[0]]}; {right}" if high else ""


def banks_at_odds(banks: Each) -> str:
    """Say which bank has two limits."""
    limits: dict[str, str] = {}
    for said in banks.values():
        name, _, limit = said.partition(", ")
        if said != NO_BANK and limits.setdefault(name, limit) != limit:
            return f"bank {name} can't have {limits[name]} and {limit}; write one limit, or another name"
    return ""
