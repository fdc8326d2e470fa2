"""A printed plan in which circuits are noted as taken out of the loom: its text is changed there and nowhere else."""

import json
import re
from collections.abc import Sequence

KEY = re.compile(r'"taken_out"\s*:\s*')


def with_taken_out(text: str, names: Sequence[str]) -> str:
    """Return the text of a printed plan that was read without an error, with more circuits under 'taken_out'."""
    found = KEY.search(text)
    if found is None:
        start = text.index("{") + 1
        return f'{text[:start]}\n  "taken_out": {_listed(names)},{text[start:]}'
    known, length = json.JSONDecoder().raw_decode(text[found.end() :])
    return f"{text[: found.end()]}{_listed([*known, *names])}{text[found.end() + length :]}"


def _listed(names: Sequence[str]) -> str:
    return json.dumps(list(names), ensure_ascii=False)
