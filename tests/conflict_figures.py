"""What a load asks for where figures of it are dropped: current, inrush, mode, kind, lowest voltage."""

from conflict_drafts import LEAST, Files, amperes
from conflict_facts import Tree
from oracle.parts import INDICATORS
from oracle.things import Load

DIMMABLE = frozenset({"filament", "heater"})


def edit_figures(files: Files, item: Tree, load: Load) -> None:
    draw(files, item, load)
    if files.dropped("load lowest", load.name):
        item.pop("lowest", None)
    if files.dropped("mode", load.name):
        _any_mode(item, load)
    elif "dim" in load.modes and files.dropped("kind", load.name):
        _take_dimming(files, item, load)


def draw(files: Files, item: Tree, load: Load) -> None:
    """Write what a load draws, with what is dropped at the least that a file can say."""
    without_current = files.dropped("current", load.name)
    if not (without_current or files.dropped("inrush", load.name)):
        return
    if load.fed == "unit":
        item["inrush"] = amperes(0 if files.dropped("inrush", load.name) else load.inrush_ma)
        item["inrush_for"] = f"{1 if files.dropped('inrush', load.name) else float(load.inrush_ms):g} ms"
        item.pop("pull_in", None)
    if without_current:
        for key in ("lamp", "power"):
            item.pop(key, None)
        item.update(current=LEAST, kind=load.kind)


def _any_mode(item: Tree, load: Load) -> None:
    """Leave of a mode only what asks for nothing but an output that has it, which all have then.

    An indicator is judged as one that flashes.
    """
    asking = {"engine-run"} if _dims(load) else {"engine-run", "dim"}
    item["mode"] = ["flash"] if load.part in INDICATORS else sorted(load.modes - asking)


def _dims(load: Load) -> bool:
    return load.kind in DIMMABLE or (load.kind == "led" and load.dims)


def _take_dimming(files: Files, item: Tree, load: Load) -> None:
    if _dims(load):
        return
    item.setdefault("inrush", amperes(load.inrush_ma))
    item.setdefault("inrush_for", f"{float(load.inrush_ms):g} ms")
    if load.kind not in ("led", "electronics") and any(key[0].endswith("lowest") for key in files.kept):
        files.doubt("a kind that dims draws otherwise while cranking")
    item |= {"kind": "led", "dims": "true"}
