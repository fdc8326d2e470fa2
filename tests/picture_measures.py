"""What a picture shows, read back from its text: where its lines of text lie, and what is drawn over them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree as ET

from portloom.report.svg.lettering import ASCENT, Style, width
from portloom.report.svg.shapes import Box, Point, Segment

SVG = "{http://www.w3.org/2000/svg}"
COMMAND = re.compile(r"([MLHVZmlhvza])([^MLHVZmlhvza]*)")
NUMBER = re.compile(r"-?[0-9.]+")
DESCENT = 0.25
"""How far letters reach below the line that they stand on, as a share of their size.

Source: table 'hhea' of DejaVu Sans 2.37, 0.236; Liberation Sans has less.
"""
TOUCH = 0.3
"""Units by which measures may differ from the two decimals that are written."""


@dataclass(frozen=True)
class Text:
    """A line of text, its box, and its turn in the order of drawing."""

    words: str
    box: Box
    turn: int


@dataclass(frozen=True)
class Stroke:
    """A straight stretch that is drawn, half its thickness, its turn."""

    segment: Segment
    half: float
    turn: int


@dataclass(frozen=True)
class Seen:
    """All that a picture shows."""

    size: Box
    texts: tuple[Text, ...]
    strokes: tuple[Stroke, ...]
    plates: tuple[tuple[Box, int], ...]
    """White boxes, which hide what was drawn before them."""


def seen(svg: str) -> Seen:
    """Read a picture; raises ParseError where it is no well-formed XML."""
    root = ET.fromstring(svg)
    texts: list[Text] = []
    strokes: list[Stroke] = []
    plates: list[tuple[Box, int]] = []
    for turn, (part, x, y) in enumerate(_walk(root, 0.0, 0.0)):
        if part.tag == f"{SVG}text":
            texts.append(Text(part.text or "", _text_box(part, x, y), turn))
        elif part.tag == f"{SVG}path" and part.get("stroke") and part.get("stroke-opacity") != "0":
            half = float(part.get("stroke-width", "1")) / 2
            strokes.extend(Stroke(one, half, turn) for one in _segments(part.get("d", ""), x, y))
        elif part.tag == f"{SVG}rect" and part.get("fill") in {"#fff", "#eee"}:
            plates.append((_rect(part, x, y), turn))
        elif part.tag == f"{SVG}circle" and part.get("fill") == "#fff":
            plates.append((_round(part, x, y), turn))
    _, _, wide, high = map(float, root.get("viewBox", "").split())
    return Seen(Box(0, 0, wide, high), tuple(texts), tuple(strokes), tuple(plates))


def overlapping(shown: Seen) -> list[tuple[str, str]]:
    """Return the pairs of texts that lie on each other."""
    pairs = combinations(shown.texts, 2)
    return [(one.words, other.words) for one, other in pairs if one.box.grown(-TOUCH).meets(other.box)]


def outside(shown: Seen) -> list[str]:
    """Return the texts that reach beyond the picture."""
    return [text.words for text in shown.texts if not shown.size.holds(text.box.grown(-TOUCH))]


def struck(shown: Seen) -> list[str]:
    """Return the texts that a line passes through, unless a white plate lies between them."""
    return [text.words for text in shown.texts if any(_passes(shown, text, one) for one in shown.strokes)]


def _passes(shown: Seen, text: Text, one: Stroke) -> bool:
    if not one.segment.passes(text.box.grown(one.half - 1)):
        return False
    turns = [turn for box, turn in shown.plates if turn < text.turn and box.grown(TOUCH).holds(_ink(text))]
    return not any(one.turn < turn for turn in turns)


def _ink(text: Text) -> Box:
    """Return the box of a text without the room that few letters use above and below."""
    box = text.box
    return Box(box.left, box.top + 1, box.right, box.bottom - 1)


def _walk(part: ET.Element, x: float, y: float) -> Iterator[tuple[ET.Element, float, float]]:
    if moved := re.fullmatch(r"translate\((\S+) (\S+)\)", part.get("transform", "")):
        x, y = x + float(moved[1]), y + float(moved[2])
    yield part, x, y
    for inner in part:
        yield from _walk(inner, x, y)


def _text_box(part: ET.Element, x: float, y: float) -> Box:
    style = Style(int(part.get("font-size", "0")), bold=part.get("font-weight") == "bold")
    x, y = x + float(part.get("x", "0")), y + float(part.get("y", "0"))
    wide = width(part.text or "", style)
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[part.get("text-anchor", "start")]
    return Box(left, y - ASCENT * style.size, left + wide, y + DESCENT * style.size)


def _rect(part: ET.Element, x: float, y: float) -> Box:
    left, top = x + float(part.get("x", "0")), y + float(part.get("y", "0"))
    return Box(left, top, left + float(part.get("width", "0")), top + float(part.get("height", "0")))


def _round(part: ET.Element, x: float, y: float) -> Box:
    x, y, radius = x + float(part.get("cx", "0")), y + float(part.get("cy", "0")), float(part.get("r", "0"))
    return Box(x - radius, y - radius, x + radius, y + radius)


def _segments(way: str, x: float, y: float) -> Iterator[Segment]:
    """Return the straight stretches of a path; arcs are left out."""
    here: Point = (x, y)
    for letter, rest in COMMAND.findall(way):
        numbers = list(map(float, NUMBER.findall(rest)))
        for there, drawn in _stops(letter, numbers, here, (x, y)):
            if drawn:
                yield Segment(here, there)
            here = there


def _stops(letter: str, numbers: list[float], here: Point, origin: Point) -> Iterator[tuple[Point, bool]]:
    base = origin if letter.isupper() else here
    match letter.upper():
        case "H":
            yield ((base[0] if letter.isupper() else here[0]) + numbers[0], here[1]), True
        case "V":
            yield (here[0], (base[1] if letter.isupper() else here[1]) + numbers[0]), True
        case "A":
            yield (here[0] + numbers[-2], here[1] + numbers[-1]), False
        case "M" | "L":
            for number in range(0, len(numbers), 2):
                here = base[0] + numbers[number], base[1] + numbers[number + 1]
                base = base if letter.isupper() else here
                yield here, letter.upper() == "L" or number > 0
