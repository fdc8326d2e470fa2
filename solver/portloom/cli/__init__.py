"""The command line: a thin shell over the library."""

import gc
from time import monotonic

LOADED = monotonic()
"""When the command began, before anything else is loaded."""

# A command lives for seconds and drops nearly nothing: fewer collections start it a tenth faster.
gc.set_threshold(200_000, 20, 20)
