"""How long the package takes, beside other programs in the same run: ``python -m tests.bench``, never by pytest."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))  # what tests import stands beside them, as pytest has it
