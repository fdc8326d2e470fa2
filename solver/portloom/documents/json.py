"""A plan as one JSON document, in the units that the keys name, every amount an exact decimal."""

from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from portloom.base.sizes import WireSize
from portloom.documents.amounts import Json, cost_json, cost_parts_json, number, set_aside_json, thousandth
from portloom.documents.document import (
    CaseLine,
    FeedLine,
    FixedLine,
    InputLine,
    LegLine,
    MultiplexerLine,
    OutputLine,
    Plan,
    PlannedUnit,
    TradeOffs,
    WireLine,
)
from portloom.documents.energy import Energy
from portloom.documents.legs import leg_trade_offs_json, legs_json
from portloom.documents.notes import NotesOf
from portloom.documents.protection import ProtectionLine
from portloom.documents.savings import Saves, Savings
from portloom.documents.shown import ShownLine
from portloom.documents.wires_json import change_json, dead_json, wires_json
from portloom.documents.wiring.leads import BatteryLead


def volts(microvolts: Fraction) -> int | float:
    """Return a voltage in volts, to a tenth of a millivolt, rounded up."""
    tenths = Decimal(-(-microvolts.numerator // (microvolts.denominator * 100)))
    return number((tenths / 10_000).quantize(Decimal("0.0001"), ROUND_CEILING))


def left(microvolts: Fraction) -> int | float:
    """Return a voltage that is left in volts, to a tenth of a millivolt, rounded down."""
    return -volts(-microvolts)


KEYS = (
    "status", "bike", "unit", "unit_size", "units", "place", "turned", "proven", "not_proved_twice", "bound_mm",
    "cost_mm", "wire_run_mm", "spare_port_loss_mm", "legs_in_use_mm", "copper_g", "chosen_legs", "outputs", "inputs",
    "feed", "fed", "multiplexers",
    "returns", "other_wires", "shown", "cases", "legs", "change", "wires", "dead_wires", "last_number",
    "protection", "lamps", "cranking", "battery_leads",
    "starter_v", "energy", "also_needed", "free_outputs", "free_inputs", "room_for", "no_room_for", "could_share",
    "multiplexers_not_used", "decided", "set_aside", "not_yet_judged", "assumed", "warnings", "cautions",
)  # fmt: skip
"""The keys that other programs rely on, in their order."""
OF_BOTH = ("protection", "warnings")
"""Keys of a unit and of the bike: with one unit its own come first, then the bike's."""


def plan_json(plan: Plan) -> Json:
    """Return a plan's document; of two units each unit's part stands under 'units'."""
    whole, units = _whole(plan), [_unit(unit) for unit in plan.units]
    if len(units) > 1:
        return _in_order({**whole, "units": units, "multiplexers_not_used": list(plan.not_used)})
    (unit,) = units
    joined = {key: unit[key] + whole[key] for key in OF_BOTH}
    return _in_order({**whole, **unit, **joined, "warnings": list(plan.warnings)})


def _in_order(document: Json) -> Json:
    return {key: document[key] for key in KEYS if key in document}


def _whole(plan: Plan) -> Json:
    """Return what is the bike's, whatever units are on it."""
    return {
        "status": "planned",
        "bike": plan.bike,
        "proven": plan.proven,
        **({"not_proved_twice": True} if plan.once else {}),
        "bound_mm": thousandth(plan.bound),
        **cost_json(plan.costs),
        "copper_g": thousandth(plan.copper_mg),
        **({} if plan.chosen_legs is None else {"chosen_legs": legs_json(plan.chosen_legs)}),
        "fed": [_fixed(line) for line in plan.fed],
        "returns": [_return(line) for line in plan.returns],
        "other_wires": [_fixed(line) for line in plan.other_wires],
        "shown": [_shown(line) for line in plan.shown],
        "legs": [_leg(leg) for leg in plan.legs],
        "wires": wires_json(plan.wiring.wires),
        **_built(plan),
        "protection": [_protection(line) for line in plan.other_protection],
        "battery_leads": [_lead(lead) for lead in plan.leads],
        "starter_v": None if plan.starter_voltage is None else left(plan.starter_voltage),
        "energy": _energy(plan.energy),
        "also_needed": list(plan.also_needed),
        "no_room_for": list(plan.no_room_for),
        "could_share": list(plan.could_share),
        "decided": [{"sentence": line.sentence, "where": line.where} for line in plan.decided],
        "set_aside": set_aside_json(plan.set_aside),
        "not_yet_judged": list(plan.not_yet_judged),
        "assumed": list(plan.assumed),
        "warnings": [*plan.first, *plan.bike_warnings],
        "cautions": list(plan.cautions),
    }


def _built(plan: Plan) -> Json:
    """Return what is done to a loom that was built before, and what of it is dead; nothing where there is none."""
    if plan.change is None:
        return {}
    dead, last = dead_json(plan.dead), plan.change.last_number
    return {"change": change_json(plan.change), "dead_wires": dead, "last_number": last}


def _unit(unit: PlannedUnit) -> Json:
    return {
        "unit": unit.unit,
        "unit_size": unit.size,
        "place": unit.place,
        "turned": unit.turned,
        "outputs": [_output(line) for line in unit.outputs],
        "inputs": [_input(line) for line in unit.inputs],
        "feed": _feed(unit.feed),
        "multiplexers": [_multiplexer(line) for line in unit.multiplexers],
        "cases": [_case(case) for case in unit.cases],
        "protection": [_protection(line) for line in unit.protection],
        "lamps": [
            {
                "load": line.load,
                "reached_v": left(line.reaches),
                "light": round(line.light, 4),
                "case": line.case,
            }
            for line in unit.lamps
        ],
        "cranking": [
            {
                "at": line.where,
                "voltage_v": left(line.voltage),
                "lowest_v": None if line.lowest is None else thousandth(line.lowest),
            }
            for line in unit.cranking
        ],
        "free_outputs": list(unit.free_outputs),
        "free_inputs": list(unit.free_inputs),
        "room_for": [{"load": line.load, "port": line.port} for line in unit.room_for],
        "warnings": list(unit.warnings),
    }


def _wire(wire: WireLine, size: WireSize) -> Json:
    return {
        "run_mm": thousandth(wire.run),
        "cut_mm": thousandth(wire.cut),
        "legs": list(wire.legs),
        "wire_mm2": number(size.square_mm),
        "wire": size.label,
    }


def _output(line: OutputLine) -> Json:
    """Return a circuit on its output."""
    return {
        "port": line.port,
        "loads": list(line.loads),
        "mode": list(line.mode),
        "current_a": thousandth(line.current),
        "inrush_a": number(Decimal(line.inrush) / 1_000_000),
        "trip_a": thousandth(line.trip),
        **_wire(line.wire, line.size),
        "drop_v": volts(line.drop),
        "drops_v": {lost.load: volts(lost.drop) for lost in line.drops},
        "drop_cases": {lost.load: lost.case for lost in line.drops},
        **_notes(line.notes),
    }


def _notes(notes: NotesOf) -> Json:
    """Return what is noted, by the names of loads or switches; nothing where nothing is."""
    return {"notes": dict(notes)} if notes else {}


def _input(line: InputLine) -> Json:
    """Return switches on their input."""
    return {
        "port": line.port,
        "inputs": list(line.switches),
        "signal": line.signal,
        "action": line.action,
        "at_rest": list(line.at_rest),
        **_wire(line.wire, line.size),
        **_notes(line.notes),
    }


def _multiplexer(line: MultiplexerLine) -> Json:
    return {
        "name": line.name,
        "at": line.at,
        "port": line.port,
        "ways": line.ways,
        **_wire(line.wire, line.size),
        "inputs": [
            {
                "input": switch.switch,
                "way": switch.way,
                "signal": switch.signal,
                "at_rest": switch.at_rest,
                **_wire(switch.wire, line.size),
                **_notes(switch.notes),
            }
            for switch in line.switches
        ],
        "saves": None if line.saves is None else _saves(line.saves),
    }


def _saves(saves: Saves) -> Json:
    """Return what would be without a multiplexer; figures only where there is a plan without it."""
    if not isinstance(saves, Savings):
        return {"without": saves}
    return {
        "without": "planned",
        "other_place": saves.place or None,
        "proven": saves.proven,
        **cost_parts_json(saves.costs),
        "inputs": saves.inputs,
        "legs": [
            {
                "leg": leg.name,
                "wires": leg.wires,
                "wires_without": leg.wires_without,
                "diameter_mm": thousandth(leg.diameter),
                "diameter_without_mm": thousandth(leg.diameter_without),
            }
            for leg in saves.legs
        ],
    }


def _feed(feed: FeedLine) -> Json:
    """Return a unit's feed with its main fuse and worst case."""
    return {
        **_wire(feed.wire, feed.size),
        "main_fuse_a": thousandth(feed.main_fuse),
        "limit_a": thousandth(feed.limit),
        "worst_a": thousandth(feed.worst),
        "worst_case": feed.worst_case,
        "drop_v": volts(feed.drop),
        "drop_case": feed.drop_case,
    }


def _return(line: FixedLine) -> Json:
    """Return a way to earth; of joint ones from one point each has its number and the loads whose current it takes."""
    if line.kind != "return":
        return _fixed(line)
    return {**_fixed(line), "number": line.number, "loads": list(line.loads)}


def _fixed(line: FixedLine) -> Json:
    """Return a wire that no assignment changes."""
    return {
        "kind": line.kind,
        "name": line.name,
        "from": line.start,
        "to": list(line.ends),
        "current_a": thousandth(line.current),
        **_wire(line.wire, line.size),
        **({"fuse_a": thousandth(line.fuse)} if line.fuse is not None else {}),
        **({"by": line.by} if line.by is not None else {}),
        **({"drop_v": volts(line.drop.drop), "drop_case": line.drop.case} if line.drop is not None else {}),
        **_notes(line.notes),
    }


def _shown(line: ShownLine) -> Json:
    """Return a thing that a dash shows; what has wires of its own is carried by no port."""
    return {
        "dash": line.dash,
        "at": line.at,
        "lamp": line.lamp,
        "shows": line.shown,
        "by": line.by or None,
        "diode": line.diode,
        "unit_diode": line.unit_diode,
        "own_wires": line.wires,
        "run_mm": thousandth(line.run),
        **_notes(line.notes),
    }


def _lead(lead: BatteryLead) -> Json:
    """Return a lead of the battery's, or an earth strap: its size and drop are none where the thickest won't do."""
    return {
        "name": lead.name,
        "from": lead.start.point,
        "to": lead.end.point,
        "current_a": thousandth(lead.current),
        "run_mm": thousandth(lead.run),
        "cut_mm": thousandth(lead.cut),
        "legs": list(lead.legs),
        "wire_mm2": None if lead.size is None else number(lead.size.square_mm),
        "drop_v": None if lead.loses is None else volts(lead.loses),
        "most_v": thousandth(lead.may_lose),
    }


def _case(case: CaseLine) -> Json:
    """Return a case with the currents through a unit and its banks."""
    return {
        "case": case.label,
        "state": case.state,
        "events": list(case.events),
        "current_a": thousandth(case.current),
        "limit_a": thousandth(case.limit),
        "banks": [
            {"bank": name, "current_a": thousandth(current), "limit_a": thousandth(limit)}
            for name, current, limit in case.banks
        ],
    }


def _leg(leg: LegLine) -> Json:
    """Return a leg with its loom."""
    return {
        "leg": leg.name,
        "wires": leg.wires,
        "diameter_mm": thousandth(leg.diameter),
        "opening_mm": None if leg.opening is None else thousandth(leg.opening),
        "opens_to_mm": None if leg.opens_to is None else thousandth(leg.opens_to),
        "moves": leg.moves,
    }


def trade_offs_json(offs: TradeOffs) -> Json:
    """Return the extreme points between wire run and spare-port loss."""
    return {
        "points": [
            {
                "place": point.place,
                "turned": point.turned,
                **cost_parts_json(point.costs),
                "cost_mm": thousandth(point.cost),
                "proven": True,
            }
            for point in offs.points
        ],
        "not_shown": offs.not_shown,
        "complete": offs.complete,
        **({} if offs.legs is None else {"legs": leg_trade_offs_json(offs.legs)}),
    }


def _protection(line: ProtectionLine) -> Json:
    return {
        "wire": line.wire,
        "wire_mm2": number(line.size.square_mm),
        "must_carry_a": thousandth(line.must),
        "carries_a": thousandth(line.carries),
        "leg": line.leg,
        "loaded": line.loaded,
        "ambient_c": thousandth(line.ambient),
    }


def _energy(energy: Energy) -> Json:
    return {
        "riding": [
            {
                "state": line.state,
                "drawn_w": thousandth(line.drawn),
                "idle_w": None if line.idle is None else thousandth(line.idle),
                "cruise_w": None if line.cruise is None else thousandth(line.cruise),
                "battery_ah_in_ten_minutes_at_idle": thousandth(line.ten_minutes),
            }
            for line in energy.riding
        ],
        "resting": [
            {
                "state": line.name,
                "drawn_ma": thousandth(line.drawn),
                "days": None if line.days is None else round(float(line.days), 1),
            }
            for line in energy.resting
        ],
    }
