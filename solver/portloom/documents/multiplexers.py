"""The multiplexers of a plan, each with the switches on it."""

from collections.abc import Mapping

from portloom.documents.cut import wire_line
from portloom.documents.document import MultiplexerLine, SwitchLine
from portloom.documents.savings import Saves
from portloom.job.laid import Laid, WiredMultiplexer


def multiplexer_lines(laid: Laid, savings: Mapping[str, Saves]) -> tuple[MultiplexerLine, ...]:
    """Return every multiplexer of a plan; ``savings`` tells what each saves, by its name, where that was worked out."""
    return tuple(_line(laid, box, savings.get(box.stand.multiplexer.name)) for box in laid.multiplexers)


def _line(laid: Laid, box: WiredMultiplexer, saves: Saves | None) -> MultiplexerLine:
    job, stand = laid.site.job, box.stand
    return MultiplexerLine(
        name=stand.multiplexer.name,
        at=stand.at,
        port=box.port.name,
        ways=stand.multiplexer.ways,
        wire=wire_line(job, box.run),
        size=job.reels[0].size,
        switches=tuple(
            SwitchLine(wired.switch.name, wired.switch.signal, wire_line(job, wired.run)) for wired in laid.on_ways(box)
        ),
        saves=saves,
    )
