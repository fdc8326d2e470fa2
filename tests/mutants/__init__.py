"""The code changed in small ways, one at a time, and whether any test notices: ``python -m tests.mutants``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))  # what tests import stands beside them, as pytest has it
