"""Kill, interrupt and terminate each command that writes, and fill its disk, at each moment that it changes the disk.

Run on demand: ``python -m tests.kills``; ``--every 5`` takes each fifth moment only, ``--job sheets`` one command.
After each: what is the user's is untouched, every file is whole, old or new, the next call mends what is left and says
so, exit codes are as told, and there is no traceback. Where a small file system can be mounted, it is really full, too.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parent.parent))

from kills.full import filled
from kills.jobs import JOBS
from kills.judging import course, judged
from kills.moments import WAYS, Fault
from portloom.cli import check, compare, plan, sheets, why  # noqa: F401 - loaded once for all calls


def main() -> int:
    """Print what was tried and what was wrong; return 1 where anything was."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="try each so manieth moment only")
    parser.add_argument("--job", choices=[job.name for job in JOBS], help="only this command")
    asked = parser.parse_args()
    tried: Counter[str] = Counter()
    wrong = 0
    for job in JOBS:
        if asked.job not in (None, job.name):
            continue
        with TemporaryDirectory() as scratch:
            undisturbed = course(job, Path(scratch))
            for way in WAYS:
                for at in range(0, undisturbed.end.moments, asked.every):
                    faults = judged(undisturbed, Fault(way, at), Path(scratch) / f"{way} {at}")
                    tried[way] += 1
                    wrong += bool(faults)
                    for fault in faults:
                        print(f"{job.name}, {way} at moment {at}: {fault}", flush=True)
            print(f"{job.name}: {undisturbed.end.moments} moments tried", flush=True)
            for room, faults in filled(undisturbed, Path(scratch)):
                tried["small file system"] += 1
                wrong += bool(faults)
                for fault in faults:
                    print(f"{job.name}, {room} bytes left: {fault}", flush=True)
    print(", ".join(f"{number} x {way}" for way, number in tried.items()) + f": {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
