"""Every kind of fact in one table: what it is, what is left where it is dropped, how it is told, what hangs on it.

What a rule limits by a figure of its own needs no line here: such a fact is a limit, which goes with the row that
names it.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field, replace
from typing import Any, Literal

from portloom.base.current import Inrush
from portloom.base.fuse_steps import STEPS
from portloom.base.quantities import MicroAmps, Microseconds, MilliAmps
from portloom.base.values import dataclass
from portloom.job.consumers import Consumer
from portloom.job.kinds import PortDirection
from portloom.job.losses import UNLIMITED
from portloom.rules.facts import FactKey

Role = Literal["wish", "thing", "figure", "count", "ban", "limit", "told"]
"""A wish; a thing on the bike; a figure of one; how much room there is; who is kept apart; a limit; what is asked."""
Of = Literal["load", "switch", "output", "input", "multiplexer", "leg", "feed"]
NO_LIMIT = MilliAmps(10**9)


def _by_name(load: Consumer) -> str:
    return load.name


@dataclass(frozen=True)
class FactKind:
    """One kind of fact."""

    name: str
    role: Role = "limit"
    of: Of | None = None
    """Whose fact it is."""
    ports: PortDirection | None = None
    """Of a thing, where it goes; of a count, for what there is room."""
    written: frozenset[str] = frozenset()
    """Keys of the entry in the bike's file by which it is altered."""
    harmless: Mapping[str, Any] = field(default_factory=dict)
    """What is left of a load, of an output, or of the unit's feed, without it."""
    subject: Callable[[Consumer], str] = _by_name
    """Whose fact it is of a load: that load's, or that of the class that it is in."""
    only: str = ""
    """Of the unit's feed, what the one fact of this kind is about."""
    spared: int | None = None
    """Of figures that decide which outputs take a load, which one an explanation does without first, from 1."""
    frees: bool = False
    """Whether a switch goes on any port without it, unless the builder has decided otherwise."""
    sways_others: bool = False
    """Whether what a rule says of other loads may hang on it."""
    of_whole_unit: bool = False
    """Whether it limits all ports of a unit alike."""
    of_the_path: bool = False
    """Whether it limits what is lost over a whole path, on the feed too."""
    decided: bool = False
    """Whether the builder has decided it, of ports."""
    dropped: str = "without that limit"
    """How a proof says what is asked where it is dropped."""

    def key(self, *names: str) -> FactKey:
        """Return the fact of this kind about these."""
        return (self.name, *names)

    @property
    def is_limit(self) -> bool:
        """Whether it limits something, or asks for it, whichever things there are."""
        return self.role in ("limit", "told")

    @property
    def counts_ports(self) -> bool:
        """Whether it says how many ports of a kind there are."""
        return self.role == "count" and self.of in ("output", "input")


WISH = FactKind("wish", "wish", dropped="wherever it is")
NOT_WIRED = "there, but not wired and drawing nothing"
LOAD = FactKind(
    "load", "thing", "load", "outputs", written=frozenset({"fed", "avoid"}), sways_others=True, dropped=NOT_WIRED
)
SWITCH = FactKind("switch", "thing", "switch", "inputs", dropped="there, but not wired")
TOLD = FactKind("told", "told", dropped="as if the unit were told")
OUTPUTS = FactKind("outputs", "count", "output", "outputs", dropped="with as many of them as are wanted")
INPUTS = FactKind("inputs", "count", "input", "inputs", dropped="with as many of them as are wanted")
BAN = FactKind("ban", "ban", "load", dropped="as if they might share")
SWITCH_BAN = FactKind("switch ban", "ban", "switch", dropped="as if they might share")
WAYS = FactKind("ways", "count", "multiplexer", "inputs", dropped="with as many ways as are wanted")
UNHELD: dict[str, Any] = {"on": (), "not_on": ()}
"""What the entry of a load or a switch says of ports where nothing is decided of them."""
PIN = FactKind(
    "pin",
    "figure",
    "load",
    written=frozenset({"on", "not_on"}),
    harmless=UNHELD,
    spared=5,
    decided=True,
    dropped="on whichever output",
)
SWITCH_PIN = FactKind("switch pin", "figure", "switch", decided=True, dropped="on whichever input")
OUT_OF_USE = FactKind("out of use", "figure", decided=True, dropped="as if it were in order")
ALIKE = FactKind("alike", decided=True, dropped="on whichever outputs")
BUILT = FactKind("built", "figure", dropped="taken out of the loom")
OPENING = FactKind("opening", of="leg", written=frozenset({"opening"}))
TOTAL = FactKind("total", of="feed", only="unit", harmless={"limit": NO_LIMIT}, of_whole_unit=True)
FACT_KINDS: tuple[FactKind, ...] = (
    WISH,
    LOAD,
    SWITCH,
    TOLD,
    OUTPUTS,
    INPUTS,
    BAN,
    SWITCH_BAN,
    OUT_OF_USE,
    PIN,
    SWITCH_PIN,
    ALIKE,
    FactKind(
        "mode",
        "figure",
        "load",
        harmless={"modes": frozenset()},
        spared=4,
        sways_others=True,
        dropped="whatever its mode",
    ),
    FactKind(
        "kind",
        "figure",
        "load",
        written=frozenset({"kind", "suppressed", "dims"}),
        harmless={"suppressed": True, "dims": True},
        spared=3,
        dropped="whatever it is",
    ),
    FactKind("signal", "figure", "switch", frees=True, dropped="whatever its signal"),
    FactKind(
        "current",
        "figure",
        "load",
        written=frozenset({"lamp", "power", "current"}),
        harmless={"current": MilliAmps(0)},
        spared=2,
        dropped="as if it drew nothing",
    ),
    FactKind(
        "inrush",
        "figure",
        "load",
        written=frozenset({"lamp", "inrush", "inrush_for"}),
        harmless={"inrush": Inrush(MicroAmps(0), Microseconds(0))},
        spared=1,
        dropped="as if it drew no more when it comes on",
    ),
    FactKind("bank"),
    TOTAL,
    FactKind("fuse", of="feed", only="unit", harmless={"fuse_max": STEPS[-1]}, of_whole_unit=True),
    OPENING,
    FactKind("terminal", of="feed", only="feed", harmless={"wire_max": None}),
    FactKind("terminal", of="output", harmless={"wire_max": None}),
    FactKind(
        "drop", of="load", harmless={"drop_limit": UNLIMITED}, subject=lambda load: load.drop_class, of_the_path=True
    ),
    FactKind("unit lowest", of="feed", only="unit", harmless={"lowest": None}, of_the_path=True),
    FactKind("load lowest", "figure", "load", harmless={"lowest": None}, of_the_path=True),
    WAYS,
    BUILT,
)
"""What an explanation keeps rather than the rest, where it may choose, comes first; what a new rule brings, last."""
_BY_NAME = {kind.name: kind for kind in FACT_KINDS}
_RANK = {kind.name: number for number, kind in reversed(tuple(enumerate(FACT_KINDS)))}


