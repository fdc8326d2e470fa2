"""Fixes as JSON."""

from typing import Any

from portloom.documents.amounts import thousandth
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.telling.conflict import NOT_PROVED, PROVED


def fix_json(fix: Fix) -> dict[str, Any]:
    """Return a fix's document; the keys are those that other programs rely on."""
    plan = fix.plan
    return {
        "sentence": fix.sentence,
        "changes": [change.sentence for change in fix.changes],
        "effort": fix.effort,
        "least_effort": PROVED if fix.least else NOT_PROVED,
        "parts": list(fix.parts),
        "unit": plan.only.unit,
        "place": plan.only.place,
        "turned": plan.only.turned,
        "cost_mm": thousandth(plan.cost),
        "wire_run_mm": thousandth(plan.wire_run),
        "spare_port_loss_mm": thousandth(plan.spare_port_loss),
        "spare": {
            "outputs": list(plan.only.free_outputs),
            "inputs": list(plan.only.free_inputs),
            "room_for": [{"load": room.load, "port": room.port} for room in plan.room_for],
        },
        "proven": plan.proven,
    }
