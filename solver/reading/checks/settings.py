"""What the whole bike settles: its voltages, its own defaults, and the rules that it sets aside."""

from collections.abc import Iterator, Sequence

from solver.electrics.assumptions import NAMES, TABLE
from solver.reading.amounts import VOLTAGE, amount_of
from solver.reading.problems import Flaw
from solver.reading.tree import Keyed, Word, keyed
from solver.words.nearest import both, suggest
from solver.words.quantities import MilliVolts, Misread

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
        what = "only 12 V systems are taken, not 6 V or 24 V ones"
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
    except Misread as error:
        yield Flaw.at(value, error.what, error.right)


def set_aside(bike: Keyed, slugs: Sequence[str], never: Sequence[str]) -> Iterator[Flaw]:
    """Tell rules set aside that are not among ``slugs``, or that are among ``never``."""
    rules = keyed(bike, "set_aside")
    for slug, where in rules.keys.items() if rules else ():
        if slug not in slugs:
            may = [known for known in slugs if known not in never]
            yield Flaw.at(where, f"there is no rule '{slug}'", suggest(slug, may))
        elif slug in never:
            yield Flaw.at(where, f"the rule '{slug}' can't be set aside", f"leave it out: {both(never)} always hold")
