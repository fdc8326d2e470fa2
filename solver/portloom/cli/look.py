"""How the answer of a call is to look: as the call asks, or as the environment does for every call."""

import os


class Look:
    """What was asked; each command that prints tables settles it before anything else."""

    def __init__(self) -> None:
        """Begin with tables."""
        self.plain = False

    def settle(self, *, plain: bool) -> None:
        """Note whether a call asks for no tables."""
        self.plain = plain

    @property
    def bare(self) -> bool:
        """Tell whether there are to be no attributes, neither colour nor bold (https://no-color.org)."""
        return bool(os.environ.get("NO_COLOR"))


look = Look()
