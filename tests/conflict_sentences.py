"""Whether the sentence of a fact is true of the files: its figures against what the second program reads there.

Words are read only as far as they carry a name, a figure or a list; one that is not understood is a fault.
"""

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from itertools import permutations

from conflict_facts import Case
from oracle.circuits import agree, alike
from oracle.facts import Key
from oracle.fuses import STEPS_MA
from oracle.guards import needs
from oracle.matched import sets_on_outputs
from oracle.reading import on_unit
from oracle.things import InPort, Load, Output, Switch

NUMBERS = {
    word: number
    for number, word in enumerate(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"), 1)
}
FIGURE = r"([\d.,]+)"


def untrue(case: Case, key: Key, sentence: str) -> str:
    """Return what is not so of a fact's sentence; nothing where it is true of the files."""
    wanted = TOLD[key[0]](case, key)
    if isinstance(wanted, str):
        return "" if re.fullmatch(wanted, sentence) else f"'{sentence}' is not '{wanted}'"
    shape, figures = wanted
    found = re.fullmatch(shape, sentence)
    if found is None:
        return f"'{sentence}' is not understood"
    said = [Fraction(figure.replace(",", "")) for figure in found.groups() if figure is not None]
    return "" if said == list(figures)[: len(said)] and said else f"'{sentence}', but the files say {figures}"


Figures = tuple[str, list[Fraction]]


def _load(case: Case, key: Key) -> Load:
    return next(load for load in case.bike.loads if load.name == key[1])


def _switch(case: Case, key: Key) -> Switch:
    return next(switch for switch in case.bike.wired_switches if switch.name == key[1])


def _named(key: Key) -> str:
    return re.escape(key[1])


def _listed(words: list[str]) -> str:
    return re.escape(" and ".join([", ".join(words[:-1]), words[-1]] if words[1:] else words))


def _here(_: Case, key: Key) -> str:
    return rf"{_named(key)} (is|are) on the bike"


def _current(case: Case, key: Key) -> Figures:
    return rf"{_named(key)} draws? {FIGURE} A", [Fraction(_load(case, key).current_ma, 1000)]


def _inrush(case: Case, key: Key) -> Figures:
    load = _load(case, key)
    figures = [(load.inrush_ma / 1000).limit_denominator(10**6), load.inrush_ms]
    return rf"{_named(key)} draws? {FIGURE} A for {FIGURE} ms at switch-on", figures


def _mode(case: Case, key: Key) -> str:
    special = {frozenset({"dim"}): "be dimmed", frozenset({"flash"}): "flash"}
    modes = _load(case, key).modes
    quoted = [f"'{mode}'" for mode in sorted(modes)]
    driven = rf"be driven in modes? {_listed(quoted)}"
    only = "run only while the engine turns|only run while the engine turns" if "engine-run" in modes else driven
    return rf"{_named(key)} must ({special.get(modes, driven)}|{driven}|{only})"


def _kind(case: Case, key: Key) -> str:
    load = _load(case, key)
    return rf"{_named(key)} (is|are) of kind '{load.kind}', (without a suppressor|which takes no dimming)"


def _signal(case: Case, key: Key) -> Figures | str:
    switch = _switch(case, key)
    gives = rf"{_named(key)} gives? a signal of kind '{switch.signal}'"
    if switch.level_mv is None and switch.rate_hz is None:
        return gives
    level = [] if switch.level_mv is None else [switch.level_mv / 1000]
    rate = [] if switch.rate_hz is None else [switch.rate_hz]
    return rf"{gives}{f', up to {FIGURE} V' * len(level)}{f', at {FIGURE} Hz' * len(rate)}", [*level, *rate]


def _ban(case: Case, key: Key) -> str:
    """Two of one group, in either order, which something keeps apart."""
    if key[0] == "ban":
        one, other = (next(load for load in on_unit(case.bike) if load.name == name) for name in key[1:])
        apart, port = one.share == other.share != "" and not alike(case.bike, one, other), "an output"
        differ = {
            "they are driven in different modes": one.modes != other.modes,
            "they are not on at the same times": (one.when, one.barred) != (other.when, other.barred),
        }
    else:
        first, second = (_switch(case, ("", name)) for name in key[1:])
        apart, port = first.share == second.share != "" and not agree(first, second), "an input"
        differ = {
            "one is open at rest, the other closed": first.rest != second.rest,
            "they don't pull the same way": first.signal != second.signal,
        }
    why = "|".join(re.escape(words) for words, so in differ.items() if so) or "(?!)"
    others = "|".join(re.escape(words) for words in differ)
    either = "|".join(rf"{re.escape(a)} and {re.escape(b)}" for a, b in (key[1:], key[:0:-1]))
    return rf"({either}) can't share {port}: ({why}|(?!{others}).+)" if apart else "nothing: they may share"


def _bank(case: Case, key: Key) -> Figures:
    return rf"bank {_named(key)} can supply {FIGURE} A", [Fraction(case.kinds.unit.banks[key[1]], 1000)]


def _total(case: Case, _: Key) -> Figures:
    return rf"the unit can carry {FIGURE} A in all", [Fraction(case.kinds.unit.limit_ma, 1000)]


def _fuse(case: Case, _: Key) -> Figures:
    """Where the file names none it is the largest step within the limit, which carries a fifth less."""
    unit = case.kinds.unit
    default = "fuse_max" not in case.unit["feed"]
    if default and unit.fuse_max_ma != max(step for step in STEPS_MA if step <= unit.limit_ma):
        return "nothing: that is no step within the limit", []
    carried = min(unit.fuse_max_ma * Fraction(4, 5), Fraction(unit.limit_ma))
    figures = [Fraction(unit.fuse_max_ma), carried, Fraction(unit.limit_ma)]
    more = rf"(?:, the largest step within its limit, and so carries {FIGURE} A of {FIGURE} A)" + "?" * (not default)
    return rf"the unit takes a main fuse of up to {FIGURE} A{more}", [ma / 1000 for ma in figures]


def _opening(case: Case, key: Key) -> Figures:
    item = next(leg for leg in case.tree["frame"]["legs"] if leg.get("name", " - ".join(leg["between"])) == key[1])
    across, sleeve = (Fraction(item.get(word, "1 mm").removesuffix("mm").strip()) for word in ("opening", "sleeve"))
    more = [Fraction(item["opens_to"].removesuffix("mm").strip())] if "opens_to" in item else []
    opened = rf", and may be opened up to {FIGURE} mm" if more else ""
    shape = rf"the opening of {_named(key)} is {FIGURE} mm, {FIGURE} mm without the sleeve{opened}"
    return shape, [across, across - sleeve, *more]


def _terminal(case: Case, key: Key) -> str:
    if key[1] == "feed":
        return rf"the unit's supply terminal takes wire of up to {_size(case.unit['feed'])}"
    port = next(port for port in case.unit["outputs"] if port["name"] == key[1])
    return rf"{_named(key)}.* takes? wire of up to {_size(port)}"


def _size(item: Mapping[str, str]) -> str:
    return re.escape(item["wire_max"]).replace("²", "2")


def _drop(case: Case, key: Key) -> Figures:
    """Rounded down to 10 mV: what is told may be lost is never more than what may be."""
    limit = Fraction(int(case.bike.drop_uv[key[1]] // 10_000), 100)
    return rf"loads of class '{_named(key)}' may lose {FIGURE} V from the battery and back", [limit]


def _lowest(case: Case, key: Key) -> Figures:
    unit = key[0] == "unit lowest"
    lowest = case.kinds.unit.lowest_mv if unit else _load(case, key).lowest_mv
    return rf"{'the unit' if unit else _named(key)} works? down to {FIGURE} V", [Fraction(lowest or 0) / 1000]


def _count(case: Case, key: Key) -> str:
    kinds: tuple[tuple[Output | InPort, ...], ...] = case.kinds.outputs if key[0] == "outputs" else case.kinds.inputs
    names = next([port.name for port in kind] for kind in kinds if kind[0].name == key[1])
    count = "|".join([str(len(names)), *(word for word, number in NUMBERS.items() if number == len(names))])
    ports = f"{_listed(names)}|{re.escape(names[0])}.* to .*{re.escape(names[-1])}|{re.escape(names[0])}.* and .*"
    return rf"the {re.escape(case.unit['unit'])} has ({count}) such {key[0][:-1]}s?, ({ports})"


def _ways(case: Case, key: Key) -> str:
    ways = next(box.ways for box in case.bike.multiplexers if box.name == key[1])
    words = "|".join([str(ways), *(word for word, number in NUMBERS.items() if number == ways)])
    return rf"{_named(key)} has ({words}) ways?"


def _told(case: Case, key: Key) -> str:
    """Some output follows that input; or some load, with the guests on its circuit, needs what is told."""
    if key[1] == "follow":
        ports = [re.escape(port["name"]) for port in case.unit["outputs"] if port.get("follow") == key[2]]
        return rf"({'|'.join(ports)}) does what the switch on {re.escape(key[2])} says"
    asking = [load.name for load in on_unit(case.bike) if key[1:] in needs(case.bike, load)]
    with_guests = [_listed([name, *_guests(case, name)]) for name in asking]
    words = key[2].split(" or ")
    either = ["brake", "clutch"] if words[1:] else []
    said = "|".join(re.escape(word) for word in (*words, *either))
    return rf"({'|'.join(with_guests)}) needs? an input that tells the unit .*({said}).*"


def _guests(case: Case, name: str) -> list[str]:
    return [load.name for load in case.bike.loads if name in load.feeders]


def _pin(case: Case, key: Key) -> str:
    things: dict[str, Load | Switch] = {
        **{load.name: load for load in on_unit(case.bike)},
        **{switch.name: switch for switch in case.bike.switches},
    }
    thing = things[key[1]]
    said = (("must be on", thing.held), ("must not be on", thing.shunned))
    must = [f"{words} ({_either(ports)})" for words, ports in said if ports]
    return rf"{_named(key)} {' and '.join(must)}"


def _either(ports: frozenset[str]) -> str:
    """Match the names of ports, in any order."""
    said = (", ".join(order[:-1]) + f" or {order[-1]}" if order[1:] else order[0] for order in permutations(ports))
    return "|".join(map(re.escape, said))


def _dead(case: Case, key: Key) -> str:
    return rf"{_named(key)} is out of use: {re.escape(case.tree['out_of_use'][key[1]])}"


def _alike(case: Case, key: Key) -> str:
    there = next(loads for names, loads in sets_on_outputs(case.bike) if names == key[1:])
    orders = "|".join(_listed([load.name for load in order]) for order in permutations(there))
    return rf"({orders}) must be on outputs of the same limit and the same trips"


TOLD: dict[str, Callable[[Case, Key], Figures | str]] = {
    "load": _here, "switch": _here, "current": _current, "inrush": _inrush, "mode": _mode, "kind": _kind,
    "signal": _signal, "ban": _ban, "switch ban": _ban, "bank": _bank, "total": _total, "fuse": _fuse,
    "opening": _opening, "terminal": _terminal, "drop": _drop, "unit lowest": _lowest, "load lowest": _lowest,
    "outputs": _count, "inputs": _count, "ways": _ways, "told": _told,
    "pin": _pin, "switch pin": _pin, "out of use": _dead, "alike": _alike,
}  # fmt: skip
