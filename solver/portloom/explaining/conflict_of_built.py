"""What is told of built circuits that leave no plan, in words and as JSON."""

from portloom.base.built import BuiltLoom
from portloom.base.figures import counted, listed
from portloom.documents.amounts import Json, thousandth
from portloom.explaining.undoing import BuiltConflict, Undoing, Undone


def fact_of(circuit: str, loom: BuiltLoom) -> str:
    """Say what is built: a circuit, its wires, its sizes, where it lies."""
    pieces = loom.circuits[circuit]
    sizes = tuple(dict.fromkeys(piece.size.label for piece in pieces if piece.size is not None))
    legs = tuple(dict.fromkeys(leg for piece in pieces for leg in piece.legs))
    lying = f" in {listed(legs)}" if legs else ""
    return f"{circuit} is built: {counted(len(pieces), 'wire')} of {listed(sizes)}{lying}"


def sentence_of(conflict: BuiltConflict) -> str:
    """Say that a conflict is one."""
    if len(conflict.circuits) == 1:
        return f"With the built wires of {conflict.circuits[0]} in the loom nothing fits, whatever is set anew"
    return "With all of these built wires in the loom nothing fits, whatever is set anew"


def undoing_of(fix: Undoing) -> str:
    """Say what to take out."""
    return f"take {listed(fix.circuits)} out of the loom"


def told_of(answer: Undone, loom: BuiltLoom) -> Json:
    """Return the same as JSON: conflicts with built circuits as facts, and fixes that undo them."""
    return {
        "conflicts": [
            {
                "sentence": sentence_of(conflict),
                "facts": [
                    {"rule": "as built", "subject": name, "sentence": fact_of(name, loom), "where": loom.file}
                    for name in conflict.circuits
                ],
                "proof": "proved",
            }
            for conflict in answer.conflicts
        ],
        "fixes": [
            {
                "changes": [f"undo {name}" for name in fix.circuits],
                "effort": fix.effort,
                "cost_mm": thousandth(fix.solved.assignment.cost),
                "sentence": undoing_of(fix),
                "taken_out": list(fix.circuits),
                "proven": fix.solved.assignment.proven,
            }
            for fix in answer.fixes
        ],
        "least": answer.least,
        "loom_to_blame": answer.to_blame,
    }
