"""A bike's and a unit's files of which only some facts are left, as far as edits of files can say it.

Written from the table of what dropping a fact means. A switch that is left out is there still, where nothing is asked
of a port or a loom: at the unit's face, on a port of its own that takes no other; so is a load whose presence is asked
for. Modes, signals and kinds that are dropped: every port can do it, and whoever keeps theirs is kept off ports that
could not, by a mode of the unit's own. What can't be said so is named, with what it makes of the files: harder to plan,
or easier.
"""

from collections.abc import Collection, Iterator
from copy import deepcopy
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from math import ceil, floor

from conflict_decided import edit_decided
from conflict_drafts import EASIER, HARDER, Files
from conflict_facts import Case, Tree
from conflict_loads import edit_loads
from conflict_ports import edit_unit
from conflict_switches import edit_switches
from file_edit_sets import text_of
from oracle.circuits import may_join, may_share
from oracle.facts import Key
from oracle.job import Job
from oracle.parts import drop_class
from oracle.profiles import read_unit
from oracle.reading import on_unit, read_bike, tree_of
from oracle.site import Site
from oracle.things import Bike


@dataclass(frozen=True)
class Said:
    """Files of a bike, one for each place and way round if need be, and of its unit; and what they could not say."""

    files: tuple[tuple[str, str], ...]
    doubts: frozenset[tuple[str, str]]

    def is_never(self, way: str) -> bool:
        """Tell whether nothing makes the files harder, or easier, to plan than what was to be said."""
        return all(one != way for one, _ in self.doubts)


def said(case: Case, kept: Collection[Key], *, rather: str) -> Said:
    """Return the files in which only some facts are left; a figure that can't be written so fine is ``rather`` this."""
    files = Files(case, kept)
    edit_loads(files)
    edit_switches(files)
    edit_unit(files)
    edit_decided(files)
    files.bike["later"] = []
    _part_groups(files)
    made = tuple(_at_places(files, rather))
    _compare(files, *made[0])
    return Said(made, frozenset(files.doubts))


# --- each place by itself where something sits at the unit's face


def _at_places(files: Files, rather: str) -> Iterator[tuple[str, str]]:
    for place in files.bike["places"]:
        front = place.get("front", place.get("rear"))
        rear = place.get("rear", front)
        ways = [(front, rear)] + [(rear, front)] * (place.get("way_round") == "either" and front != rear)
        for number, (one, other) in enumerate(ways):
            named = {"name": f"{place['name']} {number}", "front": one, "rear": other}
            yield _feed_as_whole(files, *_placed(files, named), rather)


def _placed(files: Files, place: Tree) -> tuple[str, str]:
    """Return a bike with one place and its unit, what stands in at a face where the frame is earth, if one is."""
    face = next((face for face in ("front", "rear") if place[face] in files.fixed), "front")
    bike, unit = {**deepcopy(files.bike), "places": [place]}, deepcopy(files.unit)
    if files.spare_outputs and place[face] not in files.fixed:
        files.doubt("no frame to earth at the unit's face", HARDER)
        for item in bike["loads"]:
            if item["at"] == "the face":
                item["return"] = "wire"
    for item in (*bike["loads"], *bike["inputs"]):
        if item["at"] == "the face":
            item["at"] = place[face]
    for port in (*unit["outputs"], *unit["inputs"]):
        if port.get("face") == "the face":
            port["face"] = face
    return text_of(bike), text_of(unit)


