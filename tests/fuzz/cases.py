"""What is tried: a call, or a reader by itself, with the texts of the files that it reads.

A text begins as one that is right, and is changed at some places: letters, words, lines and bytes are put in, taken
out, doubled and moved; what is put in are words of the files themselves, figures, and what parsers stumble over.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from hypothesis import strategies as st

from small_bikes import FOUR_WAY, THREE_LAMPS

ROOT = Path(__file__).parent.parent.parent
READERS = ("bike", "unit", "post", "readings", "rows", "rows.resume")
"""Read by themselves too: the quickest way to try many."""


@dataclass(frozen=True)
class Case:
    """The words of a call, or '<' and the name of a reader; and the bytes of each file as Latin-1, for JSON."""

    call: tuple[str, ...]
    files: tuple[tuple[str, str], ...]


READINGS = "step,supply_v,current_a,voltage_v\n1,12.6,,\n3,12.6,0.3,-0.3\n4,,1e-1,12.55\n"
POSTS = (
    "out 1: dipped beam\nout 2: tail lamp 5 W\nout 3: brake lamp\nin 1: front brake switch\nmain fuse: 30 A\n",
    "outputs:\n  out 1: [dipped beam]\n  out 2: tail lamp\ninputs: {in 1: front brake switch}\nplace: under seat\n",
    '{"outputs": {"out 1": "dipped beam", "out 2": ["tail lamp", "brake lamp"]}, "place": "under seat"}\n',
    'port,load,trip,wire\nout 1,dipped beam,5 A,1 mm2\nout 2,"tail lamp, brake lamp",3 A,0.5 mm2\n',
    "out 1 (13 A, 1 mm2): dipped beam H4\n- out 2 = tail lamp LED 1 W & brake lamp P21W\nno 30 A fuse\nis it ok?\n",
    (ROOT / "examples" / "harbour-trail-posted.md").read_text("utf-8"),
)  # fmt: skip
BIKES = (
    THREE_LAMPS,
    THREE_LAMPS,
    (ROOT / "examples" / "bare-single.yaml").read_text("utf-8"),
    (ROOT / "examples" / "harbour-trail.yaml").read_text("utf-8"),
    "bike: B\nsupply: {running: 14 V, battery: {capacity: 10 Ah, at: a}}\nignition: own\nframe: {legs: [{between: "
    "[a, b], length: 1 m}], earth: [a]}\nplaces: [{name: p, front: a}]\n"
    "loads: [{part: tail lamp, at: b, power: 5 W, kind: led}]\n",
)
UNITS = (
    FOUR_WAY,
    FOUR_WAY,
    (ROOT / "profiles" / "eleven-way.yaml").read_text("utf-8"),
    "unit: u\nfeed: {limit: 9 A, fuse_max: 10 A}\nbanks: {A: 8 A}\noutputs: [{name: o, limit: 5 A, peak: 20 A, "
    "pwm: true, bank: A, trip_curve: [[2 x, 1 s], [6 x, 50 ms]], follow: i}]\n"
    "inputs: [{name: i, accepts: [earth, pulse]}]\n",
)
ROWS, KEPT = ((ROOT / "tests" / "data" / name).read_text("utf-8") for name in ("rows.csv", "rows.csv.resume"))
OF = {"bike": BIKES, "unit": UNITS, "post": POSTS, "readings": (READINGS,), "rows": (ROWS,), "rows.resume": (KEPT,)}
WORD = re.compile(r"[\w.]+")
VALUE = re.compile(r"(?<=: )[^,}\]\n]+")
KEPT_WORDS = tuple(dict.fromkeys(word for texts in OF.values() for text in texts for word in WORD.findall(text)))
ODD = (
    "", " ", "\n", "\t", "\r", "\0", "\x1b[31m", "\x7f", "\x9b", "\u202e", "\u2066", "\u200b", "\xad", "\ufeff",
    "\ufffe", "\U000e0041", "\ud7ff", "\ue000",
    "\u2028", "\x85", "e\u0301", "\U0001f600", "\uff11", "\u0661", "²", "½", "µ", "Ω",
    ":", ": ", ",", "-", "- ", "[", "]", "{", "}", "#", "&a", "*a", "<<: ", "!!x ", "|", ">", "'", '"', "\\", "%", "@",
    "`", "?", "=", ";", "---\n", "...\n", "~", "null", "true", "{}", "[]", "[" * 60, "{a: " * 30, "&a [*a, *a]",
    "0", "-1", "1e9", "1e999", "0.0000001", "9" * 30, "9" * 5000, "1_2", "0x1F", "nan", "inf", "1,5", "12 A", "14 V",
    "0 mm", "-3 mm", "55 W", "4.2 A", "1.5 mm2", "16 AWG", "10 mohm", "5 %", "85 C", "3 min", "2 x", "=1+1", "@x",
    "x" * 300, "x" * 3000, "out 1", "in 1", "out 9", "under seat", "seat tray", "tail", "horn", "later:", "inputs:",
    "set_aside: {bank: x}", "way_round: either", "events: {x: {in: [day]}}", "multiplexers: []", "share: a",
    "from: [x]",     "http://x.example", "../x", "/dev/null", "portloom", "\xff", "\xc3",
)  # fmt: skip
WORDS = st.sampled_from(ODD) | st.sampled_from(KEPT_WORDS) | st.text(max_size=4)
WAYS = ("put", "put", "word", "word", "cut", "line out", "line twice", "lines change", "value", "value", "end")
Change = tuple[str, int, str]
CHANGES = st.lists(st.tuples(st.sampled_from(WAYS), st.integers(0, 1 << 20), WORDS), max_size=5)


def changed(text: str, changes: list[Change]) -> str:
    """Return a text with changes made one after the other; a number says where, in its own way."""
    for way, number, new in changes:
        text = _changed(text, way, number, new)
    return text


def _changed(text: str, way: str, number: int, new: str) -> str:
    if "line" in way:
        return _with_lines(text, way, number)
    if way in {"word", "value"}:
        return _with_word(text, VALUE if way == "value" else WORD, number, new)
    at = number % (len(text) + 1)
    rest = {"put": new + text[at:], "cut": text[at + 1 + number % 7 :], "end": ""}
    return text[:at] + rest[way]


def _with_lines(text: str, way: str, number: int) -> str:
    lines = text.splitlines(keepends=True) or [""]
    at = number % len(lines)
    before, after = lines[:at], lines[at + 1 :]
    ways = {
        "line out": [*before, *after],
        "line twice": [*before, lines[at], lines[at], *after],
        "lines change": [lines[at], *after, *before],
    }
    return "".join(ways[way])


def _with_word(text: str, word: re.Pattern[str], number: int, new: str) -> str:
    found = list(word.finditer(text))
    if not found:
        return text + new
    here = found[number % len(found)]
    return text[: here.start()] + new + text[here.end() :]


def _bytes(text: str) -> str:
    return text.encode("utf-8", "surrogatepass").decode("latin-1")


def texts(kind: str) -> st.SearchStrategy[str]:
    """Return what draws the bytes of a file of a kind, as Latin-1; a few have any bytes put in."""
    right = st.sampled_from(OF[kind])
    made = st.builds(changed, right, CHANGES)
    data = st.binary(max_size=3).map(lambda some: some.decode("latin-1"))
    put_in = st.lists(st.tuples(st.just("put"), st.integers(0, 1 << 20), data), min_size=1, max_size=2)
    raw = st.builds(changed, right.map(_bytes), put_in)
    return made.map(_bytes) | made.map(_bytes) | made.map(_bytes) | raw


B, U = "bike.yaml", "unit.yaml"
COMMANDS: tuple[tuple[str, ...], ...] = (
    ("plan", B, "--unit", U), ("plan", B, "--unit", U, "--json"), ("plan", B, "--unit", U, "--place", "W"),
    ("plan", B, "--unit", U, "--trade-offs"), ("plan", B, "--unit", U, "--unit", U), ("plan", B, "--unit", "W"),
    ("plan", B, "--unit", U, "--model", "m.txt"), ("why", B, "--unit", U), ("why", B, "--unit", U, "--json"),
    ("why", B, "--unit", U, "--not", "W=out 1"), ("why", B, "--unit", U, "--not", "tail lamp=W"),
    ("why", B, "--unit", U, "--not-place", "W"), ("why", B, "--unit", U, "--for", "W"),
    ("why", B, "--unit", U, "--all", "--proof"), ("why", B, "--unit", U, "--apply", "1", "--out", "fixed.yaml"),
    ("check", "post", "--unit", U), ("check", "post", "--unit", U, "--json"), ("check", "post", "--unit", U, "--reply"),
    ("check", "post", B, "--unit", U), ("check", "post", B, "--unit", U, "--json"),
    ("check", "post", B, "--unit", U, "--reply"), ("check", "post", B, "--unit", U, "--repair"),
    ("check", "post", B, "--unit", U, "--best"), ("check", "post", B, "--unit", U, "--place", "W"),
    ("sheets", B, "--unit", U, "--readings", "readings"), ("sheets", B, "--unit", U, "--out", "out"),
    ("compare", B, "--unit", U), ("compare", B, "--unit", U, "--csv", "rows"), ("compare", B, "--unit", U, "--by", "W"),
    ("compare", B, "--unit", U, "--json"), ("units",), ("rules", "W"), ("parts", "W"), ("parts", "W", "--json"),
    ("diff", B, B, "--unit", U), ("diff", B, "post"), ("diff", "post", "post", "--json"), ("diff", "W", B, "--unit", U),
    ("new", "bike"), ("new", "W"), ("schema", "W"), ("W",), ("plan", "W"), ("plan", B, "--unit", U, "W"),
)  # fmt: skip
LIMITED = ("why", "compare")
"""Commands that may look for long."""


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Draw a case: of six, five are a reader by itself."""
    if draw(st.integers(0, 5)):
        kind = draw(st.sampled_from(READERS))
        return Case(("<", kind), ((kind, draw(texts(kind))),))
    words = draw(st.sampled_from(COMMANDS))
    said = draw(WORDS.filter(lambda word: "\0" not in word and not any("\ud800" <= x <= "\udfff" for x in word)))
    call = tuple(word.replace("W", said) if word in {"W", "W=out 1", "tail lamp=W"} else word for word in words)
    kinds = {B: "bike", U: "unit"} | {kind: kind for kind in ("post", "readings", "rows")}
    both = draw(st.integers(0, 3))  # in most of them one file is right
    files = tuple(
        (name, draw(texts(kind)) if both in {number, 3} else _bytes(OF[kind][0]))
        for number, (name, kind) in enumerate((name, kind) for name, kind in kinds.items() if name in words)
    )
    return Case((*call, *(("--time-limit", "2") if words[0] in LIMITED and len(words) > 2 else ())), files)
