"""The pictures of one small bike, byte for byte; ``--rewrite`` writes them anew, to be looked at before they are kept.

The bike is made up; what is right about pictures is tested elsewhere, here it is that none changes unseen.
"""

from pathlib import Path

from pictured import pictured_example

GOLDEN = Path(__file__).parent / "golden" / "pictures"


def test_pictures(*, rewrite: bool) -> None:
    """Every page is the golden one, and no golden page is left over."""
    drawn = {
        f"{picture}-{number}.svg": svg
        for picture, pages in pictured_example("bare-single", "six-way").items()
        for number, svg in enumerate(pages, 1)
    }
    if rewrite:
        GOLDEN.mkdir(parents=True, exist_ok=True)
        for name, svg in drawn.items():
            (GOLDEN / name).write_text(svg, "utf-8")
    assert {path.name: path.read_text("utf-8") for path in GOLDEN.glob("*.svg")} == drawn
