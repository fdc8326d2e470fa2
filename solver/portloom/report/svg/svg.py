"""Elements of an SVG picture: typed, escaped when they are written, the same bytes every time."""

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from portloom.base import letters
from portloom.base.values import dataclass

Value = str | int | float
NAMESPACE = "http://www.w3.org/2000/svg"
BLANKS = dict.fromkeys(map(ord, "\t\n\r\x85\u2028\u2029"), " ")


def shown(text: str) -> str:
    """Return a text as XML can hold it and a line can show it: blanks for line ends, numbers for what can't be seen.

    Source: W3C, Extensible Markup Language (XML) 1.0, 5th edition, 2.2 Characters.
    """
    return letters.shown(text.translate(BLANKS))


@dataclass(frozen=True)
class Element:
    """An element: its tag, its attributes in the order in which they are written, what is in it."""

    tag: str
    attributes: tuple[tuple[str, Value], ...] = ()
    inside: tuple["Element | str", ...] = ()


def element(tag: str, *inside: Element | str, **attributes: Value) -> Element:
    """Return an element; ``stroke_width`` is written stroke-width, ``class_`` class."""
    named = ((name.rstrip("_").replace("_", "-"), value) for name, value in attributes.items())
    return Element(tag, tuple(named), inside)


def group(parts: Iterable[Element], **attributes: Value) -> Element:
    """Return a group of elements."""
    return element("g", *parts, **attributes)


def figure(value: float) -> str:
    """Write a number with two decimals at most, and never '-0'."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def written(part: Element | str) -> str:
    """Write an element with all that is in it."""
    if isinstance(part, str):
        return escape(shown(part))
    opened = "".join([part.tag, *(f" {name}={_quoted(value)}" for name, value in part.attributes)])
    if not part.inside:
        return f"<{opened}/>"
    gap = "\n" if part.tag in {"svg", "g"} else ""
    inside = gap.join(["", *map(written, part.inside), ""]) if gap else "".join(map(written, part.inside))
    return f"<{opened}>{inside}</{part.tag}>"


def _quoted(value: Value) -> str:
    return quoteattr(shown(value) if isinstance(value, str) else figure(value))
