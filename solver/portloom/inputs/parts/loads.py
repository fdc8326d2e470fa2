"""What a load's part brings: its name, kind, mode, when it is on, who may share with it, and what feeds it."""

from portloom.base.lamps import LAMPS
from portloom.base.parts.loads import FUEL_PUMP, MAIN_BEAM
from portloom.base.parts.switches import FLASH_BUTTON
from portloom.base.vocabulary import HOLD, STEADY, TOGGLE
from portloom.inputs.parts.entries import BikeEntries, LoadEntry

NO_GROUP = "none"
"""Said under ``share``: it shares with nothing."""
BY_CONTROLLER = "controller"
"""Said under ``pump_by``: the engine controller asks for the pump by a wire of its own."""


def fill_loads(bike: BikeEntries) -> None:
    """Put into each load what its part brings; switches have what they work by now."""
    for entry in (*bike.loads, *bike.later):
        if entry.part is not None:
            _feeders(entry, bike)
            _kind(entry)
            if not entry.lists("from"):
                _mode(entry, bike)
                _times(entry, bike)
                _group(entry)
        _parted(entry)


def _feeders(entry: LoadEntry, bike: BikeEntries) -> None:
    """A tell-tale is fed by the first load of each part that it is of, unless it is driven by an output of its own."""
    if entry.part is None or entry.has("from", "when", "mode", "fed"):
        return
    firsts = [next(bike.of(part), None) for part in entry.part.fed_from]
    names = [first.name for first in firsts if first is not None and first.name]
    if names:
        entry.bring("from", *names, listed=True)


def _kind(entry: LoadEntry) -> None:
    part = entry.part
    if part is None or entry.has("kind", "lamp"):
        return
    if part.kind is not None:
        entry.bring("kind", part.kind)


def _mode(entry: LoadEntry, bike: BikeEntries) -> None:
    part = entry.part
    if part is None or entry.has("mode"):
        return
    if part.beam:
        entry.bring("mode", _beam_mode(entry, bike))
    elif part is FUEL_PUMP and bike.says("pump_by") == BY_CONTROLLER:
        entry.bring("mode", HOLD)
    else:
        entry.bring("mode", *part.modes)


def _beam_mode(entry: LoadEntry, bike: BikeEntries) -> str:
    """A push button toggles a beam where no latching switch works it; flash buttons alone hold the main beam."""
    by = list(bike.working(entry))
    flash = [switch for switch in by if switch.part is FLASH_BUTTON]
    if by and len(flash) == len(by):
        return HOLD if entry.part is MAIN_BEAM else STEADY
    actions = {action for switch in by if switch.part is not FLASH_BUTTON for action in switch.says("action")}
    return TOGGLE if "push" in actions and "latch" not in actions else STEADY


def _times(entry: LoadEntry, bike: BikeEntries) -> None:
    part = entry.part
    if part is None:
        return
    if not entry.has("when"):
        entry.bring("when", *part.when, listed=True)
    if part.other_filament and not entry.has("except") and _has_two_filaments(entry, bike):
        entry.bring("except", *part.other_filament, listed=True)


def _has_two_filaments(entry: LoadEntry, bike: BikeEntries) -> bool:
    """Tell whether a dipped beam shares its bulb with a main beam, by its lamp's words or by the bulb's name."""
    lamp, bulb = entry.says("lamp"), entry.says("bulb")
    twin = {f"{lamp[0].removesuffix(' dipped')} main"} if lamp and lamp[0].endswith(" dipped") else set()
    if twin & set(LAMPS):
        return True
    return bool(bulb) and any(bulb == other.says("bulb") for other in bike.of(MAIN_BEAM.name))


def _group(entry: LoadEntry) -> None:
    if entry.part is not None and entry.part.group is not None and not entry.has("share"):
        entry.bring("share", entry.part.group)


def _parted(entry: LoadEntry) -> None:
    """``share: none`` parts a load from its group."""
    if entry.says("share") == (NO_GROUP,):
        entry.rewrite("share", None)
