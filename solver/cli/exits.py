"""What the exit code says."""

from enum import IntEnum


class Exit(IntEnum):
    """The exit codes that other programs rely on."""

    DONE = 0
    NO_PLAN = 1
    BAD_INPUT = 2
    LIMIT = 3
    FAILED_CHECK = 4
    INTERRUPTED = 130
