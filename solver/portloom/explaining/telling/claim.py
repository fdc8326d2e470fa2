"""What is proved of all fixes together, in one sentence that texts and other programs are given alike."""

from collections.abc import Sequence

from portloom.explaining.fixes.hunt import Fixes
from portloom.explaining.telling.conflict import Conflict

SAME_KINDS = "more of the same kinds, alone or with others"


def claim(fixes: Fixes, conflicts: Sequence[Conflict]) -> str:
    """Say how far fixes of a bike are proved, beside what stands with the conflicts that they lift."""
    above = any(lift.fits and not lift.weighed for conflict in conflicts for lift in conflict.lifted_by)
    if not fixes.found:
        return _none(fixes, conflicts, above=above)
    but = f", except {'what stands above, and ' if above else ''}{SAME_KINDS}"
    proved = [fix.least for fix in fixes.found]
    if fixes.complete and all(proved):
        return f"Least effort first. Proved: nothing with less effort works{but}."
    if all(proved):
        return (
            f"Least effort first. Proved: nothing with less effort than the last works{but}. "
            "Not every change of more effort was tried, so there may be others."
        )
    if any(proved):
        return (
            f"Least effort first. Proved, but where it says otherwise: nothing with less effort works{but}. "
            "Not every change was tried, so there may be others."
        )
    return "Each one was tried and works. Not every change was tried, so there may be others, of less effort too."


def _none(fixes: Fixes, conflicts: Sequence[Conflict], *, above: bool) -> str:
    if fixes.complete and above:
        return "Proved: nothing else that was tried makes it fit; what does stands above."
    if fixes.complete and any(conflict.hints for conflict in conflicts):
        return "Proved: no change that was tried makes it fit; what may help, and was not tried, stands above."
    if fixes.complete and any(conflict.lifted_by for conflict in conflicts):
        return "Proved: no change that was tried makes it fit; what lifts a conflict by itself stands above."
    if fixes.complete:
        return "Proved: no change that this program knows makes it fit."
    return "None was found. Not every change was tried, so there may be one."
