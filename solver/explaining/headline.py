"""The one sentence over a conflict."""

from collections.abc import Iterator, Sequence

from solver.explaining.counts import crowd_sentence
from solver.explaining.question import Questions
from solver.explaining.refused import Refused
from solver.explaining.witness import Stand, stand_of, stand_of_sizes
from solver.rules.facts import FactKey
from solver.words.figures import capital, listed

THINGS = ("load", "switch")
FIGURES = ("current", "inrush", "mode", "kind", "signal", "load lowest", "wish")
COUNTED = ("outputs", "inputs")
BANS = ("ban", "switch ban")


def headline(questions: Questions, keys: Sequence[FactKey], refused: Sequence[Refused]) -> tuple[str, tuple[str, ...]]:
    """Give the sentence over a conflict, and the rules that it speaks for.

    A thing that no port takes; what limits refuse, with the sums; crowds as counts.
    """
    alone = _no_port(questions, keys, refused)
    if alone:
        return alone, tuple(one.rule for one in refused)
    counts = [crowd_sentence(questions.whole, keys)] if any(key[0] in COUNTED for key in keys) else []
    stands = list(_stands(questions, keys, counted=bool(counts)))
    clauses = [*(stand.sentence for stand in stands), *(count.rstrip(".") for count in counts)]
    if not clauses:
        things = [key[1] for key in keys if key[0] in THINGS]
        return f"{capital(listed(things))} can't all be on the bike together.", ()
    return f"{capital('; '.join(dict.fromkeys(clauses)))}.", tuple(stand.rule for stand in stands)


def _no_port(questions: Questions, keys: Sequence[FactKey], refused: Sequence[Refused]) -> str | None:
    """Tell of a single thing that every port refuses."""
    things = [key for key in keys if key[0] in THINGS]
    if len(things) != 1 or any(key[0] in COUNTED for key in keys):
        return None
    ((what, name),) = things
    unit = questions.whole.job.unit
    port, order = ("output", unit.outputs) if what == "load" else ("input", unit.inputs)
    closed = {name for one in refused for name in one.ports}
    return f"{name} has no {port} that takes it." if closed.issuperset(p.name for p in order) else None


def _stands(questions: Questions, keys: Sequence[FactKey], *, counted: bool) -> Iterator[Stand]:
    """Give what each limit refuses; where there is no limit, what the first figure or thing does that tells."""
    limits = [key for key in keys if key[0] not in (*THINGS, *FIGURES, *COUNTED, *BANS)]
    for key in limits:
        stand = stand_of(questions, keys, key)
        if stand is not None:
            yield stand
    if not limits and not counted:
        rest = sorted(keys, key=lambda key: key[0] in THINGS)
        stands = (stand_of(questions, keys, key) for key in rest)
        first = stand_of_sizes(questions, keys) or next((stand for stand in stands if stand is not None), None)
        yield from [] if first is None else [first]
