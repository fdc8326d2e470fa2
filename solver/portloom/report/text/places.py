"""Where things are written, as people say it."""


class Places:
    """Where things are written: a file is named once, until another is."""

    def __init__(self) -> None:
        """Nothing is named yet."""
        self._file = ""

    def said(self, where: str) -> str:
        """Return 'bike.yaml line 12', then 'line 13'; 'default' where no file says it."""
        path, _, line = where.rpartition(":")
        if not path:
            return where
        name = path.replace("\\", "/").rsplit("/", 1)[-1]
        known, self._file = self._file, name
        return f"line {line}" if name == known else f"{name} line {line}"
