"""What is set at the bench, port by port, and the readings of a bench test, as people read them."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from portloom.base.figures import capital, counted, listed, number_word, plain
from portloom.base.unit import KeyOff
from portloom.documents.handover.readings import Finding
from portloom.documents.notes import noted
from portloom.documents.wiring.lists import Lists
from portloom.documents.wiring.settings import InputSetting, LoadSetting, OutputSetting, port_of
from portloom.report.text.layout import Page, TableColumn, amperes, write_cautions

OUTPUTS: tuple[TableColumn, ...] = (
    ("output", "left"), ("mode", "left"), ("trip", "right"), ("feeds", "left"), ("key off", "left"), ("also", "left"),
)  # fmt: skip
LOADS: tuple[TableColumn, ...] = (
    ("load", "left"), ("output", "left"), ("on in", "left"), ("off in", "left"), ("operated by", "left"),
)  # fmt: skip
INPUTS: tuple[TableColumn, ...] = (
    ("input", "left"), ("switch", "left"), ("signal", "left"), ("at rest", "left"), ("action", "left"),
    ("operates", "left"), ("tells", "left"),
)  # fmt: skip
KEY_OFF: dict[KeyOff, str] = {"never": "off", "timed": "on for a time", "always": "on"}


def write_settings(lists: Lists, page: Page) -> None:
    """Write what is set for each output, when each load is on, and what each input reads."""
    settings = lists.settings
    page.heading("Outputs")
    page.table(OUTPUTS, [_output(line) for line in settings.outputs])
    page.heading("Loads: when they are on, and what operates them")
    page.table(LOADS, [_load(line, load) for line in settings.outputs for load in line.loads])
    page.heading("Inputs")
    page.table(INPUTS, [_input(line) for line in settings.inputs])
    coded = list(dict.fromkeys(line.port for line in settings.inputs if line.way))
    if coded:
        page.line(f"  Set as coded, for {'a multiplexer' if len(coded) == 1 else 'multiplexers'}: {listed(coded)}.")


def _output(line: OutputSetting) -> list[str]:
    if line.status != "in use":
        kept = f"off; kept free for {line.kept_for}" if line.kept_for else f"off; {_free(line.out_of_use)}"
        return [line.port, "-", "-", kept, "-", "-"]
    mode, trip = listed(line.mode), "-" if line.trip is None else amperes(line.trip)
    feeds = ", ".join(_noted(load.load, load.note) for load in line.loads)
    return [line.port, mode, trip, feeds, KEY_OFF[line.key_off], "; ".join(_also(line)) or "-"]


def _free(out_of_use: str) -> str:
    """Say that a port has nothing on it, and where it is out of use that nothing may ever be."""
    return f"OUT OF USE: {out_of_use}; put nothing on it" if out_of_use else "free"


def _noted(name: str, note: str) -> str:
    return noted([name], ((name, note),) if note else ())


def _also(line: OutputSetting) -> Iterable[str]:
    if line.flash_rate is not None:
        yield f"flashes at {plain(Decimal(line.flash_rate) / 1000)} Hz"
    elif "flash" in line.mode:
        yield "flashes at the unit's own rate"
    yield from (f"{load.load} dimmed to what the owner likes" for load in line.loads if line.dims(load))
    yield from (f"{load.load} dimmed to {plain(Decimal(load.dim_to) / 100)} %" for load in line.loads if load.dim_to)
    yield from (f"{load.load} runs on for {_time(load.run_on)}" for load in line.loads if load.run_on)
    if line.follows:
        yield f"follows {line.follows}"
    yield from line.conditions


def _time(microseconds: int) -> str:
    seconds = Decimal(microseconds) / 1_000_000
    return f"{plain(seconds / 60)} min" if seconds >= 60 and not seconds % 60 else f"{plain(seconds)} s"


def _load(line: OutputSetting, load: LoadSetting) -> list[str]:
    worked_by = ", ".join(f"{switch} ({port})" for switch, port in load.worked_by)
    on, off = ", ".join(load.when), ", ".join(load.except_) or "-"
    return [_noted(load.load, load.note), line.port, on, off, worked_by or "-"]


def _input(line: InputSetting) -> list[str]:
    if not line.switch:
        return [line.port, _free(line.out_of_use), "-", "-", "-", "-", "-"]
    operates = "; ".join(_operated(line))
    return [
        port_of(line), _noted(line.switch, line.note), _signal(line), line.normally, line.action or "-",
        operates or "-", ", ".join(line.tells) or "-",
    ]  # fmt: skip


def _operated(line: InputSetting) -> Iterable[str]:
    """Say the loads that a switch operates, output by output."""
    for where in dict.fromkeys(where for _, where in line.operates):
        yield f"{where}: {', '.join(load for load, at in line.operates if at == where)}"


def _signal(line: InputSetting) -> str:
    figures = [f"{plain(Decimal(line.level) / 1000)} V"] if line.level is not None else []
    figures += [f"{plain(Decimal(line.rate) / 1000)} Hz"] if line.rate is not None else []
    return ", ".join([line.signal or "-", *figures])


COLUMNS: tuple[TableColumn, ...] = (("step", "right"), ("what", "left"), ("reading", "left"))


def write_findings(bike: str, findings: Sequence[Finding], cautions: tuple[str, ...], page: Page) -> None:
    """Write what is wrong first, then what is right, and what nobody read."""
    wrong = [finding for finding in findings if not finding.right]
    right = [finding for finding in findings if finding.right]
    page.line(f"{bike}: {_verdict(len(findings), len(wrong))}", "bold")
    for title, these in (("Not as expected", wrong), ("As expected", right)):
        if these:
            page.heading(title)
            page.table(COLUMNS, [[str(one.step.number), one.step.title, one.said] for one in these])
    page.line("What a reading usually means is common practice, no source: check before you change anything.")
    write_cautions(cautions, page)


def _verdict(read: int, wrong: int) -> str:
    if not read:
        return "no reading is filled in."
    told = f"{capital(counted(read, 'reading'))} checked"
    return f"{told}, all as expected." if not wrong else f"{told}, {number_word(wrong)} not as expected."
