"""Which files of a folder are ours: those that a list beside them names, as long as nobody changed them."""

import json
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

LIST = "portloom-sheets.json"
"""The file that lists what a run wrote, each with the fingerprint of its bytes."""
WRITTEN_BY = "portloom sheets"


def fingerprint(content: bytes) -> str:
    """Return the SHA-256 of a file's bytes."""
    return sha256(content).hexdigest()


def listing(files: Mapping[str, bytes]) -> bytes:
    """Write the list of a run's files."""
    document = {"written_by": WRITTEN_BY, "files": {name: fingerprint(files[name]) for name in sorted(files)}}
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()


def listed_in(folder: Path) -> dict[str, str] | None:
    """Return the files that a folder's list names with their fingerprints; None where it has no list of ours."""
    try:
        document: Any = json.loads((folder / LIST).read_bytes())
    except (OSError, ValueError):
        return None
    if not isinstance(document, dict) or document.get("written_by") != WRITTEN_BY:
        return None
    files = document.get("files")
    return {str(name): str(print_) for name, print_ in files.items()} if isinstance(files, dict) else None


def is_untouched(path: Path, known: str | None) -> bool:
    """Tell whether a file still has the bytes that its list says."""
    try:
        return known is not None and fingerprint(path.read_bytes()) == known
    except OSError:
        return False
