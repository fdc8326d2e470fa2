"""Explanations as JSON; the keys are those that other programs rely on."""

from typing import Any

from portloom.documents.amounts import Json, cost_json, set_aside_json, thousandth
from portloom.documents.assumed import CAUTIONS
from portloom.documents.document import Plan
from portloom.explaining.decisions import DecisionPrice, DecisionPrices, LiftedTogether
from portloom.explaining.explain import DoesNotFit, Explained, Fits, Undecided
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.loom_change import LoomChange
from portloom.explaining.telling.claim import claim
from portloom.explaining.telling.conflict import NOT_PROVED, PROVED, Conflict, ToldFact
from portloom.explaining.why_not import Elsewhere, ExtraCost, WhyNot
from portloom.job.goal import Cost
from portloom.margins.misses import near_json

NOT_KNOWN = "not known"


def explained_json(explained: Explained, *, proof: bool = False) -> Json:
    """Return the whole document of an explanation; ``proof`` adds how each conflict was proved."""
    document: Json = {"bike": explained.bike, "unit": explained.unit}
    match explained.answer:
        case Fits(plan, near):
            fits = {
                "place": plan.only.place,
                "turned": plan.only.turned,
                "proven": plan.proven,
                "cost_mm": thousandth(plan.cost),
                **_changed(plan),
            }
            document = {"status": "planned", **document, **fits, "near": near_json(near)}
        case DoesNotFit(why, fixes, every):
            document = {"status": "no plan", **document}
            document["conflicts"] = [conflict_json(conflict, proof=proof) for conflict in why.conflicts]
            document["conflicts_complete"] = why.complete
            if every is not None:
                document["every_conflict"] = [conflict_json(conflict, proof=proof) for conflict in every.conflicts]
                document["every_conflict_complete"] = every.complete
            document["fixes"] = [fix_json(fix) for fix in fixes.found]
            document["fixes_complete"] = fixes.complete
            document["fixes_proof"] = claim(fixes, why.conflicts)
        case Undecided():
            document = {"status": "unknown", **document}
    if explained.why_not is not None:
        document["why_not"] = why_not_json(explained.why_not, proof=proof)
    if explained.elsewhere:
        document["elsewhere"] = [_elsewhere(one) for one in explained.elsewhere]
    if explained.decisions is not None:
        document.update(decisions_json(explained.decisions))
    if explained.built is not None:
        document["built"] = explained.built.file
    if explained.not_covered:
        document["not_covered"] = explained.not_covered
    aside = set_aside_json(explained.set_aside)
    return {**document, "set_aside": aside, "warnings": list(explained.first), "cautions": list(CAUTIONS)}


def conflict_json(conflict: Conflict, *, proof: bool = False) -> Json:
    """Return a conflict's document."""
    return {
        "sentence": conflict.sentence,
        "facts": [_fact(fact, proof=proof) for fact in conflict.facts],
        "refused": list(conflict.detail),
        "rules": list(conflict.rules),
        "proof": conflict.proof,
        "lifted_by": [{"change": lift.said, "then_it_fits": lift.fits} for lift in conflict.lifted_by],
        **({"no_plan_at": list(conflict.places)} if proof else {}),
    }


def _fact(fact: ToldFact, *, proof: bool) -> Json:
    told = {"rule": fact.rule, "subject": fact.subject, "sentence": fact.sentence, "where": fact.where}
    return {**told, "fact": fact.key[0], **(_dropped(fact) if proof else {})}


def _dropped(fact: ToldFact) -> Json:
    return {"without_it": fact.without_it, "without_it_fits_at": fact.fits_at}


def why_not_json(answer: WhyNot, *, proof: bool = False) -> Json:
    """Return the document of a wish's answer."""
    return {
        "question": answer.question,
        "answer": answer.answer,
        "refusals": list(answer.refusals),
        "conflict": None if answer.conflict is None else conflict_json(answer.conflict, proof=proof),
        "price": None if answer.price is None else _price(answer.price),
        "proof": NOT_PROVED if answer.answer == NOT_KNOWN else PROVED,
    }


def _price(price: ExtraCost) -> Json:
    return {
        **cost_json(price.costs),
        "place": price.place,
        "same_kind": price.same_kind,
        **_maybe_loom(price.loom),
        "moves": [{"loads": list(move.loads), "from": move.before, "to": move.after} for move in price.moves],
    }


def _elsewhere(one: Elsewhere) -> Json:
    return {"ports": list(one.ports), **why_not_json(one.why_not)}


def decisions_json(decisions: DecisionPrices) -> Json:
    """Return the price of each thing that is decided, of all together, and what to lift first."""
    return {
        "pins": [_decision(one) for one in decisions.each],
        "pins_together": _maybe_price(decisions.together),
        "pins_fit": decisions.fits,
        "fits_without_pins": decisions.fits_without,
        "lift_first": [_lifted(one) for one in decisions.lifted],
        "lift_first_proof": PROVED if decisions.complete else NOT_PROVED,
    }


def _decision(one: DecisionPrice) -> Json:
    told = {"sentence": one.sentence, "where": one.where, "without_it_on": one.without or None}
    fits = {} if one.fits_without is None else {"fits_without_it": one.fits_without}
    return {**told, "price": _maybe_price(one.price), **fits, **_maybe_loom(one.loom)}


def _lifted(one: LiftedTogether) -> Json:
    cost = {"saved": _maybe_price(one.saved), **cost_json(one.cost)}
    return {"lift": list(one.sentences), **cost, "nothing_more_saved_by_more": one.all_of_it, **_maybe_loom(one.loom)}


def _maybe_loom(change: LoomChange | None) -> Json:
    return {} if change is None else {"loom": loom_json(change)}


def _maybe_price(price: Cost | None) -> Json | None:
    return None if price is None else cost_json(price)


# --- fixes


def fix_json(fix: Fix) -> dict[str, Any]:
    """Return a fix's document; the keys are those that other programs rely on."""
    plan = fix.plan
    return {
        "sentence": fix.sentence,
        "changes": list(fix.sentences),
        "effort": fix.effort,
        "least_effort": PROVED if fix.least else NOT_PROVED,
        "parts": list(fix.parts),
        "unit": plan.only.unit,
        "place": plan.only.place,
        "turned": plan.only.turned,
        **cost_json(plan.costs),
        "spare": {
            "outputs": list(plan.only.free_outputs),
            "inputs": list(plan.only.free_inputs),
            "room_for": [{"load": room.load, "port": room.port} for room in plan.room_for],
        },
        "proven": plan.proven,
        **({"taken_out": list(fix.taken_out)} if fix.taken_out else {}),
        **_changed(plan),
    }


def _changed(plan: Plan) -> Json:
    """Return what a plan touches and opens of a built loom, where there is one."""
    if plan.change is None:
        return {}
    change = plan.change.change
    return {"touched": [*change.mattering, *change.others], "opened": list(change.opened)}


def loom_json(change: LoomChange) -> Json:
    """Return what another plan changes of a built loom, and what it does not that this one does."""
    return {
        "touched": list(change.touched),
        "not_touched": list(change.spared),
        "opened": list(change.opened),
        "not_opened": list(change.left_closed),
    }
