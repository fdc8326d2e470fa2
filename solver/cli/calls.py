"""A call of a command that is wrong in itself, whatever the files say."""

from solver.reading.problems import BadFile, Problem


def bad_call(command: str, what: str, right: str) -> BadFile:
    """Return what is told of it; ``command`` is the one that was called, such as 'why'."""
    return BadFile([Problem(f"portloom {command}", 1, 1, what, right)])
