"""The one sentence over a conflict."""

from collections.abc import Iterator, Sequence
from functools import partial

from portloom.base.figures import capital, listed
from portloom.base.values import dataclass
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.telling.counts import counts_of, seats
from portloom.explaining.telling.refused import Refused, at_places, refusals_of
from portloom.explaining.telling.witness import (
    BlockingViolation,
    violation_of,
    violation_of_sizes,
    violations_elsewhere,
)
from portloom.rules.fact_kinds import SWITCH, counted_by, is_thing, kind_of, ports_for
from portloom.rules.facts import FactKey

NO_OTHER = " No other place will do."
MOST_PLACES = 2
"""Of so many places it is told what stands in the way at each."""


@dataclass(frozen=True)
class Headline:
    """The sentence over a conflict, the rules that it speaks for, and what refuses whom where it does not say so."""

    sentence: str
    rules: tuple[str, ...]
    unsaid: tuple[Refused, ...]


def headline(questions: Questions, keys: Sequence[FactKey], refused: Sequence[Refused]) -> Headline:
    """Say a conflict: a thing that no port takes; what limits refuse, with the sums; crowds as counts."""
    alone = _no_port(questions, keys, refused)
    if alone is not None:
        return Headline(alone, tuple(one.rule for one in refused), ())
    counts = counts_of(questions.instance, keys, partial(_closed, refused))
    violations = (
        []
        if counts and all(count.alone for count in counts)
        else list(_violations(questions, keys, counted=bool(counts)))
    )
    said = [*_at_their_places(violations), *(count.sentence for count in counts)]
    if not said:
        things = [key[1] for key in keys if is_thing(key)]
        said = [f"{listed(things)} can't all be on the bike together"]
    rules = tuple(violation.rule for violation in violations)
    known = {*rules, *(count.rule for count in counts)}
    ports_matter = counts or not all(violation.of_unit for violation in violations)
    return Headline(
        f"{capital('; '.join(dict.fromkeys(said)))}.{_elsewhere(questions, violations)}",
        rules,
        tuple(one for one in refused if one.rule not in known) if ports_matter else (),
    )


def _closed(refused: Sequence[Refused], name: str, rule: str = "") -> set[str]:
    """Return the ports that refuse a thing, by one rule or by any."""
    return {port for one in refused if name in one.things and rule in ("", one.rule) for port in one.ports}


def _elsewhere(questions: Questions, violations: Sequence[BlockingViolation]) -> str:
    """Say that at places of which nothing is told there is no plan either."""
    told = {violation.place for violation in violations}
    more = {site.label for site in questions.instance.sites} - told
    return NO_OTHER if told and more and "" not in told else ""


def _no_port(questions: Questions, keys: Sequence[FactKey], refused: Sequence[Refused]) -> str | None:
    """Tell of a single thing that every port refuses."""
    own = {load.name for load in questions.instance.job.loads.on_unit}
    things = [key for key in keys if is_thing(key) and (kind_of(key) is SWITCH or key[1] in own)]
    if len(things) != 1 or any(counted_by(key) for key in keys):
        return None
    (thing,) = things
    unit, name, ports = questions.instance.job.unit, thing[1], ports_for(thing)
    closed = {port for one in refused for port in one.ports}
    if not closed.issuperset(seats(questions.instance, ports)):
        return None
    why = refusals_of(refused, name)
    ending = NO_OTHER if any(one.first_place for one in refused) else ""
    return f"No {ports.removesuffix('s')} of the {unit.unit} takes {name}: {why}.{ending}"


def _at_their_places(violations: Sequence[BlockingViolation]) -> Iterator[str]:
    """Return what stands in the way; where that is another thing at each place, with the places."""
    places: dict[str, list[str]] = {}
    for violation in violations:
        places.setdefault(violation.sentence, []).append(violation.place)
    for sentence, where in places.items():
        yield f"{at_places(where)}: {sentence}" if len(places) > 1 and all(where) else sentence


def _violations(questions: Questions, keys: Sequence[FactKey], *, counted: bool) -> Iterator[BlockingViolation]:
    """Return what each limit refuses; where there is no limit, what the first figure or thing does that tells."""
    limits = [key for key in keys if kind_of(key).is_limit]
    for key in limits:
        violation = violation_of(questions, keys, key)
        if violation is not None:
            yield violation
            if violation.place and len(questions.instance.sites) <= MOST_PLACES:
                yield from violations_elsewhere(questions, keys, key, violation.place)
    if not limits and not counted:
        rest = sorted(keys, key=is_thing)
        violations = (violation_of(questions, keys, key) for key in rest)
        first = violation_of_sizes(questions, keys) or next(
            (violation for violation in violations if violation is not None), None
        )
        yield from [] if first is None else [first]
