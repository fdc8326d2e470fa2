"""The cases that once ended wrongly, kept as JSON, a file each, smallest first to read."""

import json
from hashlib import sha256
from pathlib import Path

from .cases import Case

CORPUS = Path(__file__).parent.parent / "data" / "fuzz"


def kept(folder: Path = CORPUS) -> list[Case]:
    """Return every case that is kept."""
    return [_case(path.read_text("utf-8")) for path in sorted(folder.glob("*.json"))]


def keep(case: Case, folder: Path = CORPUS) -> Path:
    """Keep a case; return its file, named after its reader or command and what it holds."""
    text = json.dumps({"call": case.call, "files": dict(case.files)}, indent=1, ensure_ascii=True) + "\n"
    name = case.call[1] if case.call[0] == "<" else case.call[0]
    safe = "".join(x for x in name if x.isascii() and x.isalnum()) or "call"
    path = folder / f"{safe}-{sha256(text.encode()).hexdigest()[:8]}.json"
    path.write_text(text, "utf-8")
    return path


def _case(text: str) -> Case:
    held = json.loads(text)
    return Case(tuple(held["call"]), tuple(held["files"].items()))
