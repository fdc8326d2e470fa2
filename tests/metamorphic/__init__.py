"""Random bikes said in another way, whose plans must be what they were: ``python -m tests.metamorphic``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))  # what tests import stands beside them, as pytest has it
