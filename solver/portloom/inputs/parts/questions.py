"""What only the builder can know, and what can hurt: asked for all at once, each with the line to write.

What cannot hurt is never asked. Common practice, no source.
"""

from collections.abc import Collection, Iterator, Sequence

from portloom.base.nearest import and_list, or_list
from portloom.base.parts import loads, switches
from portloom.base.parts.shapes import SwitchPart
from portloom.base.quantities import MilliAmps
from portloom.base.vocabulary import DIM, ENGINE_RUN, FLASH, START, TIMED
from portloom.inputs.parts.entries import BikeEntries, LoadEntry, SwitchEntry
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import CURRENT, amount_of, entries, keyed, words

HIGH_PULL = MilliAmps(8_000)
"""A solenoid that is held with more than this draws much more for a moment, as it pulls in."""
IN_THE_DARK = (FLASH, TIMED)
"""Modes by which a headlamp goes out by itself."""
BEAMS = (*loads.BEAMS, loads.SPOT_LAMP.name, loads.FRONT_FOG_LAMP.name)


def questions(bike: BikeEntries, set_aside: Collection[str]) -> Iterator[Flaw]:
    """Tell what a bike's file must still answer; rules that it sets aside ask nothing."""
    asking = _Asking(bike, set_aside)
    yield from asking.of_loads()
    yield from asking.of_inputs()
    yield from asking.of_engine()
    yield from asking.of_start()
    yield from asking.of_brakes()


