"""Signs of the circuit diagram, in the style of IEC 60617, drawn here, and what they mean.

Each lies on a wire from left to right.
Source: the general shapes of IEC 60617 (lamp, motor, horn, coil, heating resistor, make and break contact,
fuse link, semiconductor diode, earth, cell), from memory.
"""

from collections.abc import Callable, Iterator
from typing import Literal

from portloom.report.svg.lettering import Style, line
from portloom.report.svg.marks import outline, ring, solid, stroke
from portloom.report.svg.svg import Element, element, group

Sign = Literal[
    "lamp",
    "led",
    "motor",
    "horn",
    "coil",
    "ignition coil",
    "heater",
    "electronics",
    "normally open",
    "normally closed",
    "sensor",
    "sender",
    "coded",
    "fuse",
    "relay",
    "diode",
    "battery",
    "multiplexer",
    "unit",
    "regulator",
    "onward",
]
HALF = 20.0
"""From the middle of a sign to where its wires begin."""
SAID: dict[Sign, str] = {
    "lamp": "filament lamp",
    "led": "LED lamp",
    "motor": "motor",
    "horn": "horn",
    "coil": "relay or solenoid coil",
    "ignition coil": "ignition coil",
    "heater": "heater",
    "electronics": "electronics",
    "normally open": "switch, open at rest",
    "normally closed": "switch, closed at rest",
    "sensor": "pulse sensor",
    "sender": "resistive sender",
    "coded": "coded sender",
    "fuse": "fuse",
    "relay": "relay contact",
    "diode": "diode",
    "battery": "battery",
    "multiplexer": "multiplexer",
    "unit": "the unit",
    "regulator": "alternator, regulator",
    "onward": "continues elsewhere",
}


def sign(which: Sign, x: float, y: float, *, turned: bool = False) -> Element:
    """Draw a sign round a point of a wire; ``turned`` it points to the left."""
    way = f"translate({x:.2f} {y:.2f}){' scale(-1 1)' * turned}"
    return group(_DRAWN[which](), transform=way, class_=f"sign {which.replace(' ', '-')}")


def earth(x: float, y: float) -> Element:
    """Draw the sign of earth at the end of a wire."""
    return group([stroke("M0 0V4M-9 4H9M-6 8H6M-3 12H3")], transform=f"translate({x:.2f} {y:.2f})", class_="sign earth")


def dot(x: float, y: float) -> Element:
    """Draw a splice."""
    return element("circle", cx=x, cy=y, r=4, fill="#000", class_="fill")


def _box(wide: float = 13, high: float = 11) -> Element:
    return element(
        "rect",
        x=-wide,
        y=-high,
        width=2 * wide,
        height=2 * high,
        fill="#fff",
        stroke="#000",
        stroke_width=1.8,
        class_="paper line",
    )


def _ends(half: float) -> Element:
    return stroke(f"M-20 0H{-half:g}M{half:g} 0H20")


def _lamp() -> Iterator[Element]:
    yield _ends(12)
    yield ring(0, 0, 12)
    yield stroke("M-8.5 -8.5L8.5 8.5M8.5 -8.5L-8.5 8.5")


def _led() -> Iterator[Element]:
    yield _ends(8)
    yield outline("M-8 -8V8L8 0z")
    yield stroke("M8 -8V8")
    yield stroke("M-1 -9L6 -16M6 -9L13 -16", 1.3)
    yield solid("M8 -18L7.5 -13.5L3.5 -17.5zM15 -18L14.5 -13.5L10.5 -17.5z")


def _motor() -> Iterator[Element]:
    yield _ends(12)
    yield ring(0, 0, 12)
    yield line(0, 5, "M", Style(14), "middle")


def _horn() -> Iterator[Element]:
    yield _ends(7)
    yield outline("M-7 -6H1V6H-7z")
    yield outline("M1 -4L12 -12V12L1 4z")
    yield stroke("M12 0H20")


def _coil() -> Iterator[Element]:
    yield _ends(13)
    yield _box(13, 7)


def _ignition() -> Iterator[Element]:
    yield stroke("M-20 0H-16a4 4 0 0 1 8 0a4 4 0 0 1 8 0a4 4 0 0 1 8 0a4 4 0 0 1 8 0H20")
    yield stroke("M-15 -9H15M-15 -12H15", 1.4)


