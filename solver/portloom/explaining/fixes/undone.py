"""Built circuits taken out of the loom: their wires leave room, and what is on them is set anew."""

from collections.abc import Iterator
from functools import partial

from portloom.base.built import BuiltLoom
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.reach import Reach
from portloom.rules.fact_kinds import BUILT

UNDO = 2
UNDONE = "built circuit undone"


def undone_circuits(instance: Instance) -> Iterator[Change]:
    """Return each circuit of a built loom, in use or not, taken out of it.

    Loads of a return that is taken out are dealt anew, so it is not said that nothing gets worse by it.
    """
    loom = instance.job.loom
    for name in () if loom is None else loom.circuits:
        yield Change(
            kind=UNDONE,
            effort=UNDO,
            sentence=f"take {name} out of the loom",
            make=partial(_taken_out, name),
            acts="wires",
            slot=(UNDONE, name),
            reach=Reach(frozenset((BUILT.key(name),)), returns=_returns_of(loom, name)),
        )


def _returns_of(loom: BuiltLoom | None, circuit: str) -> frozenset[str]:
    """Return the point of a joint return, where the circuit is one."""
    lines = () if loom is None else loom.fixed
    return frozenset(line.name for line in lines if line.kind == "return" and ("return", circuit) in line.circuits)


def _taken_out(name: str, target: Target) -> Target | None:
    if target.built is None or name not in target.built.circuits:
        return None
    return target._replace(built=target.built.without([name]))


def taken_out(before: BuiltLoom | None, after: BuiltLoom | None) -> tuple[str, ...]:
    """Return the circuits of a loom that are not in what is left of it."""
    if before is None or after is None:
        return ()
    left = after.circuits
    return tuple(name for name in before.circuits if name not in left)
