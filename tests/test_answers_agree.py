"""Whatever a post names and whatever it leaves open, all that is told of it says the same.

Head line, exit code, faults, repair, distance and JSON are held against each other, and against ``oracle.moving``: the
fewest moves by HiGHS, in a program that shares no code with the project. The bikes are random, small and made up.
"""

import random
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from io import StringIO

import pytest
from rich.console import Console

from oracle.job import Job as Reference
from oracle.moving import Here, fewest_moves
from oracle.profiles import read_unit
from oracle.random_bikes import random_case
from oracle.reading import read_bike
from oracle.sites import fused, ways
from outcomes import best
from portloom.base.quantities import MilliAmps
from portloom.cli.check import exit_of
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.report.text.layout import TextPage
from portloom.report.text.post import write_post
from portloom.report.text.reply import reply
from portloom.review.check import check
from portloom.review.document import Checked, Distance, Repair, checked_json
from portloom.review.matching import Posted
from portloom.review.settings import PostedSettings
from test_posted_plans import post_of
from test_repairs import random_post, small_case

SEEDS: dict[str, Sequence[int]] = {
    "small": (1, 2, 9),
    "follow": (1, 2, 5, 20),
    "openings": (0, 1),
    "multiplexed": (4, 7, 9),
    "sharing": (0, 1, 4),
    "safety": (1, 2),
    "main fuses": (2, 3),
    "shown": (1, 6),
}
"""A few of each family, among them all ends; more are in the long part."""
MORE = {"follow": 24, "small": 16}
ENDS = {"nothing fits", "right, all", "right, open", "moves, all", "no way", "set anew, all"}
FUSES = [MilliAmps(amperes * 1000) for amperes in (5, 10, 15, 20, 30, 40, 60)]


def case_of(family: str, dice: random.Random, seed: int) -> tuple[str, str]:
    """Throw a bike and a unit."""
    return small_case(dice) if family == "small" else random_case(seed, family)


def thrown(dice: random.Random, job: Job, texts: tuple[str, str]) -> Posted:
    """Throw a post: the best plan with something moved, left open or set otherwise, or nothing but chance."""
    _, plan = best(*texts)
    if plan is None or dice.random() < 0.25:
        return random_post(dice, job)
    post = post_of(job, plan)
    post = replace(post, outputs=_moved(dice, post.outputs, [port.name for port in job.unit.outputs]))
    post = replace(post, inputs=_some(dice, post.inputs), settings=_settings(dice, job, post))
    if dice.random() < 0.5:
        post = replace(post, place=None, turned=None)
    return replace(post, stands={} if dice.random() < 0.6 else post.stands, no_fuse=dice.random() < 0.05)


def _moved(dice: random.Random, held: Mapping[str, Sequence[str]], ports: Sequence[str]) -> dict[str, list[str]]:
    """Move nothing, or a thing or two."""
    moved = {port: list(names) for port, names in held.items()}
    for _ in range(dice.choice([0, 0, 1, 1, 2])):
        full = [port for port, names in moved.items() if names]
        if full and ports:
            names = moved[dice.choice(full)]
            moved.setdefault(dice.choice(ports), []).append(names.pop(dice.randrange(len(names))))
    return moved


def _some(dice: random.Random, inputs: dict[str, list[str]]) -> dict[str, list[str]]:
    """Return all inputs, some or none, now and then with one on another's port."""
    kind = dice.choice(["all", "some", "none", "none"])
    if kind == "none":
        return {}
    share = 1.0 if kind == "all" else 0.6
    kept = {port: [name for name in names if dice.random() < share] for port, names in inputs.items()}
    return _moved(dice, kept, list(inputs)) if dice.random() < 0.4 else kept


def _settings(dice: random.Random, job: Job, post: Posted) -> PostedSettings:
    if dice.random() < 0.5:
        return PostedSettings()
    trips = {
        output.name: dice.choice(output.trip)
        for output in job.unit.outputs
        if output.trip and post.outputs.get(output.name) and dice.random() < 0.4
    }
    sizes = {port: dice.choice(job.reels).size for port in post.outputs if dice.random() < 0.3}
    return PostedSettings(trips, sizes, dice.choice(FUSES) if dice.random() < 0.3 else None)


def printed(checked: Checked) -> str:
    """Return the text of an answer, its lines joined."""
    written = StringIO()
    write_post(checked, TextPage(Console(file=written, width=100, highlight=False)))
    return " ".join(written.getvalue().split())


