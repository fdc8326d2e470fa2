"""Words that a file must keep although YAML has a use for their signs, and some that it may keep bare."""

BARE_WORDS = [
    "relay",
    "28 mm",
    "P21/5W tail",
    "-5 V",
    "50 %",
    "it's",
    "\\",
    'a "b" c',
    "a#b",
    "a:b",
    "12:30",
    "on",
    "😀 lamp",
    "ü",
]
BARE_IN_LINES = [*BARE_WORDS, "a, b", "a {b} [c]"]
IN_QUOTES = [
    "",
    "~",
    "null",
    "a: b",
    "a:",
    "#",
    "# a",
    "a # b",
    "- x",
    "? x",
    "*a",
    "&a",
    "!a",
    "|",
    ">",
    "%a",
    "@a",
    "`a",
]
IN_QUOTES += [
    "[a",
    "{a",
    "}",
    "]",
    ",",
    "'a'",
    '"a"',
    "\"a\" and 'b'",
]
TAKEN = [
    *BARE_IN_LINES,
    *IN_QUOTES,
    "-",
    "x" * 200,
    "[" * 40,
    "a/" * 100,
    "#😀" * 100,
    "é: " * 60 + "#",
    "--- a",
    "...",
    "<<",
    "=",
    "a?b",
    "?a",
    ":a",
    "a:,b",
    "\xa0 a",
    "W",
]
HIDDEN = ["a\nb", "a\tb", "a\x85b", "a\u2028b", "\x07", "\x00", "a\ufeffb", "\\\n", "a\r\nb"]
HIDDEN += ["a\u202eb", "\x1b[31m", "\u200b"]
"""Words that no file may say: they can reach a sheet only past the reader."""
HOSTILE = [*TAKEN, *HIDDEN]
