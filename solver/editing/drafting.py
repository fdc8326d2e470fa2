"""From changes to the splices that make them: what comes and goes in each list and mapping is settled together."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from solver.editing import bracketed, lined, spelling
from solver.editing.edits import Append, Edit, Put, Remove, Unchangeable
from solver.editing.marks import Entry, Group, Part, Scalar
from solver.editing.places import Place, spoken
from solver.editing.spelling import Plain
from solver.editing.splicing import Page, Splice


@dataclass(frozen=True)
class Change:
    """An edit and the place that it changes; ``values`` are all that are to be appended there."""

    edit: Edit
    place: Place
    values: list[Plain]


@dataclass
class _Job:
    """All that comes and goes in one list or mapping, which ``holder`` holds ``depth`` steps into the file."""

    holder: Entry
    group: Group
    depth: int
    removed: list[int] = field(default_factory=list)
    added: list[str] = field(default_factory=list)


class Draft:
    """Takes changes to ``page`` one by one and gives the splices for all of them."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self._jobs: dict[int, _Job] = {}
        self._replaced: list[tuple[int, Splice]] = []

    def take(self, change: Change) -> None:
        """Take one more change; raise Unchangeable if there is nothing that could be changed so."""
        place = change.place
        match change.edit:
            case Put():
                self._put(place, change.values[0])
            case Append():
                self._append(place, change.values)
            case Remove():
                self._remove(place)

    def splices(self) -> list[Splice]:
        """Return the splices; where two put something in at one place, what is deeper in the file comes first."""
        found = list(self._replaced)
        for job in self._jobs.values():
            found += ((job.depth, splice) for splice in self._made(job))
        return [splice for _, splice in sorted(found, key=lambda pair: -pair[0])]

    def _put(self, place: Place, value: Plain) -> None:
        entry = place.chain[-1]
        if place.new is None:
            self._replace(place, lined.replaced(self._page, entry, value, flow=place.flow))
            return
        job = self._job(place, entry)
        job.added.append(lined.pair(self._page, job.group, place.new, value))

    def _append(self, place: Place, values: Sequence[Plain]) -> None:
        entry = place.chain[-1]
        match entry.value:
            case _ if place.new is not None or _is_missing(entry.value):
                self._put(place, values)
            case Group(keyed=False) as group:
                job = self._job(place, entry)
                job.added += (lined.item(self._page, group, value) for value in values)
            case Scalar() as word if not place.alone:
                self._replace(place, lined.instead(self._page, word, self._grown(word, values, flow=place.flow)))
            case _:
                raise Unchangeable(f"{spoken(place.path)} is no list that can be added to")

    def _remove(self, place: Place) -> None:
        if place.new is not None:
            raise Unchangeable(f"there is no {spoken(place.path)}")
        if place.alone:
            self._put(place, [])
            return
        job = self._job(place, place.parent)
        job.removed.append(job.group.entries.index(place.chain[-1]))

    def _replace(self, place: Place, splices: Iterable[Splice]) -> None:
        self._replaced += ((len(place.chain) - 1, splice) for splice in splices)

    def _grown(self, word: Scalar, values: Sequence[Plain], *, flow: bool) -> str:
        """Return the list that begins with ``word``, as it is spelled now if it may stand in brackets like that."""
        stays = flow or word.style in ("'", '"')
        first = self._page.text[word.start : word.end] if stays else spelling.inline(word.word, flow=True)
        return "[" + ", ".join([first, *(spelling.inline(value, flow=True) for value in values)]) + "]"

    def _job(self, place: Place, holder: Entry) -> _Job:
        group = holder.value
        if not isinstance(group, Group) or (group.flow and not group.braced):
            raise Unchangeable(f"{spoken(place.path)} is in a pair without braces: write them first")
        return self._jobs.setdefault(id(group), _Job(holder, group, place.chain.index(holder)))

    def _made(self, job: _Job) -> Iterator[Splice]:
        if job.group.flow:
            return bracketed.changed(self._page, job.group, job.removed, job.added)
        return lined.changed(self._page, job.group, job.holder.mark, job.removed, job.added)


def _is_missing(part: Part) -> bool:
    return isinstance(part, Scalar) and part.missing
