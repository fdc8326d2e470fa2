"""Judges every figure that is told of random bikes, by a sheet of its own; run on demand: ``python -m tests.judge``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))  # what tests import stands beside them, as pytest has it