def _heater() -> Iterator[Element]:
    yield _ends(14)
    yield _box(14, 6)
    yield stroke("M-7 -6V6M0 -6V6M7 -6V6")


def _electronics() -> Iterator[Element]:
    yield _ends(13)
    yield _box(13, 12)
    yield stroke("M-7 -5H7V5H-7zM-3 -5V-8M3 -5V-8M-3 5V8M3 5V8", 1.3)


def _open() -> Iterator[Element]:
    yield stroke("M-20 0H-10L9 -9M10 0H20")


def _closed() -> Iterator[Element]:
    yield stroke("M-20 0H-10L12 -8M10 0V-10M10 0H20")


def _sensor() -> Iterator[Element]:
    yield _ends(14)
    yield _box(14, 11)
    yield stroke("M-10 5H-6V-5H-1V5H4V-5H9", 1.4)


def _sender() -> Iterator[Element]:
    yield _ends(13)
    yield _box(13, 5)
    yield stroke("M-10 11L9 -10", 1.3)
    yield solid("M12 -13L10.5 -7L6 -11z")


def _coded() -> Iterator[Element]:
    yield _ends(14)
    yield _box(14, 11)
    yield stroke("M-10 0H-7V-5H-4V0H-1V-5H5V0H9M-9 6H9", 1.3)


def _fuse() -> Iterator[Element]:
    yield _box(13, 5)
    yield stroke("M-20 0H20")


def _relay() -> Iterator[Element]:
    yield stroke("M-20 0H-10L9 -9M10 0H20")
    yield element("path", d="M0 -5V-16", stroke="#000", stroke_width=1.3, stroke_dasharray="3 2", class_="line")
    yield stroke("M-8 -22H8V-16H-8z", 1.4)


def _diode() -> Iterator[Element]:
    yield _ends(7)
    yield outline("M-7 -7V7L7 0z")
    yield stroke("M7 -7V7")


def _battery() -> Iterator[Element]:
    yield stroke("M-20 0H-9M-3 0H3M9 0H20M-3 -11V11M9 -11V11")
    yield stroke("M-9 -6V6M3 -6V6", 3.4)


def _multiplexer() -> Iterator[Element]:
    yield _ends(11)
    yield outline("M-11 -7L11 -13V13L-11 7z")


def _unit() -> Iterator[Element]:
    yield stroke("M-20 0H-13")
    yield element(
        "rect",
        x=-13,
        y=-12,
        width=26,
        height=24,
        fill="#eee",
        stroke="#000",
        stroke_width=3,
        class_="unit",
    )


def _regulator() -> Iterator[Element]:
    yield stroke("M-20 0H-14")
    yield _box(14, 11)
    yield line(0, 5, "G", Style(14), "middle")


def _onward() -> Iterator[Element]:
    yield stroke("M-20 0H-5")
    yield ring(0, 0, 5)


_DRAWN: dict[Sign, Callable[[], Iterator[Element]]] = {
    "lamp": _lamp,
    "led": _led,
    "motor": _motor,
    "horn": _horn,
    "coil": _coil,
    "ignition coil": _ignition,
    "heater": _heater,
    "electronics": _electronics,
    "normally open": _open,
    "normally closed": _closed,
    "sensor": _sensor,
    "sender": _sender,
    "coded": _coded,
    "fuse": _fuse,
    "relay": _relay,
    "diode": _diode,
    "battery": _battery,
    "multiplexer": _multiplexer,
    "unit": _unit,
    "regulator": _regulator,
    "onward": _onward,
}


COLUMNS = 3
ACROSS = 232.0
DOWN = 40.0


class SignLegend:
    """All signs, in columns."""

    @property
    def high(self) -> float:
        """Its height."""
        return DOWN * (-(-(len(SAID) + 2) // COLUMNS)) + 10

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        for number, (which, words) in enumerate(SAID.items()):
            x, y = self._at(number, top)
            yield sign(which, x + 20, y)
            yield line(x + 48, y + 5, words)
        for number, words in enumerate(("splice", "earth"), len(SAID)):
            x, y = self._at(number, top)
            yield dot(x + 20, y) if words == "splice" else earth(x + 20, y - 6)
            yield line(x + 48, y + 5, words)

    def _at(self, number: int, top: float) -> tuple[float, float]:
        return 16 + ACROSS * (number % COLUMNS), top + 20 + DOWN * (number // COLUMNS)