def _feed_as_whole(files: Files, bike: str, unit: str, rather: str) -> tuple[str, str]:
    """Leave less to be lost where the whole bike's feed is judged with more than that of what is kept."""
    whole = Job(replace(files.case.bike, places=read_bike(bike).places), files.case.kinds.unit)
    part = Job(read_bike(bike), read_unit(unit))
    before, after = ({crank: feed_uv(job, cranking=crank) for crank in (False, True)} for job in (whole, part))
    if before[True] > after[True] and any(key[0].endswith("lowest") for key in files.kept):
        files.doubt("a feed that is judged by the whole bike, cranking", EASIER)
    tree = tree_of(bike)
    for group in (key[1] for key in files.kept if key[0] == "drop"):
        left_uv = Fraction(part.bike.drop_uv[group]) - max(Fraction(0), before[False] - after[False])
        if before[False] > after[False]:
            left_mv = max(1, (floor if rather == HARDER else ceil)(left_uv / 1000))
            tree.setdefault("limits", {}).setdefault("drop", {})[group] = f"{left_mv} mV"
            if any(load.fed != "unit" and drop_class(load.part) == group for load in part.bike.loads):
                files.doubt("the feed of the unit is no part of a path", HARDER)
            if left_mv * 1000 != left_uv:
                files.doubt("a limit in whole millivolts", rather)
    return text_of(tree), unit


def feed_uv(job: Job, *, cranking: bool) -> Fraction:
    """Return what the feed to the only place is judged with."""
    return Fraction(Site(job, job.bike.places[0], turned=False, fuse_ma=80_000).feed_uv(cranking=cranking))


# --- who may share


def _part_groups(files: Files) -> None:
    """Where a ban is kept that the entries do not say any more, take one of the two out of its group."""
    now = read_bike(text_of(files.bike))
    for kind, which, pairs in (("ban", "loads", _load_pairs(files)), ("switch ban", "inputs", _switch_pairs(files))):
        wanted = {frozenset(pair): _may(files, kind, pair) for pair in pairs}
        for pair, may in wanted.items():
            _, other = sorted(pair)
            if not may and _said_to(now, kind, pair) and not any(m and other in p for p, m in wanted.items()):
                files.item(which, other)["share"] = "none" if which == "loads" else f"apart {other}"


def _load_pairs(files: Files) -> list[tuple[str, str]]:
    pairs = combinations(files.loads_kept, 2)
    return [(one.name, other.name) for one, other in pairs if one.share == other.share != ""]


def _switch_pairs(files: Files) -> list[tuple[str, str]]:
    pairs = combinations(files.switches_kept, 2)
    return [(one.name, other.name) for one, other in pairs if one.share == other.share != ""]


def _may(files: Files, kind: str, pair: Collection[str]) -> bool:
    """Tell whether two of a group may share: nothing bans it, or the ban is dropped."""
    bans = [key for key in files.case.facts if key[0] == kind and set(key[1:]) == set(pair)]
    return not bans or files.dropped(*bans[0])


def _said_to(now: Bike, kind: str, pair: Collection[str]) -> bool:
    """Tell whether the edited file lets two share."""
    if kind == "ban":
        loads = [load for load in on_unit(now) if load.name in pair]
        return len(loads) == 2 and may_share(now, *loads)
    switches = [switch for switch in now.switches if switch.name in pair]
    return len(switches) == 2 and may_join(*switches)


def _compare(files: Files, bike: str, unit: str) -> None:
    """Note where who shares, or who comes back with whom, is not as it is to be."""
    now = read_bike(bike)
    for kind, pairs in (("ban", _load_pairs(files)), ("switch ban", _switch_pairs(files))):
        for pair in pairs:
            wanted, found = _may(files, kind, pair), _said_to(now, kind, pair)
            if wanted != found:
                files.doubt(f"a {kind} {'lifted' if wanted else 'kept'}", HARDER if wanted else EASIER)
    _returns(files, Job(now, read_unit(unit)))


def _returns(files: Files, job: Job) -> None:
    """Loads stay on the returns to which the whole bike deals them, and these lose no less than there."""
    whole = files.case.job
    here = {load.name for load in job.bike.loads}
    before = {one.names & here for one in whole.returns.values()} - {frozenset()}
    after = {one.names for one in job.returns.values()} - {frozenset()}
    if before != after:
        files.doubt("returns dealt otherwise")
    for key, joint in job.joints.items():
        same = next((old for old in whole.joints.values() if old.key == key), None)
        if same is not None and same.judged_uv > joint.judged_uv:
            files.doubt("a return that is judged by the whole bike", EASIER)
