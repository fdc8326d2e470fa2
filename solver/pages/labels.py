"""The labels as a page to print: each sheet on a page of A4, at full size."""

from collections.abc import Sequence

from solver.pages.markup import Html, document, items, tag
from solver.pictures.labels import SAID
from solver.pictures.svg import Element, written

LABEL_STYLE = """
@page{size:A4;margin:0}
body{margin:0;background:#fff;color:#000;font:12pt/1.4 system-ui,sans-serif}
h1,p,ul{margin:.6rem 15mm}
svg{display:block}
.sheets{overflow-x:auto}
@media print{
h1,p,ul{display:none}
.sheets{overflow:visible}
.sheets>div{height:296mm;overflow:hidden}
.sheets>div+div{break-before:page}
}
"""


def labels_page(bike: str, sheets: Sequence[Element], cautions: Sequence[str]) -> str:
    """Return the page; what is only seen on the screen says how to print it."""
    title = f"Labels: {bike}"
    pages = (tag("div", Html(written(sheet))) for sheet in sheets)
    drawn = tag("div", *pages, class_="sheets", tabindex="0", role="region", aria_label="Sheets of labels")
    return document(title, LABEL_STYLE, tag("h1", title), tag("p", SAID), items(cautions), drawn)
