"""``portloom check``: is this posted plan sound."""

import sys
from pathlib import Path
from typing import Any

from solver.checking.posted import PostVerdict, judge_post
from solver.cli.exits import Exit
from solver.cli.files import Files, read_files
from solver.cli.screen import note, on_stdout, page, write_json
from solver.job.job import Job
from solver.plans.cautions import CAUTIONS
from solver.plans.json import set_aside_json
from solver.posts.matching import Posted, Wanted, match
from solver.posts.names import Names
from solver.posts.reading import read_post
from solver.reading.opening import MOST_BYTES, decode, file_text
from solver.reading.problems import Problem
from solver.sheets.post import write_post

STDIN = Path("-")


def run(post: Path, bike: Path, unit: str, place: str | None, *, as_json: bool) -> Exit:
    """Judge a post and write the answer; raise BadFile where nothing of it can be judged."""
    files = read_files(bike, unit)
    files.check_place(place)
    name = "post" if post == STDIN else str(post)
    text = decode(sys.stdin.buffer.read(MOST_BYTES), name) if post == STDIN else file_text(post)
    job = Job(files.bike, files.unit)
    wanted = _wanted(files, job)
    posted = match(read_post(text, name, wanted.ports), wanted)
    verdict = judge_post(job, posted, place)
    problems = [Problem(name, *flaw) for flaw in sorted(posted.flaws)]
    for problem in problems:
        note(str(problem))
    with on_stdout():
        if as_json:
            write_json(_document(files, posted, verdict, problems))
        else:
            write_post(files.bike, files.unit.unit, posted, verdict, page())
    if problems:
        return Exit.BAD_INPUT
    return Exit.NO_PLAN if verdict.clashes else Exit.DONE


def _wanted(files: Files, job: Job) -> Wanted:
    """Give the names that a post may use; a load that is fed past the unit may stand in it by mistake."""
    past = (*(fed.consumer for fed in job.loads.fed), *(later.consumer for later in job.loads.later))
    loads = (*job.loads.on_unit, *job.loads.guests, *past)
    return Wanted(
        outputs=Names(output.name for output in files.unit.outputs),
        inputs=Names(source.name for source in files.unit.inputs),
        loads=Names(load.name for load in loads),
        switches=Names(switch.name for switch in files.bike.inputs),
        places=Names(known.name for known in files.bike.places),
        guests=frozenset(load.name for load in job.loads.guests),
    )


def _document(files: Files, posted: Posted, verdict: PostVerdict, problems: list[Problem]) -> dict[str, Any]:
    """Give the whole answer; the keys are those that other programs rely on."""
    return {
        "status": "broken" if verdict.clashes else "sound",
        "bike": files.bike.bike,
        "unit": files.unit.unit,
        "judged_at": list(verdict.places),
        "clashes": [vars(clash) for clash in verdict.clashes],
        "kept": list(verdict.kept),
        "not_judged": list(verdict.not_judged),
        "taken": [{"line": cell.line, "said": cell.text, "as": name} for cell, name in posted.taken],
        "problems": [str(problem) for problem in problems],
        "set_aside": set_aside_json(files.bike.set_aside.items()),
        "cautions": list(CAUTIONS),
    }
