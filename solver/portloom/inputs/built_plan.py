"""A built plan, read: what ``plan --json`` printed when a loom was made, as a typed loom, or every mistake in it.

Nothing is guessed: a name, a length or a wire that can't be read is a mistake, with where it stands.
"""

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TypeVar, get_args

from portloom.base.bike import Bike, Colour, ColourCode
from portloom.base.built import (
    BuiltEnd,
    BuiltFixed,
    BuiltInput,
    BuiltLoom,
    BuiltMultiplexer,
    BuiltOnWay,
    BuiltOutput,
    BuiltPiece,
    BuiltWay,
)
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize, parse_size
from portloom.base.unit import Unit
from portloom.inputs.built_elsewhere import oddities
from portloom.inputs.built_wires import wires_apart
from portloom.inputs.parsing import file_text, parse
from portloom.inputs.problems import Flaw, refuse
from portloom.inputs.tree import Keyed, Listed, Node, Word

Entry = TypeVar("Entry")
AGAIN = "give the file that 'portloom plan BIKE --unit UNIT --json' printed when the loom was made"
OLD = "print the plan again from that day's files with 'portloom plan BIKE --unit UNIT --json'"
AS_BUILT = ("size", "length_mm", "colour")
"""What 'as_built' may say of a wire, by its label."""
LETTERS = frozenset(get_args(ColourCode))
OF_DASHES = {"dash signal": "signal of ", "dash supply": "supply of ", "dash return": "return of "}


def read_built(path: Path, bike: Bike, unit: Unit) -> BuiltLoom:
    """Read a built plan of a bike on a unit.

    Raises BadFile with every mistake in it, where it is no plan at all, or of another bike or unit; or where the bike
    chooses its legs, as built ones stay.
    """
    if bike.weights.leg:
        what = "weights.leg is for a loom that is not built yet, and here is a built plan"
        raise refuse(str(path), [Flaw(1, 1, what, "leave out either")])
    text = file_text(path)
    loom = built_from_text(text, str(path))
    flaws = [Flaw(*_stands(text, odd.name), odd.what, odd.right) for odd in oddities(loom, bike, unit)]
    if flaws:
        raise refuse(str(path), flaws)
    return loom


def built_from_text(text: str, name: str) -> BuiltLoom:
    """Read the text of a built plan; raise as read_built does."""
    try:
        json.loads(text)
    except RecursionError:
        raise refuse(name, [Flaw(1, 1, "this is no plan: it is nested too deep", AGAIN)]) from None
    except json.JSONDecodeError as error:
        what = "this is no JSON"
        raise refuse(name, [Flaw(error.lineno, error.colno, what, AGAIN)]) from error
    root = parse(text, name, "built plan").root
    _check_kind(root, name)
    reader = _Reader(name)
    loom = reader.loom(root)
    flaws = reader.flaws or list(_impossible(root, loom))
    taken = reader.taken_out(root, loom)
    flaws = flaws or reader.flaws
    if flaws:
        raise refuse(name, flaws)
    return loom.without(taken) if taken else loom


def _check_kind(root: Keyed, name: str) -> None:
    """Raise BadFile where this is no plan of one unit, or one without its wires."""
    said = root.values.get("status")
    status = said.text if isinstance(said, Word) else None
    if status is None:
        raise refuse(name, [Flaw.at(root, "this is no plan that was printed", AGAIN)])
    if status != "planned":
        raise refuse(name, [Flaw.at(said or root, f"nothing was built by this: its status is '{status}'", AGAIN)])
    if "units" in root.values:
        two = "this plan is of two units, and a built loom is planned on one"
        raise refuse(name, [Flaw.at(root.key("units"), two, "give a plan of one unit")])
    if "wires" not in root.values:
        raise refuse(
            name, [Flaw.at(root, "this plan is of an old format: the numbers of its wires are not in it", OLD)]
        )


