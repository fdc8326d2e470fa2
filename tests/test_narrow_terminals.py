"""Answers in a terminal that is narrow: no line is wider than it, whatever is told."""

import unix
from slices import first_of, third_of
from terminal import on_a_screen, without_colour

HARBOUR = "examples/harbour-trail.yaml"
CALLS = (
    f"plan {HARBOUR} --unit eleven-way",
    "plan examples/market-parallel.yaml --unit six-way --unit eleven-way",
    f"plan {HARBOUR} --unit six-way",
    f"check examples/harbour-trail-posted.md {HARBOUR} --unit eleven-way",
    f"diff {HARBOUR} examples/market-parallel.yaml --unit fourteen-way",
    "compare examples/bare-single.yaml --unit six-way --unit eleven-way",
    "units",
    "rules",
    "parts",
)


@unix.terminal
@first_of("columns", (20, 40), 1)
@third_of("call", CALLS, 0)
def test_no_line_of_an_answer_is_wider_than_the_terminal(environment: dict[str, str], call: str, columns: int) -> None:
    """Tables become lists where they find no room; words and figures fold."""
    lines = without_colour(on_a_screen(environment, columns, call.split())[1])
    assert len(lines) > 10
    assert [line for line in lines if len(line) > columns] == []
