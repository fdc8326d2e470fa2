"""``portloom check``: is this posted plan sound, what would mend it, and an answer to paste."""

import sys
from pathlib import Path

from portloom.base.values import dataclass
from portloom.cli.files import read_files
from portloom.cli.limit import left_of
from portloom.cli.progress import waiting
from portloom.cli.screen import Exit, note, on_stdout, patient, usage_error
from portloom.inputs.files import find_unit, read_unit
from portloom.inputs.parsing import MOST_BYTES, decode, file_text
from portloom.inputs.problems import not_there, refuse
from portloom.review.check import check
from portloom.review.document import Checked
from portloom.review.reading import TOO_LONG

STDIN = Path("-")
NEEDS_BIKE = "add the bike's file after the plan's"


@dataclass(frozen=True)
class CheckOptions:
    """What a call asks of a post beside its verdict."""

    place: str | None
    best: bool
    repair: bool
    time_limit: float | None


def run(post: Path, bike: Path | None, unit: str, asked: CheckOptions, *, as_reply: bool, as_json: bool) -> Exit:
    """Judge a post and write the answer; raise BadFile where nothing of it can be judged."""
    checked = _checked(post, bike, unit, asked)
    for problem in checked.problems:
        note(str(problem))
    with on_stdout():
        _write(checked, as_reply=as_reply, as_json=as_json)
    return exit_of(checked)


def _write(checked: Checked, *, as_reply: bool, as_json: bool) -> None:
    """Write the answer as it is wanted, loading what writes it now: an answer should come at once."""
    if as_json:
        from portloom.cli.screen import write_json  # noqa: PLC0415
        from portloom.review.document import checked_json  # noqa: PLC0415

        write_json({**checked_json(checked), **({"reply": _reply(checked)} if as_reply else {})})
    elif as_reply:
        sys.stdout.write(_reply(checked))
    else:
        from portloom.cli.screen import page  # noqa: PLC0415
        from portloom.report.text.post import write_post  # noqa: PLC0415

        write_post(checked, page())


def _reply(checked: Checked) -> str:
    from portloom.report.text.reply import reply  # noqa: PLC0415

    return reply(checked)


def _checked(post: Path, bike: Path | None, unit: str, asked: CheckOptions) -> Checked:
    name = "post" if post == STDIN else str(post)
    if bike is None:
        _check_call(asked)
        with patient(post, unit):
            text, alone = _text(post, name), read_unit(find_unit(unit))
        return check(text, None, alone, name=name)
    files = read_files(bike, unit, limit=asked.time_limit)
    files.check_place(asked.place)
    with patient(post):
        text = _text(post, name)
    with waiting("checking"):
        return check(
            text,
            files.bike,
            files.unit,
            name=name,
            place=asked.place,
            best=asked.best,
            repair=asked.repair,
            time_limit=left_of(asked.time_limit),
        )


def _text(post: Path, name: str) -> str:
    if post != STDIN:
        return file_text(post)
    if sys.stdin is None:
        raise not_there(name, "stdin is closed", "give the plan's file, or send the plan to stdin")
    data = sys.stdin.buffer.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise refuse(name, [TOO_LONG])
    return decode(data, name)


def _check_call(asked: CheckOptions) -> None:
    """Raise BadFile where something is asked that needs the bike's file."""
    wanted = {"--place": asked.place is not None, "--best": asked.best, "--repair": asked.repair}
    for option, given in wanted.items():
        if given:
            what = f"{option} needs more than a post says by itself"
            raise usage_error("check", what, NEEDS_BIKE)


def exit_of(checked: Checked) -> Exit:
    """Return the exit code of an answer."""
    if checked.problems:
        return Exit.BAD_INPUT
    if "not known" in (checked.status, checked.best, checked.repair):
        return Exit.LIMIT
    return Exit.NO_PLAN if checked.verdict.clashes else Exit.DONE