class _Reader:
    """Takes a document's tree apart, and notes what is not as it should be."""

    def __init__(self, name: str) -> None:
        self._name = name
        self.flaws: list[Flaw] = []
        self._made_of: tuple[BuiltPiece, ...] = ()

    # --- single values

    def _flaw(self, node: Node, what: str) -> None:
        self.flaws.append(Flaw(node.line, node.column, what, AGAIN))

    def _value(self, node: Node, key: str) -> Node:
        found = node.values.get(key) if isinstance(node, Keyed) else None
        if found is None:
            self._flaw(node, f"'{key}' is missing here")
            return Word("", node.line, node.column)
        return found

    def text(self, node: Node, key: str) -> str:
        """Return a text, or an empty one and note that there is none."""
        found = self._value(node, key)
        if isinstance(found, Word) and found.text and not found.plain:
            return found.text
        if not (isinstance(found, Word) and not found.text):
            self._flaw(found, f"'{key}' is no text")
        return ""

    def _amount(self, node: Node, key: str) -> int:
        """Return a number in thousandths."""
        return self._thousandths(self._value(node, key), key)

    def _thousandths(self, found: Node, key: str) -> int:
        try:
            amount = Decimal(found.text if isinstance(found, Word) and found.plain else "-")
            if amount.is_finite() and 0 <= amount < 10**9 and amount * 1000 % 1 == 0:
                return int(amount * 1000)
        except InvalidOperation:
            pass
        self._flaw(found, f"'{key}' is no amount that a plan has")
        return 0

    def _count(self, node: Node, key: str) -> int:
        found = self._amount(node, key)
        if found % 1000 or not found:
            self._flaw(self._value(node, key), f"'{key}' is no number from 1 on")
        return found // 1000

    def _size(self, node: Node, key: str) -> WireSize:
        said = self.text(node, key)
        try:
            return parse_size(said)
        except ValueError:
            self._flaw(self._value(node, key), f"'{said}' is no wire size")
            return WireSize(0, said)

    def _items(self, node: Node, key: str) -> tuple[Node, ...]:
        found = self._value(node, key)
        if isinstance(found, Listed):
            return found.items
        self._flaw(found, f"'{key}' is no list")
        return ()

    def _names(self, node: Node, key: str) -> tuple[str, ...]:
        return tuple(item.text if isinstance(item, Word) else "" for item in self._items(node, key))

    def _entries(self, node: Node, key: str, read: Callable[[Node], Entry]) -> tuple[Entry, ...]:
        return tuple(read(item) for item in self._items(node, key))

    # --- the loom

    def loom(self, root: Keyed) -> BuiltLoom:
        """Return the loom that a document tells of."""
        feed = self._value(root, "feed")
        pieces = self._as_built(root, self._entries(root, "wires", self._piece))
        self._made_of = pieces
        dead = self._entries(root, "dead_wires", self._piece) if "dead_wires" in root.values else ()
        turned = self._value(root, "turned")
        return BuiltLoom(
            self._name,
            self.text(root, "bike"),
            self.text(root, "unit"),
            self.text(root, "place"),
            isinstance(turned, Word) and turned.text == "true",
            MilliAmps(self._amount(feed, "main_fuse_a")),
            self._entries(root, "outputs", self._output),
            self._entries(root, "inputs", self._input),
            self._entries(root, "multiplexers", self._multiplexer),
            (*self._feed(feed, pieces), *self._fixed_wires(root), *_of_dashes(pieces)),
            pieces,
            dead,
            Micrometres(self._amount(root, "wire_run_mm")),
            MilliAmps(self._amount(feed, "worst_a")),
            tuple(self.text(item, "load") for item in self._items(root, "room_for")),
            self._count(root, "last_number") if "last_number" in root.values else 0,
        )

    def taken_out(self, root: Keyed, loom: BuiltLoom) -> tuple[str, ...]:
        """Return the circuits that were taken out of the loom since, as 'taken_out' says."""
        if "taken_out" not in root.values:
            return ()
        known = loom.circuits
        for item in self._items(root, "taken_out"):
            name = item.text if isinstance(item, Word) else ""
            if name in known:
                continue
            if any(not piece.used and name == f"dead wires of {piece.circuit}" for piece in loom.pieces):
                what = f"the {name} came off a circuit that is still in use, and can't be written as taken out"
                self.flaws.append(
                    Flaw(item.line, item.column, what, f"leave '{name}' out: they stay in the built plan")
                )
            else:
                self._flaw(item, f"the loom has no circuit '{name}' that could be taken out")
        return self._names(root, "taken_out")

    def _piece(self, node: Node) -> BuiltPiece:
        bare = _is_null(self._value(node, "size"))
        return BuiltPiece(
            self._count(node, "number"),
            self.text(node, "wire"),
            self.text(node, "circuit"),
            self.text(node, "kind"),
            "" if _is_null(self._value(node, "port")) else self.text(node, "port"),
            self._end(node, "from"),
            self._end(node, "to"),
            None if bare else self._size(node, "size"),
            self._names(node, "legs"),
            tuple(Micrometres(self._thousandths(item, "cut_mm")) for item in self._items(node, "cut_mm")),
            self._entries(node, "connectors", self._way),
            not (isinstance(node, Keyed) and "used" in node.values),
            self._colour(node) if isinstance(node, Keyed) and "colour" in node.values else None,
            node.line,
        )

    def _as_built(self, root: Keyed, pieces: tuple[BuiltPiece, ...]) -> tuple[BuiltPiece, ...]:
        """Return pieces as the shop made them, where 'as_built' says that it differed from the plan."""
        said = root.values.get("as_built")
        if said is None:
            return pieces
        if not isinstance(said, Keyed):
            self._flaw(said, '\'as_built\' is no mapping of wires, such as {"out 3.2": {"size": "1 mm2"}}')
            return pieces
        known = {piece.key: piece for piece in pieces if piece.ours}
        for name, node in said.values.items():
            if name not in known:
                self._flaw(said.key(name), f"the plan has no wire '{name}', of which 'as_built' says something")
            else:
                known[name] = self._made(known[name], node)
        return tuple(known.get(piece.key, piece) for piece in pieces)

    def _made(self, piece: BuiltPiece, node: Node) -> BuiltPiece:
        """Return a piece with the size, the length and the colour that it was made with."""
        keys = node.values if isinstance(node, Keyed) else {}
        for key in keys:
            if key not in AS_BUILT:
                self._flaw(keys[key], f"'as_built' says nothing of '{key}', but of {' and '.join(AS_BUILT)}")
        if "size" in keys:
            piece = replace(piece, size=self._size(node, "size"))
        if "length_mm" in keys:
            piece = replace(piece, cuts=(Micrometres(self._amount(node, "length_mm")),))
        if "colour" in keys:
            piece = replace(piece, colour=self._colour(node))
        return piece

    def _colour(self, node: Node) -> Colour | None:
        said = self.text(node, "colour")
        base, _, stripe = said.partition("/")
        if {base, *([stripe] if stripe else [])} <= LETTERS:
            return Colour.model_validate({"base": base, "stripe": stripe or None})
        self._flaw(self._value(node, "colour"), f"'{said}' is no colour such as BU or BU/WH")
        return None

    def _end(self, node: Node, key: str) -> BuiltEnd:
        end = self._value(node, key)
        terminal = self.text(end, "terminal") if isinstance(end, Keyed) and "terminal" in end.values else ""
        return BuiltEnd(self.text(end, "kind"), self.text(end, "name"), self.text(end, "at"), terminal)

    def _way(self, node: Node) -> BuiltWay:
        return BuiltWay(self.text(node, "at"), self._count(node, "way"))

    def _output(self, node: Node) -> BuiltOutput:
        loads, legs = self._names(node, "loads"), self._names(node, "legs")
        trip = MilliAmps(self._amount(node, "trip_a"))
        port = self.text(node, "port")
        return BuiltOutput(port, loads, legs, self._thinnest(node, "output", port), trip, self._names(node, "mode"))

    def _thinnest(self, node: Node, kind: str, port: str) -> WireSize:
        """Return the size of a circuit, the thinnest of its pieces where the shop made it of several."""
        planned = self._size(node, "wire")
        own = [piece.size for piece in self._made_of if (piece.kind, piece.port) == (kind, port)]
        return min((size for size in own if size is not None), default=planned)

    def _input(self, node: Node) -> BuiltInput:
        switches, legs = self._names(node, "inputs"), self._names(node, "legs")
        port = self.text(node, "port")
        known = node.values if isinstance(node, Keyed) else {}
        one_action = "action" in known and not _is_null(known["action"])
        return BuiltInput(
            port,
            switches,
            legs,
            self._thinnest(node, "input", port),
            self.text(node, "signal"),
            self.text(node, "action") if one_action else "",
            self._names(node, "at_rest") if "at_rest" in known else (),
        )

    def _multiplexer(self, node: Node) -> BuiltMultiplexer:
        return BuiltMultiplexer(
            self.text(node, "name"),
            self.text(node, "at"),
            self.text(node, "port"),
            self._names(node, "legs"),
            self._size(node, "wire"),
            self._entries(node, "inputs", self._on_way),
        )

    def _on_way(self, node: Node) -> BuiltOnWay:
        told = isinstance(node, Keyed) and "at_rest" in node.values
        return BuiltOnWay(
            self._count(node, "way"),
            self.text(node, "input"),
            self._names(node, "legs"),
            self.text(node, "signal"),
            self.text(node, "at_rest") if told else "",
        )

    def _feed(self, node: Node, pieces: tuple[BuiltPiece, ...]) -> Iterator[BuiltFixed]:
        of_feed = [piece for piece in pieces if piece.kind == "feed"]
        if not of_feed:
            self._flaw(node, "no wire of the feed is among the wires")
            return
        ends = of_feed[0].start.point, of_feed[-1].end.point
        planned = self._size(node, "wire")
        thinnest = min((piece.size for piece in of_feed if piece.size is not None), default=planned)
        yield BuiltFixed("feed", "feed", 1, ends, self._names(node, "legs"), thinnest)

    def _fixed_wires(self, root: Keyed) -> Iterator[BuiltFixed]:
        for section in ("returns", "fed", "other_wires"):
            for node in self._items(root, section):
                known = node.values if isinstance(node, Keyed) else {}
                joint = "number" in known
                line = BuiltFixed(
                    self.text(node, "kind"),
                    self.text(node, "name"),
                    self._count(node, "number") if joint else 1,
                    (self.text(node, "from"), *self._names(node, "to")),
                    self._names(node, "legs"),
                    self._size(node, "wire"),
                    self._names(node, "loads") if joint else (),
                    MilliAmps(self._amount(node, "fuse_a")) if "fuse_a" in known else None,
                )
                own = [p.size for p in self._made_of if p.legs and (p.kind, p.circuit) in line.circuits]
                yield replace(line, size=min((size for size in own if size is not None), default=line.size))


