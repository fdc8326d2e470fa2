"""Judge every figure of printed plans of random bikes: ``python -m tests.judge --count 1000 --keep FILE``.

What is kept in the file is not judged again, so a run that ended by ``--minutes`` goes on where it was. Ends with 1
where a figure is another one than the sheet works out.
"""

import sys
from functools import partial

from referee.command import command
from referee.record import judge_bikes

from .trials import trials

if __name__ == "__main__":
    with command() as call:
        sys.exit(judge_bikes("Judge every figure of plans of random bikes.", "judge", partial(trials, call)))
