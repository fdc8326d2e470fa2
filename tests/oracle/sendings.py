"""Every way to send switches through multiplexers, and to stand these somewhere; no solver."""

from collections.abc import Iterator, Sequence
from itertools import product

from .multiplexing import Stand, goes_through, port_takes
from .things import Bike, InPort, Multiplexer, Switch

Sent = dict[Multiplexer, tuple[Switch, ...]]


def sendings(bike: Bike) -> Iterator[tuple[list[Switch], Sent]]:
    """Return every choice of the switches that go straight to the unit, and of those through each multiplexer."""
    choices = [(None, *(box for box in bike.multiplexers if goes_through(s, box))) for s in bike.switches]
    for chosen in product(*choices):
        pairs = list(zip(bike.switches, chosen, strict=True))
        sent = {box: tuple(switch for switch, other in pairs if other is box) for box in bike.multiplexers}
        if all(box.ways is None or len(held) <= box.ways for box, held in sent.items()):
            yield [switch for switch, box in pairs if box is None], {box: held for box, held in sent.items() if held}


def standings(sent: Sent, free: Sequence[InPort]) -> Iterator[tuple[Stand, ...]]:
    """Return every way to stand the multiplexers through which switches go, each on one of these inputs."""
    if not sent:
        yield ()
        return
    (box, held), *others = sent.items()
    for point, port in product(box.points, free):
        if port_takes(box, port):
            rest = [other for other in free if other is not port]
            for stands in standings(dict(others), rest):
                yield (Stand(box, point, port, held), *stands)
