"""Small bikes that have no plan for one reason, and the fact that has to be dropped for one; sums by hand (A, mV).

A lamp or the like is 509 mm from the battery, where the unit sits: 1 mm2 is 19.5 mohm/m at 20 C
(IEC 60228 class 5), so at 85 C 19.5 x 0.509 x (234.5 + 85) / 254.5 = 12.4605 mohm there, and as
much on its way back. It carries 20 A (33 CFR 183.425 Table 5, 18 AWG at 105 C). Between them lie
10 mohm of the output, 5 mohm of each plug and 2 mohm of the earth point; the main fuse loses 0.1 V at its
rating. Feed and return are judged with 150 mV and 70 mV, and a splice on the return with 1 mohm.
"""

from dataclasses import dataclass

from oracle.facts import Key, all_facts
from oracle.guards import EITHER_BRAKE
from oracle.kept import has_plan

Texts = tuple[str, str]
"""The YAML of a bike and of a unit."""
BIKE = """
bike: trial single
supply: {{running: 14.0 V, battery: {{capacity: 10 Ah, at: battery}}}}
frame: {{legs: [{{between: [battery, head], length: 509 mm{leg}}}], earth: [battery]}}
places: [{{name: under seat, front: battery}}]
reels: [{reels}]
later: []
loads: [{loads}]
inputs: [{inputs}]
{more}
"""
UNIT = """
unit: trial way
feed: {{{feed}}}
banks: {{{banks}}}
outputs: [{outputs}]
inputs: [{inputs}]
"""
LIMITS = "limit: 20 A, fuse_max: 5 A"
OUT = "name: a, limit: 4 A, peak: 30 A"
FINE = f"{OUT}, trip: [1.25 A, 4 A]"
IT = "name: it, at: head"
HALF = f"{IT}, current: 1 A, kind: heater, share: both"
OTHER = "name: other, at: head, current: 1 A, kind: heater, share: both"
TOGETHER = "name: a, limit: 2.5 A, trip: [1.25 A, 2.5 A], switch_modes: [steady, hold]"
SWITCH = "name: switch, at: head"
IN = "name: in 1, accepts: [earth, pulse], pulse: {up_to: 30 V, rate: 1 kHz}"


def texts(
    *loads: str,
    outputs: tuple[str, ...] = (OUT,),
    feed: str = LIMITS,
    switches: tuple[str, ...] = (),
    inputs: tuple[str, ...] = (),
    banks: str = "",
    leg: str = "",
    reels: str = "1 mm2",
    more: str = "",
) -> Texts:
    """Write a bike and a unit from what stands between the braces; `more` is of the bike, `leg` of its leg."""
    bike = BIKE.format(leg=leg, reels=reels, loads=_braced(loads), inputs=_braced(switches), more=more)
    return bike, UNIT.format(feed=feed, banks=banks, outputs=_braced(outputs), inputs=_braced(inputs))


def _braced(items: tuple[str, ...]) -> str:
    return ", ".join(f"{{{item}}}" for item in items)


@dataclass(frozen=True)
class Lone:
    """A bike on a unit that have no plan unless one fact is dropped, or one word is another."""

    key: Key
    written: Texts
    breaks: str
    keeps: str

    @property
    def broken(self) -> Texts:
        """The files without a plan."""
        return self._with(self.breaks)

    @property
    def kept(self) -> Texts:
        """The files with one."""
        return self._with(self.keeps)

    def _with(self, word: str) -> Texts:
        bike, unit = (text.replace("WORD", word) for text in self.written)
        return bike, unit

    def __str__(self) -> str:
        return " ".join(self.key)


def without(written: Texts, *dropped: Key) -> bool:
    """Tell whether there is a plan with these facts dropped. Raises ValueError for a key that is no fact."""
    facts = all_facts(*written)
    if not set(dropped) <= set(facts):
        msg = f"no facts: {dropped}"
        raise ValueError(msg)
    return has_plan(*written, set(facts) - set(dropped))


def told(rule: str, what: str, load: str, others: str, more: str = "", instead: str = "") -> Lone:
    """Write a load that needs something told, beside other things that its one switch tells."""
    output = f"{OUT}, switch_modes: [steady, hold, start, engine-run]"
    switch = f"{SWITCH}, signal: earth, tells: [{others}WORD]"
    bike = texts(f"{IT}, current: 1 A, {load}", outputs=(output,), switches=(switch,), inputs=(IN,), more=more)
    return Lone(("told", rule, what), bike, "key", instead or what)


