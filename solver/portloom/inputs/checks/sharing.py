"""Share groups: small enough for every way of sharing to be tried."""

from collections.abc import Hashable, Iterator, Sequence

from pydantic import ValidationError

from portloom.base.bike import Load, Switch
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Word, entries, plain, several, word, words

MOST = 12
"""Different loads, or inputs, that one group may hold."""
Member = tuple[Keyed, Word]


def sharing_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell share groups of more than twelve different loads or inputs."""
    feeds = _feeds(bike)
    loads = [load for load in entries(bike, "loads") if _may_share(load)]
    yield from _too_large(loads, Load, "loads", feeds)
    yield from _too_large(entries(bike, "inputs"), Switch, "inputs", {})


def _may_share(load: Keyed) -> bool:
    fed = word(load, "fed")
    return not several(load, "from") and (fed is None or fed.text == "unit")


def _feeds(bike: Keyed) -> dict[str, list[str]]:
    feeds: dict[str, list[str]] = {}
    for load in entries(bike, "loads"):
        name = word(load, "name")
        for feeder in words(load, "from"):
            feeds.setdefault(feeder.text, []).append(name.text if name else "")
    return feeds


def _too_large(
    loads: Sequence[Keyed], model: type[Load | Switch], kind: str, feeds: dict[str, list[str]]
) -> Iterator[Flaw]:
    groups: dict[str, list[Member]] = {}
    for load in loads:
        share = word(load, "share")
        if share:
            groups.setdefault(share.text, []).append((load, share))
    for group, members in groups.items():
        if len(members) > MOST:
            yield from _judge(group, _different(members, model, feeds), kind)


def _different(members: Sequence[Member], model: type[Load | Switch], feeds: dict[str, list[str]]) -> list[Member]:
    """Return the members that differ in more than name, or in the loads that they feed."""
    kinds: dict[Hashable, Member] = {}
    for load, share in members:
        name = word(load, "name")
        try:
            typed = model.model_validate(plain(load), by_alias=True, by_name=False)
        except ValidationError:
            return []  # its own mistake is told; the group is judged once it can be read
        alike = typed.model_copy(update={"name": "", "note": None})
        kinds.setdefault((alike, tuple(feeds.get(name.text, ()) if name else ())), (load, share))
    return list(kinds.values())


def _judge(group: str, different: Sequence[Member], kind: str) -> Iterator[Flaw]:
    if len(different) <= MOST:
        return
    _, share = different[MOST]
    more = [f"'{name.text}'" for load, _ in different[MOST:] if (name := word(load, "name"))]
    what = f"the share group '{group}' holds {len(different)} different {kind}, more than {MOST}"
    right = f"split it: give {', '.join(more)} another group, best by where they sit or by what operates them"
    yield Flaw.at(share, what, right)
