"""A builder who does to the letter what a refused file was told, the first answer that is offered each time.

It reads the lines that the command prints, ``FILE:LINE:COLUMN: what; what would be right``, and nothing else of the
program. It is as dull as can be: what it does not understand it says, and leaves alone.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass

from yaml.nodes import MappingNode, ScalarNode, SequenceNode

from yaml_nodes import (
    Place,
    at,
    composed,
    drop,
    entry_at,
    every_node,
    listed_in,
    lists,
    new_entry,
    put,
    said,
    written,
)

TOLD = re.compile(r"[^:]*:(\d+):(\d+): (?:once (.*?): )?(.*)")
RIGHT = re.compile(r"(?:; |\? )((?:write|add|leave|move|keep|name|give|take|the keys here are|the only one)\b.*)")
OF_BIKE = ("ignition", "engine_stop", "stand", "clutch", "brakes", "pump_by")
ENTRY = r"(\{[^{}]*\})"


@dataclass(frozen=True)
class Line:
    """One line that was told: where it points, on what it hangs, and what is to be done."""

    place: Place
    once: str
    right: str


class Builder:
    """Somebody with a file who does what is said."""

    def __init__(self, text: str) -> None:
        """Take a file."""
        self.root = composed(text)
        self.not_understood: list[str] = []
        points = re.findall(r"between: ?\[([^,\]]*)", text)
        self._point = points[0].strip() if points else "seat tray"

    def obey(self, told: str) -> str:
        """Return the file after all that ``told`` says was done, plain lines before those that hang on a choice."""
        lines = [line for one in told.splitlines() if (line := self._read(one))]
        for line in sorted(lines, key=lambda line: (bool(line.once), "move it" in line.right)):
            if all(
                self._holds(line, one) for one in re.split(r"(?:, | and )(?=it |there |the entry)", line.once) if one
            ):
                self._do(line)
        return written(self.root)

    def _read(self, line: str) -> Line | None:
        found = TOLD.fullmatch(line)
        right = RIGHT.search(found[4]) if found else None
        if found and right:
            return Line((int(found[1]), int(found[2])), found[3] or "", right[1])
        if line:
            self.not_understood.append(line)
        return None

    def _holds(self, line: Line, once: str) -> bool:
        """Tell whether a choice was taken: 'it is a fan', 'the entry in line 9 is a fan or a horn'."""
        if once.startswith("there is"):
            parts = [said(one, "part") for one in lists(self.root)["loads"].value]
            return any(part.value in _choices(once, "there is ") for part in parts if part)
        other = re.match(r"the entry in line (\d+)", once)
        entry = entry_at(self.root, int(other[1])) if other else entry_at(self.root, *line.place)
        if entry is None:
            return False
        part = said(entry, "part")
        if "has no part" in once:
            return part is None
        return "is under" in once or (part is not None and part.value in _choices(once, " is "))

    def _do(self, line: Line) -> None:
        for words, deed in DEEDS:
            if found := re.match(words, line.right):
                deed(self, line, found)
                return
        self.not_understood.append(f"{line.place}: {line.right}")

    # --- what is done

    def entry(self, line: Line) -> MappingNode:
        """Return what a line points to: a load, an input, or the bike."""
        return entry_at(self.root, *line.place) or self.root

    def append(self, name: str, text: str) -> None:
        """Add an entry to a list; one that two lines ask for is added once."""
        new, listed = new_entry(text.replace("POINT", self._point)), listed_in(self.root, name)
        if written(new) not in [written(other) for other in listed.value]:
            listed.value.append(new)

    def add(self, _: Line, found: re.Match[str]) -> None:
        """Add to the loads or inputs what is written out."""
        for text in filter(None, found.groups()[1:]):
            self.append(found[1], text)

    def two_loads(self, line: Line, found: re.Match[str]) -> None:
        """Write two loads for one."""
        self._take(self.entry(line))
        for text in found.groups():
            self.append("loads", text)

    def move(self, line: Line, found: re.Match[str]) -> None:
        """Move an entry to another list, and say there what it is."""
        entry = self.entry(line)
        self._take(entry)
        listed_in(self.root, found[1]).value.append(entry)
        if found[2]:
            put(entry, "part", found[2])

    def leave_out(self, line: Line, _: re.Match[str]) -> None:
        """Leave out an entry whose part is wrong, or the key or the word where the line points."""
        entry = self.entry(line)
        part = said(entry, "part")
        if part is not None and at(part) == line.place:
            self._take(entry)
            return
        for node in list(every_node(self.root)):
            if isinstance(node, MappingNode):
                node.value = [pair for pair in node.value if line.place not in (at(pair[0]), at(pair[1]))]
            elif isinstance(node, SequenceNode):
                node.value = [item for item in node.value if at(item) != line.place or isinstance(item, MappingNode)]

    def _take(self, entry: MappingNode) -> None:
        for listed in lists(self.root).values():
            if entry in listed.value:
                listed.value.remove(entry)

    def leave_key_out(self, line: Line, found: re.Match[str]) -> None:
        """Leave out a key."""
        drop(self.entry(line), found[1])

    def key(self, line: Line, found: re.Match[str]) -> None:
        """Write a key, and what goes with it: in a list, or beside it."""
        name, value, rest = found.groups()
        entry = self.root if name in OF_BIKE else self.entry(line)
        if entry is self.root and name not in OF_BIKE:
            self.not_understood.append(f"{line.place}: {line.right}")
            return
        put(entry, name, value)
        if rest.startswith(" in its place"):
            drop(entry, "part")
        if more := re.match(rf" with {ENTRY} under '(\w+)'|[^;]*?, and add that to 'inputs', {ENTRY}", rest):
            self.append(more[2] or "inputs", more[1] or more[3])
        if beside := re.match(r" with '(\w+): ([^']*)'", rest):
            put(entry, beside[1], beside[2])

    def works(self, _: Line, found: re.Match[str]) -> None:
        """Write what a switch works that is there."""
        inputs = listed_in(self.root, "inputs").value
        names = ((said(one, "name") or said(one, "part"), one) for one in inputs)
        put(next(one for name, one in names if name is not None and name.value == found[2]), "operates", found[1])

    def what_it_is(self, line: Line, _: re.Match[str]) -> None:
        """Say what a thing is, which its builder knows: a socket, or a switch by its name."""
        entry = self.entry(line)
        put(entry, "name", f"thing of line {line.place[0]}")
        if entry in lists(self.root)["loads"].value:
            put(entry, "part", "socket")

    def figure(self, line: Line, _: re.Match[str]) -> None:
        """Say what a load draws, as it was measured."""
        put(self.entry(line), "current", "1 A")

    def missing(self, line: Line, found: re.Match[str]) -> None:
        """Write a key that is missing: where it sits, or what is shown."""
        put(self.entry(line), found[1], self._point if found[1] == "at" else re.sub(r".*such as ", "", found[2]))

    def name(self, line: Line, _: re.Match[str]) -> None:
        """Write a name of its own."""
        entry = self.entry(line)
        old = said(entry, "name") or said(entry, "part")
        assert old is not None
        put(entry, "name", f"{old.value} of line {line.place[0]}")

    def word(self, line: Line, found: re.Match[str]) -> None:
        """Write another word, or another key, where the line points."""
        node = self._node(line)
        if node is not None:
            node.value = found[1]

    def unit(self, line: Line, found: re.Match[str]) -> None:
        """Write a figure with its unit, as the example has it."""
        node = self._node(line)
        if node is not None:
            bare = re.fullmatch(r"[\d.]+", node.value)
            node.value = f"{node.value} {found[1].split()[-1]}" if bare else found[1]

    def _node(self, line: Line) -> ScalarNode | None:
        found = (one for one in every_node(self.root) if isinstance(one, ScalarNode) and at(one) == line.place)
        node = next(found, None)
        if node is None:
            self.not_understood.append(f"{line.place}: {line.right}")
        return node


def _choices(once: str, after: str) -> list[str]:
    """Return 'fan' and 'horn' of 'it is a fan or a horn'."""
    return [re.sub(r"^an? ", "", choice) for choice in re.split(r", | or ", once.partition(after)[2])]


Deed = Callable[[Builder, Line, re.Match[str]], None]
DEEDS: tuple[tuple[str, Deed], ...] = (
    (rf"add to '(\w+)' (?:the one that is there, such as )?{ENTRY}(?: and {ENTRY})?", Builder.add),
    (rf"write two loads in its place, one for each filament: {ENTRY} and {ENTRY}", Builder.two_loads),
    (r"move it under '(\w+)'(?: and write 'part: ([^']*)')?", Builder.move),
    (r"leave it out|leave the relay out|the keys here are|keep one", Builder.leave_out),
    (r"leave '(\w+)' out", Builder.leave_key_out),
    (r"write 'operates: ([^']*)' at '([^']*)', which works nothing yet", Builder.works),
    (r"(?:write|add) '(\w+): ([^']*)'(.*)", Builder.key),
    (r"add part: what it is", Builder.what_it_is),
    (r"add one of 'lamp'", Builder.figure),
    (r"add (\w+): (.*)", Builder.missing),
    (r"give each", Builder.name),
    (r"(?:write|the only one is) '([^':]*)'", Builder.word),
    (r"write one of ([^,]*?)(?:,| or )", Builder.word),
    (r"write .*such as (.+)", Builder.unit),
    (r"write ([\w. ]+)$", Builder.word),
)
"""What is said, and what is done then; the first that fits."""
