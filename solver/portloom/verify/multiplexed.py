"""A plan's multiplexers laid again: where each stands, the switches on its ways, its input."""

from collections import Counter
from collections.abc import Sequence

from portloom.job.assignment import OnMultiplexer
from portloom.job.multiplexed import MultiplexerStand, WiredMultiplexer, WiredSwitch
from portloom.job.site import Site
from portloom.rules.faults import wrong_multiplexer
from portloom.verify.joined import CannotBeLaid, check_run


def lay_multiplexers(
    site: Site, lines: Sequence[OnMultiplexer]
) -> tuple[tuple[WiredMultiplexer, ...], tuple[WiredSwitch, ...]]:
    """Lay each multiplexer and the switches on it.

    Raises CannotBeLaid where a name is unknown or a wire joins no ends.
    """
    for name, times in Counter(line.name for line in lines).items():
        if times > 1:
            raise CannotBeLaid(wrong_multiplexer(name, f"{name} stands at {times} points"))
    boxes = tuple(_multiplexer(site, line) for line in lines)
    pairs = zip(boxes, lines, strict=True)
    return boxes, tuple(switch for box, line in pairs for switch in _switches(box, line))


def _multiplexer(site: Site, line: OnMultiplexer) -> WiredMultiplexer:
    box = next((box for box in site.job.bike.multiplexers if box.name == line.name and line.at in box.at), None)
    port = next((port for port in site.job.unit.inputs if port.name == line.port), None)
    if box is None or port is None or not line.ways:
        what = f"{line.name}: no such multiplexer at {line.at} on {line.port}, or nothing goes through it"
        raise CannotBeLaid(wrong_multiplexer(line.name, what))
    check_run(site.job, line.name, line.run, (site.face(port.face), line.at))
    return WiredMultiplexer(site, MultiplexerStand(box, line.at), line.run, port)


def _switches(box: WiredMultiplexer, line: OnMultiplexer) -> Sequence[WiredSwitch]:
    known = {switch.name: switch for switch in box.site.job.bike.inputs}
    for way in line.ways:
        if way.switch not in known:
            raise CannotBeLaid(wrong_multiplexer(line.name, f"{line.name}: no such switch as {way.switch}"))
        check_run(box.site.job, way.switch, way.run, (line.at, *dict.fromkeys(known[way.switch].at)))
    return [WiredSwitch(box.site, known[way.switch], way.run, box.stand) for way in line.ways]
