"""The pictures of a plan, each page with its title and the name of its file."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.job.laid import Laid
from solver.pictures.cases import case_pictures
from solver.pictures.circuit import circuit_pictures
from solver.pictures.loom import loom_pictures
from solver.pictures.sheet import svg_text
from solver.pictures.svg import Element, written
from solver.plans.document import Plan
from solver.wiring.wire import Wiring


@dataclass(frozen=True)
class Picture:
    """A page of a picture: its title, its file's name, and the drawing."""

    title: str
    file: str
    drawn: Element

    @property
    def inline(self) -> str:
        """The drawing as it stands within a page."""
        return written(self.drawn)

    @property
    def text(self) -> str:
        """The drawing as the text of a file of its own."""
        return svg_text(self.drawn)


def pictures_of(plan: Plan, laid: Laid, wiring: Wiring) -> tuple[Picture, ...]:
    """Return the loom over the frame, the circuit diagram and the cases as bars, page by page."""
    return (
        *_pages("The loom", "loom", loom_pictures(laid, plan, wiring, "loom")),
        *_pages("The circuits", "circuit", circuit_pictures(laid, plan, wiring, "circuit")),
        *_pages("The cases", "cases", case_pictures(laid, plan, "cases")),
    )


def _pages(title: str, name: str, pages: Sequence[Element]) -> Iterator[Picture]:
    for number, page in enumerate(pages, 1):
        told = title if len(pages) == 1 else f"{title}, {number} of {len(pages)}"
        yield Picture(told, f"{name}-{number}.svg", page)