PLAIN = f"{IT}, current: 1 A"
BUTTON = f"{SWITCH}, signal: earth, operates: it"
SECOND_BUTTON = BUTTON.replace("switch", "second")
FIRST_OF_BAR = f"{BUTTON}, share: bar"
SECOND_OF_BAR = f"{SECOND_BUTTON}, share: bar, normally: WORD"
CRANKED = f"{IT}, current: 2.8 A, kind: heater, when: [cranking]"

# 1.25 x 3.3 A = 4.125 A is more than the limit of 4 A; 1.25 x 3.2 A = 4 A is not.
TOO_MUCH = texts(f"{IT}, current: WORD")
# The peak is 30 A.
SUDDEN = texts(f"{PLAIN}, inrush: WORD", outputs=(FINE,))
# The one output has the mode steady, or can be dimmed, or takes no coils.
WILLING = texts(f"{PLAIN}, mode: WORD", outputs=(FINE,))
DIMMED = texts(f"{PLAIN}, mode: dim, kind: WORD", outputs=(f"{FINE}, pwm: true",))
COILED = texts(f"{PLAIN}, kind: WORD", outputs=(f"{FINE}, inductive: false",))
# The one input takes earth, and pulses up to 1 kHz.
SWITCHED = texts(PLAIN, switches=(f"{SWITCH}, signal: WORD, operates: it",), inputs=(IN,))
PULSED = texts(PLAIN, switches=(f"{SWITCH}, signal: pulse, tells: key, rate: WORD",), inputs=(IN,))
# Two of 1 A ask for a trip of 1.25 A each, together for 2.5 A; their modes differ.
APART = texts(f"{HALF}, mode: WORD", OTHER, outputs=(TOGETHER,))
# There is one input for both, which do not agree at rest.
AT_REST = texts(PLAIN, switches=(FIRST_OF_BAR, SECOND_OF_BAR), inputs=(IN,))
# The joint return lies beside the run: two of 2.1 mm want 4.2 mm, and the sleeve's 1 mm.
NARROW = texts(PLAIN, leg=", opening: WORD")
# The bank gives 0.999 A for 1 A.
BANKED = texts(PLAIN, outputs=(f"{OUT}, bank: B",), banks="B: WORD")
# The unit carries 1.999 A for 2 A.
SUMMED = texts(HALF, OTHER, outputs=(TOGETHER,), feed="limit: WORD, fuse_max: 5 A")
# A trip of 2 A wants a main fuse above it, 3 A; without a word the unit takes the largest step within its limit.
FUSED = texts(f"{IT}, current: 1.6 A", outputs=("name: a, limit: 2 A, peak: 30 A",), feed="limit: 10 A, fuse_max: WORD")
FUSED_BY_LIMIT = texts(f"{IT}, current: 1.6 A", outputs=("name: a, limit: 2 A, peak: 30 A",), feed="limit: WORD")
# Two of 1.21 A trip at 1.6 A each, and ask for 1.25 x 2.42 A = 3.025 A; two of 1.2 A for 3 A.
CARRIED = texts(
    f"{IT}, current: WORD",
    "name: other, at: head, current: WORD",
    outputs=("names: [a, b], limit: 1.6 A, peak: 30 A",),
    feed="limit: 3.9 A",
)
# 17 A trip at 25 A, so the main fuse is 30 A; 1 mm2 carries 20 A, 4 mm2 (12 AWG) 45 A, beside run and return 31.5 A.
THIRSTY = texts(
    f"{IT}, current: 17 A, kind: heater",
    outputs=("name: a, limit: 25 A, peak: 60 A",),
    feed="limit: 25 A, fuse_max: 30 A, wire_max: WORD",
    reels="1 mm2, 4 mm2",
)
# There is no wire but 1 mm2.
PINCHED = texts(PLAIN, outputs=(f"{OUT}, wire_max: WORD",))
# A fuse of 5 A, 20 mohm: 2 A lose 150 + 40 + 10 + 20 + 24.921 + 10 there, 70 + 2 + 4 on the way back: 330.921 mV.
FAR = texts(f"{IT}, current: 2 A, kind: heater", more="limits: {drop: {other: WORD}}")
# At 9 V 2.8 x 9 / 14 = 1.8 A flow, so the unit has 9000 - 150 - 36 = 8814 mV; the load loses 9 + 18 + 22.429 + 9 more,
# and 70 + 1.8 + 3.6 on the way back: 8680.171 mV are left.
WEAK = texts(f"{CRANKED}, lowest: WORD")
WEAK_UNIT = texts(CRANKED, feed=f"{LIMITS}, lowest: WORD")
# There is one port for two things.
CROWD = texts(PLAIN, PLAIN.replace("it", "other"), outputs=("names: WORD, limit: 4 A",))
# Two outputs, of one limit or of two.
UNLIKE = texts(
    PLAIN,
    PLAIN.replace("it", "other"),
    outputs=("name: a, limit: 4 A", "name: b, limit: WORD, trip: 4 A"),
    more="alike: [[it, other]]",
)
SWITCHES = texts(PLAIN, switches=(BUTTON, SECOND_BUTTON), inputs=("names: WORD, accepts: [earth]",))
# The output does what a switch says that does not operate its load.
FOLLOWING = texts(
    PLAIN,
    switches=(f"{SWITCH}, signal: earth, tells: key, operates: WORD",),
    inputs=(IN,),
    outputs=(f"{OUT}, follow: in 1",),
)

