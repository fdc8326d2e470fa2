"""The one sentence over a conflict."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from portloom.base.figures import capital, listed
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.telling.clauses import at_places, of_it
from portloom.explaining.telling.counts import Count, counts_of, seats
from portloom.explaining.telling.refused import Refused
from portloom.explaining.telling.witness import Stand, stand_of, stand_of_sizes, stands_elsewhere
from portloom.rules.fact_kinds import SWITCH, counted_by, is_thing, kind_of, ports_for
from portloom.rules.facts import FactKey

Keys = Sequence[FactKey]
NO_OTHER = " No other place will do."
MOST_PLACES = 2
"""Of so many places it is told what stands in the way at each."""


@dataclass(frozen=True)
class Headline:
    """The sentence over a conflict, the rules that it speaks for, and what refuses whom where it does not say so."""

    sentence: str
    rules: tuple[str, ...]
    unsaid: tuple[Refused, ...]


def headline(questions: Questions, keys: Keys, refused: Sequence[Refused]) -> Headline:
    """Say a conflict: a thing that no port takes; what limits refuse, with the sums; crowds as counts."""
    alone = _no_port(questions, keys, refused)
    if alone is not None:
        return Headline(alone, tuple(one.rule for one in refused), ())
    counts = counts_of(questions.whole, keys, partial(_closed, refused))
    stands = [] if counts and all(count.alone for count in counts) else _all_stands(questions, keys, counts)
    said = [*_at_their_places(stands), *(count.sentence for count in counts)]
    if not said:
        things = [key[1] for key in keys if is_thing(key)]
        said = [f"{listed(things)} can't all be on the bike together"]
    rules = tuple(stand.rule for stand in stands)
    known = {*rules, *(count.rule for count in counts)}
    ports_matter = counts or not all(stand.of_unit for stand in stands)
    return Headline(
        f"{capital('; '.join(dict.fromkeys(said)))}.{_elsewhere(questions, stands)}",
        rules,
        tuple(one for one in refused if one.rule not in known) if ports_matter else (),
    )


def _closed(refused: Sequence[Refused], name: str, rule: str = "") -> set[str]:
    """Return the ports that refuse a thing, by one rule or by any."""
    return {port for one in refused if name in one.things and rule in ("", one.rule) for port in one.ports}


def _elsewhere(questions: Questions, stands: Sequence[Stand]) -> str:
    """Say that at places of which nothing is told there is no plan either."""
    told = {stand.place for stand in stands}
    more = {site.label for site in questions.whole.sites} - told
    return NO_OTHER if told and more and "" not in told else ""


def _no_port(questions: Questions, keys: Keys, refused: Sequence[Refused]) -> str | None:
    """Tell of a single thing that every port refuses."""
    own = {load.name for load in questions.whole.job.loads.on_unit}
    things = [key for key in keys if is_thing(key) and (kind_of(key) is SWITCH or key[1] in own)]
    if len(things) != 1 or any(counted_by(key) for key in keys):
        return None
    (thing,) = things
    unit, name, ports = questions.whole.job.unit, thing[1], ports_for(thing)
    closed = {port for one in refused for port in one.ports}
    if not closed.issuperset(seats(questions.whole, ports)):
        return None
    why = "; ".join(of_it(one.sentence, name) for one in refused)
    ending = NO_OTHER if any(one.first_place for one in refused) else ""
    return f"No {ports.removesuffix('s')} of the {unit.unit} takes {name}: {why}.{ending}"


def _at_their_places(stands: Sequence[Stand]) -> Iterator[str]:
    """Return what stands in the way; where that is another thing at each place, with the places."""
    places: dict[str, list[str]] = {}
    for stand in stands:
        places.setdefault(stand.sentence, []).append(stand.place)
    for sentence, where in places.items():
        yield f"{at_places(where)}: {sentence}" if len(places) > 1 and all(where) else sentence


def _all_stands(questions: Questions, keys: Keys, counts: Sequence[Count]) -> list[Stand]:
    return list(_stands(questions, keys, counted=bool(counts)))


def _stands(questions: Questions, keys: Keys, *, counted: bool) -> Iterator[Stand]:
    """Return what each limit refuses; where there is no limit, what the first figure or thing does that tells."""
    limits = [key for key in keys if kind_of(key).is_limit]
    for key in limits:
        stand = stand_of(questions, keys, key)
        if stand is not None:
            yield stand
            if stand.place and len(questions.whole.sites) <= MOST_PLACES:
                yield from stands_elsewhere(questions, keys, key, stand.place)
    if not limits and not counted:
        rest = sorted(keys, key=is_thing)
        stands = (stand_of(questions, keys, key) for key in rest)
        first = stand_of_sizes(questions, keys) or next((stand for stand in stands if stand is not None), None)
        yield from [] if first is None else [first]
