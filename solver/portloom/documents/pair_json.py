"""A plan of two units as one JSON document, in the units that the keys name."""

from portloom.documents.amounts import set_aside_json, thousandth
from portloom.documents.json import Json, case_json, feed_json, fixed_json, input_json, leg_json, output_json
from portloom.documents.pair import PairPlan, UnitOfPair


def pair_json(plan: PairPlan) -> Json:
    """Return a plan's document; the keys are those that other programs rely on."""
    return {
        "status": "planned",
        "bike": plan.bike,
        "units": [_unit(unit) for unit in plan.units],
        "proven": plan.proven,
        "bound_mm": thousandth(plan.bound),
        "cost_mm": thousandth(plan.cost),
        "wire_run_mm": thousandth(plan.wire_run),
        "spare_port_loss_mm": thousandth(plan.spare_port_loss),
        "copper_g": thousandth(plan.copper_mg),
        "fed": [fixed_json(line) for line in plan.fed],
        "returns": [fixed_json(line) for line in plan.returns],
        "other_wires": [fixed_json(line) for line in plan.other_wires],
        "legs": [leg_json(leg) for leg in plan.legs],
        "no_room_for": list(plan.no_room_for),
        "also_needed": list(plan.also_needed),
        "multiplexers_not_used": list(plan.not_used),
        "set_aside": set_aside_json(plan.set_aside),
        "assumed": list(plan.assumed),
        "warnings": list(plan.warnings),
        "cautions": list(plan.cautions),
    }


def _unit(unit: UnitOfPair) -> Json:
    return {
        "unit": unit.unit,
        "place": unit.place,
        "turned": unit.turned,
        "feed": feed_json(unit.feed),
        "outputs": [output_json(line) for line in unit.outputs],
        "inputs": [input_json(line) for line in unit.inputs],
        "cases": [case_json(case) for case in unit.cases],
        "free_outputs": list(unit.free_outputs),
        "free_inputs": list(unit.free_inputs),
        "room_for": [{"load": line.load, "port": line.port} for line in unit.room_for],
        "warnings": list(unit.warnings),
    }
