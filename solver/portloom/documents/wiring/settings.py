"""What has to be set on the unit, port by port, by whoever stands at the bench with it."""

from collections.abc import Iterator, Mapping
from typing import Literal

from portloom.base.bike import Load, Switch
from portloom.base.figures import listed
from portloom.base.quantities import BasisPoints, Microseconds, MilliAmps, MilliHertz, MilliVolts
from portloom.base.unit import AnyPort, KeyOff, Output
from portloom.base.values import dataclass
from portloom.base.vocabulary import ENGINE_RUN, START, Action, Signal, Told
from portloom.documents.wiring.lines import coils, relay_name
from portloom.job.circuits import OutputCircuit
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import drives_engine, may_crank, wanted_with_key_off


def conditions(circuit: OutputCircuit, told: Mapping[Told, list[str]]) -> Iterator[str]:
    """Return the sentences that hold for an output, from what is told and by which inputs: 'in 5'.

    What nothing tells can't be set, so nothing is said of it. The rules say what must be told.
    """
    at = {what: f" ({listed(inputs)})" for what, inputs in told.items()}
    if START in circuit.modes:
        crank = may_crank(at)
        if crank:
            yield f"cranks {crank}"
        if "engine stop" in at:
            yield f"never cranks with engine stop{at['engine stop']}"
    if drives_engine(circuit):
        yield from _runs(at)
    if ENGINE_RUN in circuit.modes and "engine turning" in at:
        yield f"only while the engine turns{at['engine turning']}"


def _runs(at: Mapping[Told, str]) -> Iterator[str]:
    if "engine stop" in at:
        yield f"off with engine stop{at['engine stop']}"
    if "side stand" in at:
        yield f"off with the side stand down{at['side stand']}" + (
            f", unless in neutral{at['neutral']}" if "neutral" in at else ""
        )


SettingStatus = Literal["in use", "kept free", "free", "not to be used"]
USUALLY_ON = ("key on", "day", "night")
ThingOnPort = tuple[str, str]
"""A thing and the port that it is on."""


@dataclass(frozen=True)
class LoadSetting:
    """When a load on an output is on, and what works it."""

    load: str
    when: tuple[str, ...]
    except_: tuple[str, ...]
    worked_by: tuple[ThingOnPort, ...]
    """Switches that operate it, each with its input, or its way of a multiplexer."""
    dim_to: BasisPoints | None
    run_on: Microseconds | None
    note: str = ""


@dataclass(frozen=True)
class OutputSetting:
    """All that is set for an output; a free one is switched off, one that is kept free as well."""

    port: str
    status: SettingStatus
    kept_for: str
    loads: tuple[LoadSetting, ...]
    mode: tuple[str, ...]
    trip: MilliAmps | None
    flash_rate: MilliHertz | None
    """None where it does not flash, or the profile gives no rate."""
    key_off: KeyOff
    """What its loads want of it with the key off, not what it could do."""
    follows: str | None
    conditions: tuple[str, ...]
    """What start, run and engine-run rest on: 'off with engine stop (in 3)'."""
    out_of_use: str = ""
    """Why it is never used, as the builder says."""

    def dims(self, load: LoadSetting) -> bool:
        """Tell whether it dims a load to a level that nobody has given."""
        return "dim" in self.mode and load.dim_to is None


@dataclass(frozen=True)
class InputSetting:
    """All that is set for a switch on an input, or on a way of a multiplexer; a free input has no switch."""

    port: str
    way: str
    """'way 1' on a multiplexer; empty on the input itself."""
    switch: str
    signal: Signal | None
    normally: Literal["open", "closed"]
    action: Action | None
    operates: tuple[ThingOnPort, ...]
    """Loads, each with its output, 'relay' or 'fuse'."""
    tells: tuple[Told, ...]
    level: MilliVolts | None
    rate: MilliHertz | None
    note: str = ""
    out_of_use: str = ""
    """Why a free one is never used, as the builder says."""

    @property
    def port_signal(self) -> Signal | None:
        """What the input itself is set to: coded where it reads a multiplexer."""
        return "coded" if self.way else self.signal


@dataclass(frozen=True)
class Settings:
    """The setting sheet: outputs and inputs in the order of the unit's file."""

    outputs: tuple[OutputSetting, ...]
    inputs: tuple[InputSetting, ...]


def settings_of(laid: Laid) -> Settings:
    """Return what has to be set on the unit for a plan."""
    told = tuple(_inputs(laid))
    return Settings(tuple(_outputs(laid, told)), told)


# --- outputs


