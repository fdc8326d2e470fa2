"""From what a post says to the loads and switches that it means."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from solver.posts.cells import Cell
from solver.posts.names import Meant, Names
from solver.posts.post import Post, Said
from solver.reading.nearest import either
from solver.reading.problems import Flaw


@dataclass(frozen=True)
class Wanted:
    """The names that a post may use."""

    outputs: Names
    inputs: Names
    loads: Names
    switches: Names
    places: Names
    guests: frozenset[str] = frozenset()
    """Loads fed from others, which may stand on the port of each."""

    @property
    def ports(self) -> Names:
        """Every port, outputs first."""
        return Names((*self.outputs, *self.inputs))


@dataclass
class Posted:
    """Who is on which port, by the names of the files, and what could not be taken."""

    outputs: dict[str, list[str]] = field(default_factory=dict)
    inputs: dict[str, list[str]] = field(default_factory=dict)
    place: str | None = None
    turned: bool | None = None
    taken: list[tuple[Cell, str]] = field(default_factory=list)
    """Names that were written otherwise, and how each was taken."""
    unplaced: list[str] = field(default_factory=list)
    """What stands on a port that is not known."""
    flaws: list[Flaw] = field(default_factory=list)


def match(post: Post, wanted: Wanted) -> Posted:
    """Give what a post means; each name that is unknown, doubled or may mean several is a flaw."""
    posted = Posted(flaws=list(post.flaws))
    for said in post.said:
        port = _clear(said.port, _port_meant(said, wanted), "port", posted)
        if port is None:
            posted.unplaced += [name for thing in said.things if (name := wanted.loads.meant(thing.text).clear)]
            posted.unplaced += [name for thing in said.things if (name := wanted.switches.meant(thing.text).clear)]
        elif port in wanted.outputs:
            _take(said, port, wanted.loads, posted.outputs, posted, wanted.guests)
        else:
            _take(said, port, wanted.switches, posted.inputs, posted)
    if post.place is not None:
        posted.place = _clear(post.place, wanted.places.meant(post.place.text), "place", posted)
    if post.turned is not None:
        posted.turned = post.turned.text.casefold() in ("yes", "true", "turned")
    return posted


def _port_meant(said: Said, wanted: Wanted) -> Meant:
    """Give what a port's name means; a bare number is an output where loads are on it, an input where switches are."""
    output, source = wanted.outputs.meant(said.port.text), wanted.inputs.meant(said.port.text)
    if output.names and source.names:
        loads = any(wanted.loads.meant(thing.text).clear for thing in said.things)
        switches = any(wanted.switches.meant(thing.text).clear for thing in said.things)
        if loads != switches:
            return output if loads else source
    return Meant((*output.names, *source.names), output.near or source.near)


def _take(
    said: Said,
    port: str,
    names: Names,
    ports: dict[str, list[str]],
    posted: Posted,
    on_several: frozenset[str] = frozenset(),
) -> None:
    """Note what is on a port; but for those that may be on several, a name counts once."""
    held = ports.setdefault(port, [])
    for thing in said.things:
        name = _clear(thing, names.meant(thing.text), "load" if ports is posted.outputs else "switch", posted)
        if name is not None and (name in on_several or _first(thing, name, port, posted)):
            held.append(name)


def _clear(said: Cell, meant: Meant, what: str, posted: Posted) -> str | None:
    """Give the one thing that a name means, or note why there is none."""
    if meant.clear is None:
        posted.flaws.append(Flaw(said.line, said.column, *_unclear(said.text, meant, what)))
    elif meant.clear != said.text:
        posted.taken.append((said, meant.clear))
    return meant.clear


def _unclear(said: str, meant: Meant, what: str) -> tuple[str, str]:
    if meant.names:
        return f"'{said}' may be {either(meant.names)}", "write which"
    right = f"write {either(meant.near)}" if meant.near else "write a name that the files have"
    return f"there is no {what} '{said}'", right


def _first(thing: Cell, name: str, port: str, posted: Posted) -> bool:
    """Tell whether a thing is named for the first time; the second time is a flaw."""
    before = next(_ports_of(name, posted), None)
    if before is None:
        return True
    where = f"on {before} and on {port}" if before != port else f"twice on {port}"
    posted.flaws.append(Flaw(thing.line, thing.column, f"{name} stands {where}", "leave one of them out"))
    return False


def _ports_of(name: str, posted: Posted) -> Iterator[str]:
    for ports in (posted.outputs, posted.inputs):
        yield from (port for port, held in ports.items() if name in held)