LONE = (
    Lone(("load", "it"), TOO_MUCH, "3.3 A", "3.2 A"),
    Lone(("current", "it"), TOO_MUCH, "3.3 A", "3.2 A"),
    Lone(("inrush", "it"), SUDDEN, "30.1 A", "30 A"),
    Lone(("mode", "it"), WILLING, "hold", "steady"),
    Lone(("kind", "it"), DIMMED, "electronics", "heater"),
    Lone(("kind", "it"), COILED, "horn", "heater"),
    Lone(("switch", "switch"), SWITCHED, "supply", "earth"),
    Lone(("signal", "switch"), SWITCHED, "supply", "earth"),
    Lone(("signal", "switch"), PULSED, "1001 Hz", "1 kHz"),
    Lone(("ban", "it", "other"), APART, "hold", "steady"),
    Lone(("switch ban", "switch", "second"), AT_REST, "closed", "open"),
    Lone(("opening", "battery - head"), NARROW, "5.1 mm", "5.2 mm"),
    Lone(("bank", "B"), BANKED, "999 mA", "1 A"),
    Lone(("total", "unit"), SUMMED, "1999 mA", "2 A"),
    Lone(("fuse", "unit"), FUSED, "2 A", "3 A"),
    Lone(("fuse", "unit"), FUSED_BY_LIMIT, "2.999 A", "3 A"),
    Lone(("fuse", "unit"), CARRIED, "1.21 A", "1.2 A"),
    Lone(("current", "other"), CARRIED, "1.21 A", "1.2 A"),
    Lone(("terminal", "feed"), THIRSTY, "1 mm2", "4 mm2"),
    Lone(("terminal", "a"), PINCHED, "0.75 mm2", "1 mm2"),
    Lone(("drop", "other"), FAR, "330 mV", "331 mV"),
    Lone(("load lowest", "it"), WEAK, "8681 mV", "8680 mV"),
    Lone(("unit lowest", "unit"), WEAK_UNIT, "8815 mV", "8814 mV"),
    Lone(("alike", "it", "other"), UNLIKE, "5 A", "4 A"),
    Lone(("outputs", "a"), CROWD, "[a]", "[a, b]"),
    Lone(("inputs", "in 1"), SWITCHES, "[in 1]", "[in 1, in 2]"),
    Lone(("told", "follow", "in 1"), FOLLOWING, "[]", "it"),
    told("engine-run", "engine turning", "mode: engine-run", ""),
    told("engine-stop", "engine stop", "part: ignition box", "side stand, neutral, "),
    told("engine-stop", "engine stop", "part: fuel pump, mode: steady", "neutral, "),
    told("start", "neutral or clutch", "part: starter solenoid", "side stand, ", instead="neutral"),
    told("start", "neutral or clutch", "part: starter solenoid", "", instead="clutch"),
    told("start", EITHER_BRAKE, "part: starter solenoid", "side stand, ", "clutch: automatic", "rear brake"),
    told("brake-lamp", "front brake", "part: brake lamp", "rear brake, "),
    told("brake-lamp", "rear brake", "part: brake lamp", "front brake, "),
    told("brake-lamp", EITHER_BRAKE, "part: brake lamp", "", "brakes: one", "rear brake"),
)