class _Asking:
    """The questions of one bike."""

    def __init__(self, bike: BikeEntries, set_aside: Collection[str]) -> None:
        self._bike = bike
        self._set_aside = set_aside
        self._points = [
            point.text for leg in entries(keyed(bike.root, "frame"), "legs") for point in words(leg, "between")
        ]

    # --- one load, one input

    def of_loads(self) -> Iterator[Flaw]:
        """What switches a coil, how hard a solenoid pulls, modes that defeat a part, and what nobody works."""
        for entry in self._bike.loads:
            yield from self._coil(entry)
            yield from self._pull_in(entry)
            yield from self._nobody(entry)
        for entry in (*self._bike.loads, *self._bike.later):
            yield from self._defeated(entry)

    def _coil(self, entry: LoadEntry) -> Iterator[Flaw]:
        if entry.part is not loads.IGNITION_COIL:
            return
        said = entry.says("switched_by")
        if not said and not entry.has("switched_by"):
            yield Flaw.at(
                entry.node,
                f"what takes the other end of '{entry.name}' to earth? a coil is never earthed itself",
                "write 'switched_by: ignition box', 'switched_by: engine controller', or 'switched_by: points' for a "
                "contact breaker, whose current comes back through the engine's strap",
            )
        elif said and said[0] in loads.SPARKING and not any(self._bike.of(said[0])):
            yield Flaw.at(
                entry.node.values["switched_by"], f"there is no {said[0]} on the bike to switch '{entry.name}'",
                f"add it to 'loads', such as {{part: {said[0]}, at: {self._at('engine')}, current: 1 A}}, or write "
                "what does",
            )  # fmt: skip

    def _pull_in(self, entry: LoadEntry) -> Iterator[Flaw]:
        if entry.part is not loads.STARTER_SOLENOID or entry.has("pull_in", "inrush"):
            return
        starter = keyed(self._bike.root, "supply", "starter")
        there = {found.text for found in words(starter, "at")} if starter else set()
        held = amount_of(entry.node, "current", CURRENT) or 0
        if held > HIGH_PULL or there & set(entry.says("at")):
            yield Flaw.at(
                entry.node, f"what does '{entry.name}' draw as it pulls in? it is more than it draws after that",
                "write 'pull_in: 30 A' with the measured value (25 to 40 A are usual), or put a starter relay before it",
            )  # fmt: skip

    def _defeated(self, entry: LoadEntry) -> Iterator[Flaw]:
        """Tell a mode that defeats what a part is for."""
        modes = entry.says("mode")
        if not entry.has("mode") or not modes:
            return
        where, part = entry.node.values["mode"], entry.part
        if START in modes and part is not loads.STARTER_SOLENOID:
            yield Flaw.at(
                where, f"mode 'start' is for a starter solenoid, and nothing says that '{entry.name}' is one",
                f"add 'part: {loads.STARTER_SOLENOID.name}', or write another mode",
            )  # fmt: skip
        fixed = part.fixed if part else None
        if part is None or fixed is None or fixed.rule in self._set_aside:
            return
        wrong = set(modes) & set(IN_THE_DARK) if part.name in BEAMS else fixed.mode not in modes
        if wrong:
            right = "leave the mode out" if part.name in BEAMS else f"write 'mode: {fixed.mode}', or leave it out"
            yield Flaw.at(where, f"'{entry.name}' is a {part.name} in mode {and_list(modes)}: {fixed.why}", right)

    def _nobody(self, entry: LoadEntry) -> Iterator[Flaw]:
        """Tell a load that must be worked by somebody, and that nothing works."""
        if entry.lists("from") or entry.says("own_switch") not in ((), ("false",)) or any(self._bike.working(entry)):
            return
        known = (
            [switches.SWITCH_PART[name] for name in entry.part.worked_by if name in switches.SWITCH_PART]
            if entry.part
            else []
        )
        heated = _is_heated(entry) or DIM in entry.says("mode")
        if (
            not known
            and not (heated and not entry.has("dim_to"))
            and not (entry.part and entry.part.worked_by and not heated)
        ):
            return
        lines = [f"{{part: {part.name}, at: {self._at(*_sits(part))}}}" for part in known]
        if not known:
            lines = [f"{{name: {entry.name} switch, at: {self._at('handlebar')}, operates: [{entry.name}]}}"]
        own = ["'own_switch: true' at the load, if it has a switch that is not wired to the unit"]
        on = ["'dim_to: 60 %' at the load, if it is simply on by day and night"] if heated else []
        yield Flaw.at(
            entry.node,
            f"what works '{entry.name}'? nothing does",
            f"add to 'inputs' {or_list(lines)}; or write {or_list(own + on)}",
        )

    def of_inputs(self) -> Iterator[Flaw]:
        """In which position contacts are made, where pulses are taken, and whom a fall sensor tells."""
        for entry in self._bike.inputs:
            yield from _made(entry)
            yield from _from(entry)
            if entry.part is switches.FALL_SENSOR and not entry.has("goes_to"):
                yield Flaw.at(
                    entry.node, f"what does '{entry.name}' tell that the bike has fallen?",
                    "write 'goes_to: unit', which then cuts ignition and pump, or 'goes_to: controller', which takes no port",
                )  # fmt: skip

    # --- the engine

    def of_engine(self) -> Iterator[Flaw]:
        """Whether the unit can stop the engine, by which switch, and who runs the pump."""
        bike = self._bike
        if bike.loads and not any(bike.of(*loads.SPARKING)) and not bike.says("ignition"):
            yield Flaw.at(
                bike.root.key("loads"),
                "can the unit stop this engine? no load is an ignition coil, an ignition box or an engine controller",
                f"add the one that is there, such as {{part: ignition box, at: {self._at('engine')}, current: 2 A}}; or write "
                "'ignition: own' where the engine sparks without the unit (a magneto, or a box fed by the alternator)",
            )
        yield from self._pump()
        if not any(_on_unit(load) for load in bike.of(*loads.RUNNING_ENGINE)):
            return
        if not bike.says("engine_stop") and not any(bike.telling("engine stop")):
            yield Flaw.at(
                bike.root, "what stops the engine? no input tells the unit of an engine stop switch",
                f"add to 'inputs' {{part: engine stop switch, at: {self._at('right handlebar', 'handlebar')}, made: run}}; or write "
                "'engine_stop: key' where the key alone stops it",
            )  # fmt: skip

    def _pump(self) -> Iterator[Flaw]:
        bike = self._bike
        for pump in bike.of(loads.FUEL_PUMP.name):
            if any(bike.of(loads.ENGINE_CONTROLLER.name)) and not pump.has("mode") and not bike.says("pump_by"):
                yield Flaw.at(
                    pump.node, f"who decides when '{pump.name}' runs?",
                    "write 'pump_by: controller' where the engine controller asks for it by a wire (an input, 'part: pump "
                    "request'), or 'pump_by: unit' where the unit runs it while the engine turns",
                )  # fmt: skip
                return
            if bike.says("pump_by") == "controller" and not pump.has("mode") and not any(bike.working(pump)):
                yield Flaw.at(
                    pump.node, f"by which wire does the engine controller ask for '{pump.name}'?",
                    f"add to 'inputs' {{part: pump request, at: {self._at('tray', 'engine')}}}; or write 'pump_by: unit'",
                )  # fmt: skip
        turning = any(bike.telling("engine turning")) or "engine-run" in self._set_aside
        for load in () if turning else bike.loads:
            if ENGINE_RUN in load.says("mode") and _on_unit(load):
                yield Flaw.at(
                    load.node, f"how does the unit know that the engine turns? '{load.name}' runs only while it does",
                    f"add to 'inputs' {{part: engine speed signal, at: {self._at('engine')}, from: tacho}}: 'tacho' is a 12 V "
                    "tacho wire, 'coil' the coil's switched side, 'stator' a phase of the alternator",
                )  # fmt: skip
                return

    def of_start(self) -> Iterator[Flaw]:
        """What holds the starter back in gear, and whether there is a side stand."""
        bike = self._bike
        cranks = any(_on_unit(load) for load in bike.of(loads.STARTER_SOLENOID.name))
        runs = any(_on_unit(load) for load in bike.of(*loads.RUNNING_ENGINE))
        if cranks and "start" not in self._set_aside:
            yield from self._in_gear()
        judged = (cranks and "start" not in self._set_aside) or (runs and "run" not in self._set_aside)
        if judged and bike.says("stand") in (None, "side") and not any(bike.telling("side stand")):
            yield Flaw.at(
                bike.root.key("stand"), "is there a side stand? no input tells the unit of its switch",
                f"add to 'inputs' {{part: side stand switch, at: {self._at('side stand', 'stand', 'engine')}, made: up}}; or write "
                "'stand: none' where there is no side stand; or 'stand: no switch', and the engine can run with it down",
            )  # fmt: skip

    def _in_gear(self) -> Iterator[Flaw]:
        bike = self._bike
        automatic = bike.says("clutch") == "automatic"
        told = ("neutral", "front brake", "rear brake") if automatic else ("neutral", "clutch")
        if any(bike.telling(*told)):
            return
        other = (
            f"a brake's switch, such as {{part: rear brake switch, at: {self._at('pedal', 'engine')}}}"
            if automatic
            else f"{{part: clutch switch, at: {self._at('left handlebar', 'handlebar')}, made: pulled}}, or both"
        )
        end = "" if automatic else "; or write 'clutch: automatic' where there is no lever"
        yield Flaw.at(
            bike.root, "what keeps the starter from cranking in gear? no input tells the unit of "
            f"{or_list(dict.fromkeys(word.split()[-1] for word in told))}",
            f"add to 'inputs' {{part: neutral switch, at: {self._at('engine')}}} or {other}{end}",
        )  # fmt: skip

    def of_brakes(self) -> Iterator[Flaw]:
        """Whether one brake switch is all that there is."""
        bike = self._bike
        told = [entry for entry in bike.inputs if set(entry.says("tells")) & {"front brake", "rear brake"}]
        both = {what for entry in told for what in entry.says("tells")} >= {"front brake", "rear brake"}
        lamp = any(_on_unit(load) for load in bike.of(loads.BRAKE_LAMP.name))
        if not lamp or not told or both or bike.says("brakes") not in (None, "two"):
            return
        other = "rear" if "front brake" in told[0].says("tells") else "front"
        at = self._at("pedal", "engine") if other == "rear" else self._at("right handlebar", "handlebar")
        yield Flaw.at(
            told[0].node, f"does the {other} brake light the brake lamp too? '{told[0].name}' is the only brake switch",
            f"add to 'inputs' {{part: {other} brake switch, at: {at}}}; or write 'brakes: one' where there is one brake; or "
            f"'brakes: two, one switch', and braking with the {other} one alone shows nothing",
        )  # fmt: skip

    def _at(self, *likely: str) -> str:
        """Return the frame point of a name that is likely, for a line to be written."""
        found = (point for word in likely for point in self._points if word in point)
        return next(found, "POINT")


