"""Judges of what is told of random bikes, by edits of their files; run on demand: ``python -m tests.referee``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))  # what tests import stands beside them, as pytest has it
