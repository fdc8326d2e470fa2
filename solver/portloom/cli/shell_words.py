"""Words of a call as they are typed in the shell of this system."""

import shlex
import sys


def as_typed(word: str) -> str:
    """Return a word as it is typed: in quotes where the shell would part or change it, such as a path with a blank."""
    if sys.platform == "win32":
        from subprocess import list2cmdline  # noqa: PLC0415 - only there

        return list2cmdline([word])
    return shlex.quote(word)
