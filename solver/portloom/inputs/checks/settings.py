"""What the whole bike settles: its voltages, its own defaults, states and events, and the rules that it sets aside."""

from collections.abc import Iterator, Sequence

from portloom.base.assumptions import NAMES, TABLE
from portloom.base.bike import Bike
from portloom.base.events import ALSO_EVENTS, EVENTS, KEY_ON_STATES, MOST_OWN_EVENTS, STATES
from portloom.base.nearest import and_list, nearest, suggest
from portloom.base.quantities import MilliVolts, QuantityError
from portloom.inputs.problems import Flaw
from portloom.inputs.schema import misspelt
from portloom.inputs.tree import VOLTAGE, Keyed, Word, amount_of, entries, keyed, words

LOWEST_RUNNING = MilliVolts(12_800)
HIGHEST_RUNNING = MilliVolts(15_000)


def setting_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell voltages of another kind of bike, and defaults that there are none of or can't be read."""
    supply = keyed(bike, "supply")
    if supply:
        yield from _voltages(supply)
    assumed = keyed(bike, "assume")
    for name in assumed.keys if assumed else ():
        yield from _default(assumed, name) if assumed else ()


def _voltages(supply: Keyed) -> Iterator[Flaw]:
    running = amount_of(supply, "running", VOLTAGE)
    if running is None:
        return
    if not LOWEST_RUNNING <= running <= HIGHEST_RUNNING:
        what = "only 12 V systems are supported, not 6 V or 24 V ones"
        yield Flaw.at(supply.values["running"], what, "write the running voltage, from 12.8 V to 15.0 V")
        return
    for key in ("resting", "cranking"):
        voltage = amount_of(supply, key, VOLTAGE)
        if voltage is not None and voltage > running:
            what = f"the {key} voltage is above the running voltage"
            yield Flaw.at(supply.values[key], what, "write the voltage at the battery, below 'running'")


def _default(assumed: Keyed, name: str) -> Iterator[Flaw]:
    value = assumed.values[name]
    if name not in NAMES:
        yield Flaw.at(assumed.keys[name], f"there is no default called '{name}'", suggest(name, NAMES))
        return
    if not isinstance(value, Word):
        return
    try:
        next(default.measure for default in TABLE if default.name == name).parse(value.text)
    except QuantityError as error:
        yield Flaw.at(value, error.what, error.right)


def set_aside(bike: Keyed, slugs: Sequence[str], never: Sequence[str]) -> Iterator[Flaw]:
    """Tell rules set aside that are not among ``slugs``, or that are among ``never``."""
    rules = keyed(bike, "set_aside")
    for slug, where in rules.keys.items() if rules else ():
        if slug not in slugs:
            may = [known for known in slugs if known not in never]
            yield Flaw.at(where, f"there is no rule '{slug}'", suggest(slug, may))
        elif slug in never:
            yield Flaw.at(
                where, f"the rule '{slug}' can't be set aside", f"leave it out: {and_list(never)} always hold"
            )


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
    if said.casefold() == "always" and KEY_ON_STATES[0] in known:
        return f"write [{', '.join(KEY_ON_STATES)}], and more states if it is on with the key off"
    meant = ALSO_EVENTS.get(said.casefold())
    if meant in known:
        return f"write '{meant}'"
    own = "" if nearest(said, known) else ", or add it under 'events'"
    return suggest(said, known) + own


def _state(said: str) -> str:
    meant = ALSO_EVENTS.get(said.casefold())
    return f"write '{meant}'" if meant in STATES else suggest(said, STATES)


def _too_many(own: Sequence[Word]) -> Iterator[Flaw]:
    for event in own[MOST_OWN_EVENTS:]:
        what = f"'{event.text}' is one event of your own too many"
        yield Flaw.at(event, what, f"keep {MOST_OWN_EVENTS} at most besides the usual ones")


def _event(own: Keyed, name: str, known: Sequence[str]) -> Iterator[Flaw]:
    if name in STATES:
        yield Flaw.at(own.keys[name], f"'{name}' is a state, not an event", "choose another name for the event")
    event = own.values[name]
    if not isinstance(event, Keyed):
        return
    for state in words(event, "in"):
        if state.text not in STATES:
            yield Flaw.at(state, f"there is no state '{state.text}'", _state(state.text))
    for other in words(event, "excludes"):
        yield from _unknown(other, known, "event")
        if other.text == name:
            yield Flaw.at(other, f"'{name}' excludes itself", "name only other events")
