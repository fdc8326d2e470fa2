"""Ports as people write them: 'output 3', 'Q3', 'ch 3', '#3', '3'; and where one stands in a line."""

import re
from typing import Literal

from portloom.base.values import dataclass
from portloom.review.names import KnownNames, NameMatch, words_of

Side = Literal["outputs", "inputs"]
KINDS = (
    r"(?:(?P<out>outputs?|outlets?|out|q(?=\s?\d))|(?P<in>inputs?|in)"
    r"|(?P<any>channels?|ch|ports?|pins?|terminals?|ways?|nr|no|\#))"
)
FORM = re.compile(rf"(?:{KINDS}|(?P<o>o)(?=\s?\d)|(?P<i>i)(?=\s?\d))?[\s.:_\#-]*0*(?P<number>\d{{1,3}})", re.IGNORECASE)
WITHIN = re.compile(
    rf"(?<![\w#]){KINDS}[\s._\#-]*0*(?P<number>\d{{1,3}})(?![\w.,]*\d|\s*(?:A|W|V|mm|amps?|watts?)\b)", re.IGNORECASE
)
ON_NUMBER = re.compile(r"(?<=\bon )\d{1,2}(?=\s*(?:[.;!](?!\d)|,(?!\s*\d)|$|and\b(?!\s*\d)))", re.IGNORECASE)
"""A bare number at the end of a clause: 'the starter is on 7'."""


@dataclass(frozen=True)
class PortForm:
    """A port as it is written: its number, and which side of the unit it is said to be on."""

    number: str
    side: Side | None


def port_form(text: str) -> PortForm | None:
    """Return what a text says as a port; None where it is none."""
    found = FORM.fullmatch(text.strip())
    return None if found is None else _form(found)


def _form(found: re.Match[str]) -> PortForm:
    outward, inward = found["out"] or found["o"], found["in"] or found["i"]
    side: Side | None = "outputs" if outward else "inputs" if inward else None
    return PortForm(found["number"], side)


SEVERAL = re.compile(
    rf"(?<![\w#]){KINDS}\s*\d{{1,3}}(?:\s*(?:,|&|\+|/|\band\b|\bto\b)\s*|[-–])(?P<other>\d{{1,3}})"
    r"(?![\w.,]*\d|\s*(?:[x×*]|A|W|V|mm|amps?|watts?)\b)",
    re.IGNORECASE,
)


def names_several(text: str) -> bool:
    """Tell whether a text speaks of several ports at once: 'outputs 1 and 2'."""
    return SEVERAL.search(text) is not None


def is_port(text: str, ports: KnownNames) -> bool:
    """Tell whether a text is a port."""
    return bool(ports.meant(text).names) or port_form(text) is not None


def ports_within(line: str, ports: KnownNames) -> list[tuple[int, int]]:
    """Return where ports stand in a line: those that are called ports, and the unit's own names."""
    spans = [found.span() for pattern in (WITHIN, ON_NUMBER) for found in pattern.finditer(line)]
    for name in ports:
        words = words_of(name)
        pattern = r"(?<!\w)" + r"[\W_]*".join(re.escape(word) for word in words) + r"(?!\w|[.,]\d)"
        if len(words) > 1:  # a name such as 'A' stands in a line for much else
            spans += [found.span() for found in re.finditer(pattern, line, re.IGNORECASE)]
    apart: list[tuple[int, int]] = []
    for begin, end in sorted(spans, key=lambda span: (span[0], -span[1])):
        if not apart or begin >= apart[-1][1]:
            apart.append((begin, end))
    return apart


def port_meant(text: str, outputs: KnownNames, inputs: KnownNames, side: Side | None) -> NameMatch:
    """Return the ports that a text may mean; ``side`` is where what stands on it belongs, if that is known."""
    output, source = outputs.meant(text), inputs.meant(text)
    form = port_form(text)
    if (
        form is not None
        and form.side is None
        and side is not None
        and text not in (outputs if side == "outputs" else inputs)
    ):
        only = _numbered(form, outputs if side == "outputs" else inputs, side, NameMatch(()))
        return only if only.names else NameMatch((), output.near or source.near)
    if form is not None and not (output.names or source.names):
        output = _numbered(form, outputs, "outputs", output)
        source = _numbered(form, inputs, "inputs", source)
    if output.names and source.names and side is not None:
        return output if side == "outputs" else source
    return NameMatch((*output.names, *source.names), output.near or source.near)


def _numbered(form: PortForm, names: KnownNames, side: Side, otherwise: NameMatch) -> NameMatch:
    found = names.meant(form.number) if form.side in (None, side) else NameMatch(())
    return found if found.names else otherwise
