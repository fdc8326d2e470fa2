"""The answer to a posted plan as one JSON document; the keys are those that other programs rely on."""

from typing import Any

from solver.answering.document import Checked, Distance, Move, Repair
from solver.plans.amounts import set_aside_json, thousandth
from solver.plans.cautions import CAUTIONS

Json = dict[str, Any]


def checked_json(checked: Checked) -> Json:
    """Return the whole answer."""
    verdict, settings = checked.verdict, checked.posted.settings
    return {
        "status": checked.status,
        "bike": None if checked.bike is None else checked.bike.bike,
        "unit": checked.unit.unit,
        "judged_at": list(verdict.places),
        "sound_at": list(verdict.sound_at),
        "first_looks": [vars(look) for look in verdict.looks],
        "clashes": [
            {"about": about, **vars(clash)} for about, clash in zip(checked.concerns, verdict.clashes, strict=True)
        ],
        "kept": list(verdict.kept),
        "not_judged": list(verdict.not_judged),
        "outputs": [
            {
                "port": port,
                "loads": list(held),
                **({"trip_a": thousandth(settings.trips[port])} if port in settings.trips else {}),
                **({"wire": settings.sizes[port].label} if port in settings.sizes else {}),
            }
            for port, held in checked.posted.outputs.items()
        ],
        "inputs": [{"port": port, "inputs": list(held)} for port, held in checked.posted.inputs.items()],
        "taken": [{"line": cell.line, "said": cell.text, "as": name} for cell, name in checked.posted.taken],
        "assumed": list(checked.assumed),
        "problems": [str(problem) for problem in checked.problems],
        **({"best": _best(checked.best)} if checked.best is not None else {}),
        **({"repair": _repair(checked.repair)} if checked.repair is not None else {}),
        "set_aside": set_aside_json(checked.set_aside),
        "cautions": list(CAUTIONS),
    }


def _best(best: Distance | str) -> Json:
    if not isinstance(best, Distance):
        return {"answer": best}
    posted = {}
    if best.posted_run is not None and best.posted_loss is not None:
        posted = {
            "posted_at": best.posted_at,
            "more_wire_mm": thousandth(best.posted_run - best.wire_run),
            "more_spare_port_loss_mm": thousandth(best.posted_loss - best.spare_port_loss),
        }
    return {
        "answer": "found",
        "place": best.place,
        "proven": best.proven,
        "cost_mm": thousandth(best.cost),
        "wire_run_mm": thousandth(best.wire_run),
        "spare_port_loss_mm": thousandth(best.spare_port_loss),
        **posted,
    }


def _repair(repair: Repair | str) -> Json:
    if not isinstance(repair, Repair):
        return {"answer": repair}
    return {
        "answer": "found",
        "proven": repair.proven,
        "moves": repair.moves,
        "at_least": repair.least,
        "moved": [_move(move) for move in repair.moved],
        "placed": [_move(move) for move in repair.placed],
        "taken_off": [{"name": name, "from": port} for name, port in repair.taken_off],
        "set": [{"port": s.port, "trip_a": thousandth(s.trip), "wire": s.size.label} for s in repair.set_anew],
        "outputs": [{"port": port, "loads": list(held)} for port, held in repair.outputs],
        "inputs": [{"port": port, "inputs": list(held)} for port, held in repair.inputs],
        "inputs_posted": repair.inputs_posted,
        "place": repair.place,
        "cost_mm": thousandth(repair.cost),
    }


def _move(move: Move) -> Json:
    return {"name": move.name, "from": move.before, "to": move.after}
