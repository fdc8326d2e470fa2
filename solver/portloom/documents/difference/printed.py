"""A plan as it was printed in JSON: read back, its figures exact, or refused with what it is instead."""

import json
from collections.abc import Sequence
from decimal import Decimal, InvalidOperation
from typing import Any, NoReturn

from portloom.base.figures import listed
from portloom.base.letters import quoted
from portloom.base.values import dataclass
from portloom.documents.amounts import Json
from portloom.documents.document import Plan
from portloom.documents.json import KEYS, plan_json
from portloom.inputs.problems import BadFile, Flaw, refuse

OF_WHOLE = (
    "status", "bike", "proven", "bound_mm", "cost_mm", "wire_run_mm", "spare_port_loss_mm", "copper_g", "fed",
    "returns", "other_wires", "shown", "legs", "protection", "battery_leads", "starter_v", "energy", "also_needed",
    "no_room_for", "could_share", "decided", "set_aside", "not_yet_judged", "assumed", "warnings", "cautions",
)  # fmt: skip
"""The keys that every plan has."""
OF_UNIT = (
    "unit", "unit_size", "place", "turned", "outputs", "inputs", "feed", "multiplexers", "cases", "lamps", "cranking",
    "free_outputs", "free_inputs", "room_for",
)  # fmt: skip
"""The keys of a unit; of two units they stand under 'units'."""
ENTRIES = ("outputs", "inputs", "multiplexers", "fed", "returns", "other_wires", "shown", "cases", "legs",
           "protection", "lamps", "cranking", "battery_leads", "room_for", "decided", "set_aside")  # fmt: skip
"""Keys that hold lists of entries."""
NAMES = ("loads", "inputs", "free_outputs", "free_inputs", "no_room_for", "also_needed", "could_share",
         "multiplexers_not_used", "not_yet_judged", "assumed", "warnings", "cautions")  # fmt: skip
"""Keys that hold lists of words."""
BESIDE = ("trade_offs",)
"""Keys that a call may have asked for."""
LARGEST = 18
"""Powers of ten: no figure of a plan is beyond."""
MOST_DIGITS = 28
RIGHT = "give what 'portloom plan --json' printed"
ANEW = "plan both bikes with this version, by 'portloom plan --json'"


@dataclass(frozen=True)
class PrintedPlan:
    """A plan as ``plan --json`` prints it; every number in it is a decimal."""

    document: Json

    @classmethod
    def of(cls, plan: Plan, **beside: Json) -> "PrintedPlan":
        """Return a plan as it is printed, with what else was asked for, such as ``trade_offs``."""
        return cls(loaded(json.dumps({**plan_json(plan), **beside})))

    @classmethod
    def read(cls, text: str, name: str) -> "PrintedPlan":
        """Read a plan back; ``name`` is what the text is called in problems.

        Raises BadFile where the text is no JSON, something else than a plan, or a plan of another version.
        """
        return cls.taken(document_in(text, name), name)

    @classmethod
    def taken(cls, document: Any, name: str) -> "PrintedPlan":
        """Take a document that is a plan; raise BadFile for any other."""
        flaw = _other(document) or _misfit(document)
        if flaw is not None:
            raise refuse(name, [Flaw(1, 1, *flaw)])
        return cls(document)


def document_in(text: str, name: str) -> Any:
    """Return what stands in JSON; raise BadFile where it is none.

    Source: RFC 8259; of a name that stands twice in one object it leaves open which counts, so it is refused.
    """
    try:
        return loaded(text)
    except json.JSONDecodeError as error:
        raise refuse(name, [Flaw(error.lineno, error.colno, f"this is no JSON: {_said(error)}", RIGHT)]) from error
    except _NotTakenError as error:
        raise refuse(name, [Flaw(1, 1, str(error), RIGHT)]) from error
    except RecursionError as error:
        raise refuse(name, [Flaw(1, 1, "this is nested too deep for a plan", RIGHT)]) from error


class _NotTakenError(ValueError):
    """Something that JSON, or Python's reader of it, allows and no plan holds."""


def loaded(text: str) -> Any:
    """Return what a text of JSON holds, its numbers as decimals."""
    return json.loads(
        text, parse_float=_number, parse_int=_number, parse_constant=_no_number, object_pairs_hook=_each_once
    )