def kind_of(key: FactKey) -> FactKind:
    """Return the kind of a fact; what is not in the table is a limit that goes with its row."""
    return _BY_NAME.get(key[0]) or FactKind(key[0])


def rank_of(key: FactKey) -> int:
    """Return a kind's place in the table."""
    return _RANK.get(key[0], len(FACT_KINDS))


THINGS = tuple(kind for kind in FACT_KINDS if kind.role == "thing")
"""What is on the bike and goes on ports."""


def counted_by(key: FactKey) -> PortDirection | None:
    """Return for what a fact says how much room there is; None where it counts nothing."""
    kind = kind_of(key)
    return kind.ports if kind.role == "count" else None


def ports_for(key: FactKey) -> PortDirection:
    """Return on which ports a load or a switch goes."""
    return kind_of(key).ports or "outputs"


def of_a_load(key: FactKey) -> bool:
    """Tell whether a fact is that a load is on the bike, or a figure of it."""
    return _is_of(key, "load")


def of_the_feed(key: FactKey) -> bool:
    """Tell whether a fact is of a unit's feed, which all that is on the unit must pass."""
    return any(kind.of == "feed" and kind.key(kind.only) == key for kind in FACT_KINDS)


def of_a_switch(key: FactKey) -> bool:
    """Tell whether a fact is that a switch is on the bike, or a figure of it."""
    return _is_of(key, "switch")


def _is_of(key: FactKey, thing: Of) -> bool:
    kind = kind_of(key)
    return kind.of == thing and kind.role in ("thing", "figure")


def is_thing(key: FactKey) -> bool:
    """Tell whether a fact is that a load or a switch is on the bike."""
    return kind_of(key).role == "thing"


def altered(of: Of, name: str, keys: Iterable[str]) -> frozenset[FactKey]:
    """Return the facts that change where these keys of an entry in the bike's file do."""
    changed = set(keys)
    return frozenset(kind.key(name) for kind in FACT_KINDS if kind.of == of and kind.written & changed)


# --- figures of a load

DECIDING = tuple(sorted((kind for kind in FACT_KINDS if kind.spared), key=lambda kind: kind.spared or 0))
"""The figures that decide which outputs take a load; the one that an explanation does without first comes first."""


def without(load: Consumer, kind: FactKind) -> Consumer:
    """Return a load without one of its figures."""
    return replace(load, **kind.harmless)


# --- what is left where facts are dropped


def harmless_load(load: Consumer, dropped: frozenset[FactKey]) -> dict[str, Any]:
    """Return what stands in place of those of a load's figures that are dropped."""
    return _harmless("load", dropped, lambda kind: kind.key(kind.subject(load)))


def all_harmless(load: Consumer) -> dict[str, Any]:
    """Return what stands in place of a load's figures where all of them are dropped."""
    return harmless_load(load, frozenset(kind.key(kind.subject(load)) for kind in FACT_KINDS if kind.of == "load"))


def harmless_output(name: str, dropped: frozenset[FactKey]) -> dict[str, Any]:
    """Return the same of the outputs of a kind, of which the first has this name."""
    return _harmless("output", dropped, lambda kind: kind.key(name))


def harmless_feed(dropped: frozenset[FactKey]) -> dict[str, Any]:
    """Return the same of the unit's feed."""
    return _harmless("feed", dropped, lambda kind: kind.key(kind.only))


_FIGURES: dict[Of, tuple[FactKind, ...]] = {
    of: tuple(kind for kind in FACT_KINDS if kind.of == of and kind.harmless) for of in ("load", "output", "feed")
}


def _harmless(of: Of, dropped: frozenset[FactKey], key: Callable[[FactKind], FactKey]) -> dict[str, Any]:
    gone = (kind for kind in _FIGURES[of] if key(kind) in dropped)
    return {name: value for kind in gone for name, value in kind.harmless.items()}


def freeing(switch: str) -> tuple[FactKey, ...]:
    """Return the facts of a switch without which it goes on any port."""
    return tuple(kind.key(switch) for kind in FACT_KINDS if kind.frees)


def freed(switch: str, dropped: frozenset[FactKey]) -> bool:
    """Tell whether a switch goes on any port, by what is dropped of it."""
    return not dropped.isdisjoint(freeing(switch))