def applied(post: Posted, repair: Repair) -> Posted:
    """Return the post as its repair says."""
    trips = {port: trip for port, trip in post.settings.trips.items() if port in dict(repair.outputs)}
    sizes = {port: size for port, size in post.settings.sizes.items() if port in dict(repair.outputs)}
    trips |= {one.port: one.trip for one in repair.set_anew}
    sizes |= {one.port: one.size for one in repair.set_anew}
    fuse = post.settings.main_fuse if repair.main_fuse is None else repair.main_fuse
    place, turned, _ = repair.place.partition(", turned around")
    return Posted(
        {port: list(held) for port, held in repair.outputs},
        {port: list(held) for port, held in repair.inputs},
        place,
        bool(turned),
        PostedSettings(trips, sizes, fuse),
        stands=post.stands,
    )


def fewest(texts: tuple[str, str], post: Posted) -> int | None:
    """Return the fewest moves by the other program, whatever trips, wires and main fuse are posted."""
    reference = Reference(read_bike(texts[0]), read_unit(texts[1]))
    there = [way for way in ways(reference) if post.place in (None, way[0].name)]
    there = [way for way in there if post.turned in (None, way[1])] or there
    sites = [site for place, turned in there for site in fused(reference, place, turned=turned)]
    return fewest_moves(sites, Here(post.outputs, post.inputs, post.stands))


def agree(checked: Checked) -> str:
    """Hold the parts of an answer against each other; return how it ended."""
    told, document, answer = printed(checked), checked_json(checked), reply(checked)
    right = not checked.verdict.clashes
    assert (checked.status in ("sound", "nothing wrong")) is right
    assert document["status"] == checked.status
    assert int(exit_of(checked)) == (0 if right else 1)
    assert ("NOT SOUND" in told) is ("Not yet" in answer) is not right
    assert bool(checked.verdict.sound_at) is right or checked.verdict.clashes
    assert checked.verdict.wiring in (None, "exists" if right else "none")
    repair, distance = checked.repair, checked.best
    if not isinstance(repair, Repair):
        assert repair == "nothing fits"
        assert not right
        return "nothing fits"
    assert isinstance(distance, Distance)
    assert repair.proven
    assert repair.changes_nothing is right
    assert ("nothing has to move" in told) is (repair.moves == 0)
    assert (distance.posted is not None) is right
    assert distance.posted is None or distance.posted.total >= distance.costs.total
    assert document["repair"]["moves"] == repair.moves
    if right and checked.verdict.wiring:
        assert "some way exists, proved" in told
    if checked.verdict.wiring == "none" and not right:
        assert "way to wire" in told
        assert "no way exists, proved" in told
        return "no way"
    kind = "all" if not checked.verdict.wiring else "open"
    return f"{'right' if right else 'moves' if repair.moves else 'set anew'}, {kind}"


def ends_of(family: str, seeds: Sequence[int]) -> Counter[str]:
    """Hold all that is told of posts against each other and the other program; return how often each end came."""
    ends: Counter[str] = Counter()
    for seed in seeds:
        dice = random.Random(f"{family} {seed}")
        texts = case_of(family, dice, 4000 + seed)
        try:
            job, _ = best(*texts)
        except BadFile:
            continue  # a random file may be refused
        post = thrown(dice, job, texts)
        checked = check(post, job.bike, job.unit, best=True, repair=True)
        ends[agree(checked)] += 1
        wanted = fewest(texts, post)
        if not isinstance(checked.repair, Repair):
            assert wanted is None, seed
            continue
        assert checked.repair.moves == wanted, seed
        after = check(applied(post, checked.repair), job.bike, job.unit, best=True, repair=True)
        assert isinstance(after.repair, Repair)
        assert (after.verdict.clashes, after.repair.changes_nothing) == ((), True), seed
    return ends


def test_no_two_parts_of_an_answer_disagree() -> None:
    """Nothing wrong exactly where nothing has to change; a repair is sound as told, and with fewer moves none is."""
    ends = sum((ends_of(family, seeds) for family, seeds in SEEDS.items()), Counter[str]())
    assert set(ends) == ENDS


@pytest.mark.long
@pytest.mark.parametrize("family", SEEDS)
def test_nor_of_many_more_posts(family: str) -> None:
    """The same of hundreds."""
    assert ends_of(family, [*range(MORE.get(family, 10)), *range(100, 160)]).total() >= 55
