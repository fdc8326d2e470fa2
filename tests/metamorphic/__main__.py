"""Plan random bikes and the same said otherwise: ``python -m tests.metamorphic --count 1000 --keep FILE``.

What is kept in the file is not judged again, so a run that ended by ``--minutes`` goes on where it was. Ends with 1
where a plan is another one that may not be.
"""

import sys
from functools import partial

from referee.command import command
from referee.record import judge_bikes

from .trials import trials

if __name__ == "__main__":
    with command() as call:
        sys.exit(judge_bikes("Plan bikes, and the same said otherwise.", "metamorphic", partial(trials, call)))
