"""Blade fuses: the steps they come in, and which step a current needs.

Source: ISO 8820-3 steps (types C, E and F).
"""

from solver.electrics.trip import carries
from solver.words.quantities import MilliAmps

STEPS: tuple[MilliAmps, ...] = tuple(
    MilliAmps(tenths * 100)
    for tenths in (10, 20, 30, 40, 50, 75, 100, 150, 200, 250, 300, 350, 400, 500, 600, 700, 800)
)


def fuse_for(steady: MilliAmps, above: MilliAmps = MilliAmps(0)) -> MilliAmps | None:
    """Return the smallest step that carries ``steady`` and is above ``above``, or None past the last."""
    return next((step for step in STEPS if carries(step, steady) and step > above), None)
