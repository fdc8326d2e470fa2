"""A post without a bike's file: its loads by themselves, as a bike of which nothing else is known."""

from dataclasses import dataclass, field
from typing import Any

from solver.posts.draws import Drawing, drawing
from solver.posts.figures import Parted
from solver.posts.matching import Posted, as_named, clear, noted_once
from solver.posts.names import Meant, Names, words_of
from solver.posts.post import Post, Said
from solver.posts.settings import beside, note, note_main_fuse
from solver.words.bike import Bike
from solver.words.looks_like import kept_off_like
from solver.words.unit import Unit

RUNNING = "14.0 V"
"""What a charging system holds; common practice, no source."""
SOMEWHERE = "the bike"


@dataclass
class Alone:
    """What a post says by itself: who is on which port, and each load as it is said."""

    posted: Posted
    loads: dict[str, Drawing] = field(default_factory=dict)
    """Each by its name; what no output may feed is among them, on no port."""

    def bike(self) -> Bike:
        """Return the loads as a bike of which nobody knows frame, places and switches; there is one load at least."""
        point, other = SOMEWHERE, f"{SOMEWHERE}'s other end"
        return Bike.model_validate({
            "bike": "the posted loads",
            "supply": {"running": RUNNING, "battery": {"capacity": "10 Ah", "at": point}},
            "frame": {"legs": [{"between": [point, other], "length": "1 mm"}], "earth": [point]},
            "places": [{"name": SOMEWHERE, "front": point, "rear": point}],
            "loads": [_load(name, load) for name, load in self.loads.items()],
            "later": [],
        })  # fmt: skip


def _load(name: str, load: Drawing) -> dict[str, Any]:
    """Return a load as a bike's file has it; what draws nobody knows how much counts as next to nothing."""
    entry: dict[str, Any] = {"name": name, "at": SOMEWHERE, "share": "posted"}
    if load.part is not None:
        entry["part"] = load.part
        if load.part in ("left indicator", "right indicator"):
            entry["mode"] = "flash"
    if load.current is not None:
        return {**entry, "current": f"{load.current} mA", "kind": load.kind}
    if load.lamp is not None:
        return {**entry, "lamp": load.lamp}
    if load.power is not None:
        return {**entry, "power": f"{load.power} mW", "kind": load.kind}
    return {**entry, "current": "1 mA", "kind": load.kind}


def match_alone(post: Post, unit: Unit) -> Alone:
    """Return what a post means by itself; ports are the unit's, loads are what is said."""
    outputs = Names(output.name for output in unit.outputs)
    inputs = Names(source.name for source in unit.inputs)
    alone = Alone(Posted(flaws=list(post.flaws)))
    for said in post.said:
        _line(said, outputs, inputs, alone)
    if post.main_fuse is not None:
        alone.posted.flaws += note_main_fuse(post.main_fuse, alone.posted.settings)
    return alone


def _line(said: Said, outputs: Names, inputs: Names, alone: Alone) -> None:
    """Note what one line says; a bare number is taken for an output's."""
    posted = alone.posted
    at = as_named(said.port, outputs if outputs.meant(said.port.text).names else inputs)
    output, source = outputs.meant(at.name.text), inputs.meant(at.name.text)
    meant = output if output.names else Meant(source.names, output.near or source.near)
    port = clear(at.name, meant, "port", posted)
    if port is None:
        return
    parts = [drawing(thing, said.figures) for thing in said.things]
    if port in inputs and port not in outputs:
        names = [part.name.text for _, part in parts if part.name.text]
        posted.inputs.setdefault(port, []).extend(names)
        return
    for load, part in parts:
        if part.name.text:
            _take(load, port, alone)
    figures: tuple[Parted, ...] = tuple(part for _, part in parts)
    posted.flaws += note(beside(said, at, figures), port, posted.settings)


def _take(load: Drawing, port: str, alone: Alone) -> None:
    """Note a load on its port; one that no output may feed is kept apart, and a name counts once."""
    posted, what = alone.posted, kept_off_like(load.name.text)
    if what is not None:
        posted.kept_off.append((port, what))
        alone.loads.setdefault(load.name.text, load)
        return
    known = next((name for name in alone.loads if words_of(name) == words_of(load.name.text)), load.name.text)
    held = posted.outputs.setdefault(port, [])
    if noted_once(load.name, known, port, posted):
        held.append(known)
        alone.loads[known] = load
