"""A reply is pasted into forums: whatever a name holds stands there as text, in Markdown, BBCode and HTML.

The readers are markdown-it (CommonMark with GitHub's tables and strikethrough) with linkify, which makes links of bare
addresses as forums do, the bbcode package, and html5lib.
"""

import re

import bbcode
import html5lib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from portloom.inputs.files import find_unit, read_unit
from portloom.report.text.reply import harmless, reply
from portloom.review.check import check

LOUD = (
    "http://bad.example/x", "www.bad.example", "www.4bad.example", "bad.example", "//bad.example", "//192.0.2.1",
    "ftp://bad.example", "<http://bad.example>", "me@bad.example", "mailto:me@bad.example", "@everybody",
    "[url=http://bad.example]x[/url]", "[img]http://bad.example/x.png[/img]", "[b]x[/b]",
    "[x](http://bad.example)", "![x](http://bad.example)", "[x]: http://bad.example",
    "<b>x</b>", "<script>x()</script>", "&lt;b&gt;", "<img src=x onerror=x()>",
    "$x^2$", r"\(x\)", r"\[x\]", "=1+1", "+1", "-x", "1. x", "1) x", "# x", "> x", "~~x~~", "`x`", "**x**", "__x__",
    "| a | b |", "x\\", "\x1b[31mx", "\u202ex",
)  # fmt: skip
MARKDOWN = MarkdownIt("gfm-like")
UNIT = read_unit(find_unit("six-way"))


def own_tags(page: str) -> set[str]:
    """Return the elements of a page in HTML."""
    return {str(one.tag).partition("}")[2] for one in html5lib.parseFragment(page).iter()} - {""}


@pytest.mark.parametrize("name", LOUD)
def test_a_name_does_nothing_where_a_reply_is_pasted(name: str) -> None:
    """No link, no picture, no emphasis, no list: the page holds one paragraph with words in it."""
    text = harmless(name)
    page = MARKDOWN.render(text)
    assert own_tags(page) == {"p"}, page
    assert own_tags(text) == set()
    formatted = bbcode.render_html(text)
    assert own_tags(formatted) == set(), formatted
    assert not re.search(r"[@$\[\]\x1b\u202e]|\\[(\[]", "".join(html5lib.parseFragment(page).itertext()))


@given(st.text(alphabet="[]()<>@$&;#!*_`~|\\-+=.:/ 1abhtps.cow\n\t\u202e", max_size=40))
def test_no_name_does_anything(name: str) -> None:
    """The same for any heap of the signs that mean something somewhere."""
    text = harmless(name)
    assert own_tags(MARKDOWN.render(text)) <= {"p"}
    assert own_tags(text) == set()
    assert own_tags(bbcode.render_html(text)) == set()


def test_a_reply_to_a_loud_post_has_no_more_in_it_than_one_to_a_quiet_post() -> None:
    """From the post to the page: what stands there besides words is the reply's own."""
    post = "out 1: {0} 3 A\nout 2: {0}\nout 3: [url=http://bad.example]x[/url]\nplace: www.bad.example\n"
    quiet, loud = (
        MARKDOWN.render(reply(check(post.format(name), None, UNIT, name="post")))
        for name in ("whatsit", "@everybody <b> http://bad.example")
    )
    assert own_tags(loud) == own_tags(quiet)
    assert "bad.example" not in loud
    assert "@" not in loud
