"""How far a posted plan is from the best, and what would mend it, a line each."""

from collections.abc import Iterator

from solver.answering.document import Distance, Ended, Move, Repair
from solver.sheets.amounts import metres
from solver.words.agreement import does
from solver.words.figures import amperes, capital, counted, listed, number_word
from solver.words.quantities import Micrometres

LIMIT = "not known: the time limit was reached first; allow more time"


def best_lines(best: Distance | Ended | None) -> Iterator[str]:
    """Say how far a posted plan is from the best one."""
    if best is None:
        return
    if not isinstance(best, Distance):
        yield LIMIT if best == "not known" else "proved: nothing fits there; 'portloom why' tells what is in the way"
        return
    said = "the best plan, proved" if best.proven else "the best plan found before the time limit"
    yield f"{said}: {metres(best.wire_run)} of wire, place {best.place}"
    if best.posted_run is None or best.posted_loss is None:
        yield "the posted plan breaks rules or is not whole, so there is nothing to set beside it"
        return
    yield f"wire: the posted plan takes {_more(best.posted_run - best.wire_run)} at place {best.posted_at}"
    yield (
        f"spare ports: what it leaves free for later is worth {_more(best.spare_port_loss - best.posted_loss)} "
        "(told as a length of wire)"
    )


def _more(length: int) -> str:
    if not length:
        return "as much"
    return f"{metres(Micrometres(abs(length)))} {'more' if length > 0 else 'less'}"


def repair_lines(repair: Repair | Ended | None) -> Iterator[str]:
    """Say what must move for a posted plan to be sound."""
    if repair is None:
        return
    if not isinstance(repair, Repair):
        none = "proved: no plan is sound there, whatever moves; 'portloom why' tells what is in the way"
        yield LIMIT if repair == "not known" else none
        return
    yield _counted(repair)
    yield from (_moved(move) for move in repair.moved)
    yield from (f"{move.name}: on no port in the post, place it on {move.after}" for move in repair.placed)
    yield from (f"{does(name, 'comes')} off {port}" for name, port in repair.taken_off)
    for one in repair.set_anew:
        yield f"{one.port}: set it to trip at {amperes(one.trip)}, on wire of {one.size.label}"
    if repair.moves:
        yield f"of the plans with so few moves, the cheapest: place {repair.place}"
    if not repair.inputs_posted and repair.inputs:
        taken = [f"{listed(held)} on {port}" for port, held in repair.inputs]
        yield f"the post names no inputs, and these go with it: {'; '.join(taken)}"


def _counted(repair: Repair) -> str:
    proof = "proved" if repair.proven else f"not proved: {repair.least} might do, the time limit was reached"
    if not repair.moves:
        return f"nothing needs to move, {proof}"
    moved = f"{counted(len(repair.moved), 'move')}" if repair.moved else ""
    placed = f"{number_word(len(repair.placed))} to place" if repair.placed else ""
    return f"{capital(' and '.join(filter(None, (moved, placed))))}; with fewer nothing is sound, {proof}"


def _moved(move: Move) -> str:
    return f"{does(move.name, 'moves')} from {move.before} to {move.after}"