def _is_null(node: Node) -> bool:
    return not isinstance(node, Keyed | Listed) and not (isinstance(node, Word) and node.text)


def _of_dashes(pieces: tuple[BuiltPiece, ...]) -> Iterator[BuiltFixed]:
    """Return what only dashes read, which a plan tells of wire by wire alone."""
    circuits: dict[tuple[str, str], list[BuiltPiece]] = {}
    for piece in pieces:
        if piece.kind in OF_DASHES:
            circuits.setdefault((piece.kind, piece.circuit), []).append(piece)
    for (kind, circuit), own in circuits.items():
        name = circuit.removeprefix(OF_DASHES[kind]).removesuffix(f", {kind}")
        ends = dict.fromkeys(end.point for piece in own for end in piece.ends if end.kind != "splice")
        legs = tuple(leg for piece in own for leg in piece.legs)
        yield BuiltFixed(kind, name, 1, tuple(ends), legs, own[0].size or WireSize(0, ""))


def _impossible(root: Keyed, loom: BuiltLoom) -> Iterator[Flaw]:
    """Return what no loom can be: a number, a port or a load that is there twice."""
    told: dict[str, list[str | int]] = {
        "outputs": [line.port for line in loom.outputs],
        "inputs": [*(line.port for line in loom.inputs), *(box.port for box in loom.multiplexers)],
        "wires": [piece.number for piece in (*loom.pieces, *loom.dead)],
        "returns": [f"return {line.number} from {line.name}" for line in loom.fixed if line.kind == "return"],
    }
    switches = [name for line in loom.inputs for name in line.switches]
    told["multiplexers"] = [*switches, *(way.switch for box in loom.multiplexers for way in box.ways)]
    for section, names in told.items():
        for name in dict.fromkeys(name for name in names if names.count(name) > 1):
            said = f"wire {name}" if section == "wires" else f"'{name}'"
            yield Flaw.at(root.key(section), f"no loom is built like this: {said} is there twice", AGAIN)
    for section, what in wires_apart(loom):
        yield Flaw.at(root.key(section), f"no loom is built like this: {what}", AGAIN)


def _stands(text: str, name: str) -> tuple[int, int]:
    """Return the line and column at which a name stands first in a document, else its beginning."""
    at = text.find(json.dumps(name, ensure_ascii=False))
    at = text.find(json.dumps(name)) if at < 0 else at
    return (1, 1) if at < 0 else (text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at))
