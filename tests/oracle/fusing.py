"""How large a main fuse a random unit takes: amply so, as it happens by its feed's limit, or hardly."""

from fractions import Fraction

from .catalogue import written_size
from .drafts import Draft, tidy, written
from .fuses import STEPS_MA, step_from
from .job import Job
from .profiles import read_unit
from .reading import read_bike


def ample(limit_a: float) -> str:
    """Write the step for 1.25 x a feed's limit, so that the limit decides before it."""
    return tidy((step_from(Fraction(round(limit_a * 1250))) or STEPS_MA[-1]) / 1000)


def choose_main_fuse(made: Draft) -> None:
    """Leave the main fuse ample; or do not say how large it may be, let it just carry all, or pinch its wire."""
    carrying = _carrying(made)
    if not carrying:
        return
    feed, least = made.unit["feed"], carrying[0]
    match made.rng.randint(0, 11):
        case 0 | 1 | 2:
            if _by_limit_ma(made) >= least or made.chance(0.1):
                feed.pop("fuse_max", None)
        case 3 | 4 | 5:
            feed["fuse_max"] = tidy(made.rng.choice([least, *carrying[1:2]]) / 1000)
        case 6 if least > STEPS_MA[0]:
            feed["fuse_max"] = tidy(STEPS_MA[STEPS_MA.index(least) - 1] / 1000)
        case 7:
            job = Job(read_bike(written(made.bike)), read_unit(written(made.unit)))
            able = [wire for wire in job.bike.reels if wire.carries_ma >= least]
            if able:
                feed["wire_max"] = written_size(able[0])


def _carrying(made: Draft) -> tuple[int, ...]:
    """Return the main fuses (mA) that carry what a draft's loads draw together."""
    unit = {**made.unit, "feed": {**made.unit["feed"], "fuse_max": tidy(STEPS_MA[-1] / 1000)}}
    return Job(read_bike(written(made.bike)), read_unit(written(unit))).fuses_ma


def _by_limit_ma(made: Draft) -> int:
    feed = {word: said for word, said in made.unit["feed"].items() if word != "fuse_max"}
    return read_unit(written({**made.unit, "feed": feed})).fuse_max_ma
