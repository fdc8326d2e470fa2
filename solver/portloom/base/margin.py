"""What is added to a wire when it is cut: a share of its run, what each end asks for, slack where a leg moves."""

from typing import Literal

from pydantic import Field

from portloom.base.entries import Entry
from portloom.base.quantities import BasisPoints, Extra, Micrometres, Share

Allowance = Literal["unit_plug", "device", "splice", "connector", "battery"]
"""What an end of wire is made up to; each is a key of a bike's margin."""
USUAL: dict[Allowance, Micrometres] = {
    "unit_plug": Micrometres(150_000),
    "device": Micrometres(80_000),
    "splice": Micrometres(40_000),
    "connector": Micrometres(60_000),
    "battery": Micrometres(150_000),
}
"""Source: common practice, no source. The unit's plug must come out with its wires on."""
SAID: dict[Allowance, str] = {
    "unit_plug": "at the unit's plug",
    "device": "at a load or switch",
    "splice": "at a splice",
    "connector": "each side of a connector",
    "battery": "at battery, fuse, relay or earth",
}


class Margin(Entry):
    """What is added to each wire when it is cut."""

    share: Share = Field(BasisPoints(1000), description="share of the run")
    ends: Extra | None = Field(None, description="for both ends together, whatever they are, where no key below says")
    unit_plug: Extra | None = Field(None, description="at the unit, whose plug must come out; default 150 mm")
    device: Extra | None = Field(None, description="at a load, switch, dash or multiplexer; default 80 mm")
    splice: Extra | None = Field(None, description="at a splice; default 40 mm")
    connector: Extra | None = Field(None, description="on each side of a connector; default 60 mm")
    battery: Extra | None = Field(None, description="at battery, fuse, relay or earth; default 150 mm")
    moves: Extra = Field(Micrometres(60_000), description="for each leg that moves")

    def at(self, end: Allowance) -> Micrometres:
        """Return what is added at an end: as written for it, else half of ``ends``, else what is usual."""
        own: Micrometres | None = getattr(self, end)
        if own is not None:
            return own
        return USUAL[end] if self.ends is None else Micrometres(-(-self.ends // 2))
