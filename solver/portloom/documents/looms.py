"""The looms of a plan: how many wires lie in each leg, and how thick they are together."""

from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.job.laid import Laid
from portloom.rules.loom import loom_diameter, sleeve_of


@dataclass(frozen=True)
class Loom:
    """What lies in a leg; the diameter is with the sleeve, nothing where nothing lies there."""

    wires: int
    diameter: Micrometres


def looms(laid: Laid) -> tuple[Loom, ...]:
    """Return the loom of every leg, in the order of the file."""
    job = laid.site.job
    return tuple(_loom(laid.diameters_in(number), sleeve_of(job, leg)) for number, leg in enumerate(job.network.legs))


def _loom(diameters: list[Micrometres], sleeve: Micrometres) -> Loom:
    return Loom(len(diameters), Micrometres(loom_diameter(diameters) + (sleeve if diameters else 0)))