def _sits(part: SwitchPart) -> Sequence[str]:
    return ("pedal", "engine") if part is switches.REAR_BRAKE_SWITCH else ("handlebar", "radiator", "engine")


def _is_heated(entry: LoadEntry) -> bool:
    return entry.says("kind") == ("heater",) and entry.part is not loads.LAMBDA_HEATER


def _on_unit(entry: LoadEntry) -> bool:
    """Tell whether the unit decides when a load is on: by an output, or by the coil of its relay."""
    fed, own = entry.says("fed"), entry.says("own_switch")
    return not entry.lists("from") and (fed in ((), ("unit",)) or (fed == ("relay",) and own in ((), ("false",))))


def _made(entry: SwitchEntry) -> Iterator[Flaw]:
    made = entry.part.made if entry.part else None
    if made is None or entry.says("signal") not in (("earth",), ("supply",)):
        return
    said, lines = entry.says("made"), or_list(f"'made: {position}'" for position in made.rest)
    if said and said[0] not in made.rest:
        yield Flaw.at(
            entry.node.values["made"], f"the contact of '{entry.name}' is not made at '{said[0]}'", f"write {lines}"
        )
    elif not said and not entry.has("made") and (made.rest_says_nothing or not entry.has("normally")):
        yield Flaw.at(
            entry.node, f"when is the contact of '{entry.name}' made (closed)? {made.ask}",
            f"write {lines}: measure it, or look at the maker's diagram",
        )  # fmt: skip
    elif said and entry.has("normally") and entry.says("normally") != (made.rest[said[0]],):
        yield Flaw.at(
            entry.node.keys["normally"], f"'made: {said[0]}' and 'normally' say different things of '{entry.name}'",
            "keep 'made'",
        )  # fmt: skip


def _from(entry: SwitchEntry) -> Iterator[Flaw]:
    if entry.part and entry.part.sources and entry.says("signal") == ("pulse",) and not entry.has("from", "level"):
        levels = [f"'from: {source}' ({level})" for source, level in entry.part.sources.items()]
        yield Flaw.at(
            entry.node, f"where is '{entry.name}' taken? the height of its pulses depends on it",
            f"write {or_list(levels)}; or the measured 'level' and 'rate'",
        )  # fmt: skip
