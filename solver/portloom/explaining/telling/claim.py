"""What is proved of all fixes together, in one sentence that texts and other programs are given alike."""

from collections.abc import Sequence

from portloom.explaining.fixes.hunt import Fixes
from portloom.explaining.telling.conflict import Conflict

EXCEPT = ", except more of the same kinds, alone or with others"


def claim(fixes: Fixes, conflicts: Sequence[Conflict]) -> str:
    """Say how far fixes of a bike are proved, beside what stands with the conflicts that they lift."""
    if not fixes.found:
        return _none(fixes, hinted=any(conflict.hints for conflict in conflicts))
    proved = [fix.least for fix in fixes.found]
    if fixes.complete and all(proved):
        return f"Least effort first. Proved: nothing with less effort works{EXCEPT}."
    if all(proved):
        return (
            f"Least effort first. Proved: nothing with less effort than the last works{EXCEPT}. "
            "Not every change of more effort was tried, so there may be others."
        )
    if any(proved):
        return (
            f"Least effort first. Proved, but where it says otherwise: nothing with less effort works{EXCEPT}. "
            "Not every change was tried, so there may be others."
        )
    return "Each one was tried and works. Not every change was tried, so there may be others, of less effort too."


def _none(fixes: Fixes, *, hinted: bool) -> str:
    if fixes.complete and hinted:
        return "Proved: no change that was tried makes it fit; what may help, and was not tried, stands above."
    if fixes.complete:
        return "Proved: no change that this program knows makes it fit."
    return "None was found. Not every change was tried, so there may be one."
