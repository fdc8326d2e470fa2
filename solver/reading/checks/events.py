"""States and events: only those that there are, and not too many of one's own."""

from collections.abc import Iterator, Sequence

from solver.reading.describing import misspelt
from solver.reading.problems import Flaw
from solver.reading.tree import Keyed, Word, entries, keyed, words
from solver.words.bike import Bike
from solver.words.moments import EVENTS, MOST_OWN_EVENTS, STATES
from solver.words.nearest import nearest, suggest


def event_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell unknown states and events, and events that can't be what the file says."""
    own = keyed(bike, "events")
    names = tuple(own.keys) if own else ()
    known = (*EVENTS, *(name for name in names if name not in EVENTS))
    told = misspelt(bike, Bike, ["events"])
    for entry in () if told else entries(bike, "loads", "later", "alongside"):
        for said in words(entry, "when", "except"):
            yield from _unknown(said, (*STATES, *known), "state or event")
    if own:
        yield from _too_many([own.keys[name] for name in names if name not in EVENTS])
        for name in names:
            yield from _event(own, name, known)


def _unknown(said: Word, known: Sequence[str], kind: str) -> Iterator[Flaw]:
    if said.text not in known:
        yield Flaw.at(said, f"there is no {kind} '{said.text}'", _right(said.text, known))


def _right(said: str, known: Sequence[str]) -> str:
    own = "" if nearest(said, known) else ", or add it under 'events'"
    return suggest(said, known) + own


def _too_many(own: Sequence[Word]) -> Iterator[Flaw]:
    for event in own[MOST_OWN_EVENTS:]:
        what = f"'{event.text}' is one event of your own too many"
        yield Flaw.at(event, what, f"keep {MOST_OWN_EVENTS} at most beside the usual ones")


def _event(own: Keyed, name: str, known: Sequence[str]) -> Iterator[Flaw]:
    if name in STATES:
        yield Flaw.at(own.keys[name], f"'{name}' is a state, not an event", "choose another name for the event")
    event = own.values[name]
    if not isinstance(event, Keyed):
        return
    for state in words(event, "in"):
        if state.text not in STATES:
            yield Flaw.at(state, f"there is no state '{state.text}'", suggest(state.text, STATES))
    for other in words(event, "excludes"):
        yield from _unknown(other, known, "event")
        if other.text == name:
            yield Flaw.at(other, f"'{name}' excludes itself", "name only other events")