def _outputs(laid: Laid, told: tuple[InputSetting, ...]) -> Iterator[OutputSetting]:
    used = {wired.output.name: wired for wired in laid.outputs}
    kept = {wired.output.name: wired.circuit.label for wired in laid.later}
    loads = {load.name: load for load in laid.site.job.bike.loads}
    for output in laid.site.job.unit.outputs:
        if output.name in used:
            yield _used(used[output.name], loads, told)
        else:
            yield _unused(output, kept.get(output.name, ""))


def _unused(output: Output, kept_for: str) -> OutputSetting:
    dead = _out_of_use(output)
    status: SettingStatus = "not to be used" if dead else "kept free" if kept_for else "free"
    return OutputSetting(output.name, status, kept_for, (), (), None, None, "never", output.follow, (), dead)


def _out_of_use(port: AnyPort) -> str:
    """Return why a port is never used, nothing where it may be."""
    return (port.decided.out_of_use or "") if port.decided else ""


def _used(wired: WiredOutput, loads: Mapping[str, Load], told: tuple[InputSetting, ...]) -> OutputSetting:
    output, unit = wired.output, wired.site.job.unit
    return OutputSetting(
        port=output.name,
        status="in use",
        kept_for="",
        loads=tuple(_load(wired, load.name, loads, told) for load in wired.circuit.loads),
        mode=tuple(sorted(wired.circuit.modes)),
        trip=wired.trip,
        flash_rate=(output.flash_rate or unit.flash_rate) if "flash" in wired.circuit.modes else None,
        key_off=wanted_with_key_off(wired.site.job, wired.circuit),
        follows=output.follow,
        conditions=tuple(conditions(wired.circuit, _told_at(told))),
    )


def _load(wired: WiredOutput, name: str, loads: Mapping[str, Load], told: tuple[InputSetting, ...]) -> LoadSetting:
    """A load's setting; a relay's coil is on when what it feeds is, a load fed by others with any that is here."""
    load = loads.get(name) or loads[_behind_relay(wired, name)]
    when = USUALLY_ON if load.when is None else load.when
    if load.from_:
        here = [member.name for member in wired.circuit.members]
        when = tuple(f"with {feeder}" for feeder in load.from_ if feeder in here)
    worked_by = tuple((line.switch, port_of(line)) for line in told if load.name in [what for what, _ in line.operates])
    dim_to = load.dim_to if "dim" in load.mode else None
    note = (load.note or "") if load.name == name else ""  # of a relay's coil nothing is noted
    return LoadSetting(name, when, load.except_, worked_by, dim_to, load.run_on, note)


def _behind_relay(wired: WiredOutput, coil: str) -> str:
    fed = wired.site.job.loads.fed
    return next(one.consumer.name for one in fed if relay_name(one.consumer.name) == coil)


def _told_at(told: tuple[InputSetting, ...]) -> dict[Told, list[str]]:
    """Return all that the unit is told, each with the inputs that tell it."""
    found: dict[Told, list[str]] = {}
    for line in told:
        for what in line.tells:
            found.setdefault(what, []).append(port_of(line))
    return found


# --- inputs


def port_of(line: InputSetting) -> str:
    """Say where a switch is told: 'in 3', or 'in 9, way 1'."""
    return f"{line.port}, {line.way}" if line.way else line.port


def _inputs(laid: Laid) -> Iterator[InputSetting]:
    direct = {told.port.name: told.circuit.switches for told in laid.inputs}
    boxes = {box.port.name: box for box in laid.multiplexers}
    for port in laid.site.job.unit.inputs:
        if port.name in direct:
            yield from (_switch(laid, port.name, "", switch) for switch in direct[port.name])
        elif port.name in boxes:
            on = laid.on_ways(boxes[port.name])
            yield from (_switch(laid, port.name, f"way {way}", wired.switch) for way, wired in enumerate(on, 1))
        else:
            dead = _out_of_use(port)
            yield InputSetting(port.name, "", "", None, "open", None, (), (), None, None, out_of_use=dead)


def _switch(laid: Laid, port: str, way: str, switch: Switch) -> InputSetting:
    return InputSetting(
        port=port,
        way=way,
        switch=switch.name,
        signal=switch.signal,
        normally=switch.normally,
        action=switch.action,
        operates=tuple((load, _fed_by(laid, load)) for load in switch.operates),
        tells=switch.tells,
        level=switch.level,
        rate=switch.rate,
        note=switch.note or "",
    )


def _fed_by(laid: Laid, load: str) -> str:
    """Say which output a load is on, or that a relay or fuse feeds it; a relayed one is worked through its coil."""
    on = laid.ports_of(load)
    through = laid.ports_of(relay_name(load)) if relay_name(load) in coils(laid.site.job) else ()
    if on:
        return listed(on)
    return f"relay on {listed(through)}" if through else "a feed of its own"
