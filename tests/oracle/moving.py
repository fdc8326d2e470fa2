"""The fewest moves that make a posted plan sound, by HiGHS: every column costs what it moves; multiplexers too."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import inf
from typing import Any

from .highs import programme_of
from .lazily import forbid
from .mending import Ports
from .programme import Model, solved
from .site import Site


@dataclass(frozen=True)
class Here:
    """Who is posted on which port, a multiplexer like a port with the switches on it; where multiplexers stand."""

    outputs: Ports
    inputs: Ports
    stands: Mapping[str, str] = field(default_factory=dict)

    def port_of(self, thing: str) -> str | None:
        """Return the input or multiplexer that a switch or a multiplexer is posted on."""
        return next((port for port, held in self.inputs.items() if thing in held), None)


def fewest_moves(sites: Iterable[Site], post: Here) -> int | None:
    """Return the fewest moves over sites; None where nothing is sound at any.

    A load that is posted on no output moves; a switch or a multiplexer that is posted on no input does not.
    """
    return min((moves for site in sites if (moves := _at(site, post)) is not None), default=None)


def _at(site: Site, post: Here) -> int | None:
    model = programme_of(site)
    for number, meaning in enumerate(model.meanings):
        model.costs[number] = _moved(meaning, post)
        if meaning[0] == "data" and post.stands.get(meaning[1][0].name, meaning[1][1]) != meaning[1][1]:
            model.row({number: 1}, -inf, 0)
    if any(not terms and not low <= 0 <= high for terms, low, high in model.rows):
        return None
    return _least(site, model)


def _least(site: Site, model: Model) -> int | None:
    while True:
        answer = solved(model) if model.costs else None
        if answer is None:
            return None if model.costs else 0
        chosen = [number for number, value in enumerate(answer.x) if round(value) == 1]
        if not forbid(site, model, chosen):
            return sum(model.costs[number] for number in chosen)


def _moved(meaning: tuple[str, Any, Any], post: Here) -> int:
    what, held, port = meaning
    if what == "circuit":
        there = post.outputs.get(port.name, ())
        return sum(load.name not in there for load in held.members if not load.feeders)
    if what == "switches":
        return sum(post.port_of(switch.name) not in (None, port.name) for switch in held)
    if what == "through":
        return int(post.port_of(held.name) not in (None, port[0].name))
    return int(what == "data" and post.port_of(held[0].name) not in (None, port.name))