def _number(text: str) -> Decimal:
    try:
        number = Decimal(text)
    except InvalidOperation:
        _no_number(text)
    if len(number.as_tuple().digits) > MOST_DIGITS or (number and abs(number.adjusted()) > LARGEST):
        _no_number(text)
    return number


def _no_number(text: str) -> NoReturn:
    raise _NotTakenError(f"'{quoted(text)}' is no figure of a plan")


def _each_once(pairs: list[tuple[str, Any]]) -> Json:
    found = dict(pairs)
    if len(found) < len(pairs):
        twice = next(key for at, (key, _) in enumerate(pairs) if key in dict(pairs[:at]))
        raise _NotTakenError(f"'{quoted(twice)}' stands twice in one object")
    return found


def _said(error: json.JSONDecodeError) -> str:
    return error.msg[:1].lower() + error.msg[1:]


# --- what else it may be

OTHERS = {
    "changes": "a difference of two plans, as 'portloom diff' prints it",
    "near": "an explanation, as 'portloom why' prints it",
    "why_not": "an explanation, as 'portloom why' prints it",
    "pins": "an explanation, as 'portloom why' prints it",
    "elsewhere": "an explanation, as 'portloom why' prints it",
    "clashes": "the verdict on a posted plan, as 'portloom check' prints it",
    "ranked_by": "a comparison of units, as 'portloom compare' prints it",
}
"""What other documents of this program are, by a key that no plan has."""

Refusal = tuple[str, str]
"""What is wrong, and what would be right."""


def _other(document: Any) -> Refusal | None:
    """Tell a document that is something else than a plan."""
    if not isinstance(document, dict):
        return "this JSON is no plan", RIGHT
    status = str(document.get("status"))
    if status in {"no plan", "unknown"} and "bike" in document:
        what = "nothing fits" if status == "no plan" else "a time limit was reached"
        return f"this says that {what}: there is no plan in it to compare", "give two plans"
    kind = next((kind for key, kind in OTHERS.items() if key in document), None)
    if kind is not None:
        return f"this is {kind}, and no plan", RIGHT
    return None if status == "planned" else ("this JSON is no plan", RIGHT)


def _misfit(document: Json) -> Refusal | None:
    """Tell a plan that this version does not print like that."""
    units = document.get("units")
    parts = [document] if units is None else units
    if not isinstance(parts, list) or not all(isinstance(part, dict) for part in parts) or len(parts) not in {1, 2}:
        return "what stands under 'units' is not what this version prints there", ANEW
    missing = [key for key in OF_WHOLE if key not in document]
    missing += [key for part in parts for key in OF_UNIT if key not in part]
    unknown = [quoted(key) for key in document if key not in {*KEYS, *BESIDE}]
    if missing or unknown:
        said = [f"it has no {listed(_few(missing))}"] if missing else []
        said += [f"this one knows no {listed(_few(unknown))}"] if unknown else []
        return f"another version of portloom printed this plan: {', and '.join(said)}", ANEW
    wrong = _misshapen(document) or next(filter(None, map(_misshapen, parts)), None)
    return (f"what stands under '{wrong}' is not what this version prints there", ANEW) if wrong else None


def _few(names: Sequence[str]) -> list[str]:
    told = [f"'{name}'" for name in dict.fromkeys(names)]
    return told if len(told) <= 4 else [*told[:3], f"{len(told) - 3} more"]


def _misshapen(part: Json) -> str | None:
    """Return the first key of which the value is no list as it should be."""
    for key, value in part.items():
        if key in ENTRIES:
            right = isinstance(value, list) and all(isinstance(entry, dict) for entry in value)
            if not right:
                return key
            if key in {"outputs", "inputs", "multiplexers"} and not all(_is_circuit(key, entry) for entry in value):
                return key
        if key in NAMES and key not in ENTRIES and not _is_words(value):
            return key
        if key in {"feed", "energy"} and not isinstance(value, dict):
            return key
    return None


def _is_circuit(key: str, entry: Json) -> bool:
    """Tell whether an entry has its port, and what is on it, under the keys of this version."""
    names = entry.get("loads" if key == "outputs" else "inputs")
    on_it = [one.get("input") if isinstance(one, dict) else one for one in names] if isinstance(names, list) else None
    return isinstance(entry.get("port"), str) and _is_words(on_it)


def _is_words(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(word, str) for word in value)


def bad_files(problems: Sequence[BadFile]) -> BadFile:
    """Return all that is wrong with several files as one error."""
    return BadFile(problem for bad in problems for problem in bad.problems)
