"""Files and calls that nobody would write, by the thousand, for every reader and command: ``python -m tests.fuzz``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))  # what tests import stands beside them, as pytest has it
