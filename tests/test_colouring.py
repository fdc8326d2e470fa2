"""Colours for wires: the proven best against every choice, networkx and what is known of graphs.

The wires are made up.
"""

import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, pairwise
from math import comb

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from colour_twin import by_graph, every_choice, graph_of, random_question
from portloom.base.bike import Colour, ColourCode, Reel
from portloom.base.sizes import parse_size
from portloom.base.wire_colours import alike
from portloom.colours.count import InvalidColouring, measured, repeats
from portloom.colours.question import ColouredWire, Colouring, ColourMeasure, NoColour, Question
from portloom.search import colouring
from portloom.search.colouring import coloured
from slices import each_seed, of_trials

ONE = parse_size("1 mm2")
TELLABLE: tuple[ColourCode, ...] = ("RD", "BU", "WH", "GN", "OG", "VT", "PK", "BN", "TQ", "YE", "BK")
"""Colours of which no two look alike."""


def reel(colours: Sequence[str], size: str = "1 mm2") -> Reel:
    """Return a reel."""
    return Reel.model_validate({"size": size, "colours": list(colours)})


def in_one_leg(wires: int, colours: Sequence[str]) -> Question:
    """Return wires of one size that all lie in one leg."""
    return Question(tuple(ColouredWire(f"wire {n}", ONE, (0,), ()) for n in range(wires)), (reel(colours),))


def bases(found: Colouring) -> dict[str, str]:
    """Return the base colour of each wire."""
    return {key: colour.base for key, colour in found.colours}


@each_seed(range(15), range(15, 40))
def test_no_choice_is_better(seed: int) -> None:
    """Of every choice of colours for up to six wires, none measures less than the one that is proved best."""
    dice = random.Random(seed)
    question = random_question(dice, dice.randint(2, 6), dice.randint(1, 4))
    graph, found = graph_of(question), coloured(question)
    assert found.proven
    assert found.measure.counts == by_graph(graph, bases(found))
    assert found.measure.counts == min(by_graph(graph, choice) for choice in every_choice(question))


@pytest.mark.parametrize("colours", [1, 2, 5, 11])
@pytest.mark.parametrize("wires", [3, 11, 20])
def test_one_leg_repeats_as_little_as_turan_allows(wires: int, colours: int) -> None:
    """Wires in one leg make as few alike pairs as Turan's graph lacks edges. Source: Turan 1941, networkx."""
    found = coloured(in_one_leg(wires, TELLABLE[:colours]))
    assert found.proven
    assert found.measure.in_legs == 2 * (comb(wires, 2) - nx.turan_graph(wires, min(wires, colours)).number_of_edges())


@given(st.lists(st.tuples(st.integers(0, 7), st.integers(1, 4)), min_size=1, max_size=14), st.integers(1, 5))
@settings(max_examples=40, deadline=None, derandomize=True, database=None)
def test_along_one_line_the_fullest_leg_decides(spans: list[tuple[int, int]], colours: int) -> None:
    """No two wires along a line of legs look alike just if no leg holds more wires than there are colours.

    Source: interval graphs are perfect, so their chromatic number is that of the largest clique (networkx).
    """
    wires = [ColouredWire(f"wire {n}", ONE, tuple(range(a, a + long)), ()) for n, (a, long) in enumerate(spans)]
    meeting = nx.Graph()
    meeting.add_nodes_from(range(len(wires)))
    meeting.add_edges_from((a, b) for a, b in combinations(range(len(wires)), 2) if {*wires[a].legs} & {*wires[b].legs})
    fullest = max(len(clique) for clique in nx.find_cliques(meeting))
    found = coloured(Question(tuple(wires), (reel(TELLABLE[:colours]),)))
    assert found.proven
    assert (found.measure.in_legs == 0) == (fullest <= colours)


@pytest.mark.parametrize("seed", range(8))
def test_where_networkx_colours_a_loom_nothing_repeats(seed: int) -> None:
    """Wires on a tree of legs: with as many colours as networkx needs, by any of its strategies, none looks alike."""
    dice = random.Random(seed)
    tree = nx.random_labeled_tree(9, seed=seed)
    legs = {frozenset(edge): number for number, edge in enumerate(tree.edges)}
    ways = [nx.shortest_path(tree, *dice.sample(range(9), 2)) for _ in range(13)]
    runs = [tuple(legs[frozenset(step)] for step in pairwise(way)) for way in ways]
    meeting = nx.Graph()
    meeting.add_nodes_from(range(13))
    meeting.add_edges_from((a, b) for a, b in combinations(range(13), 2) if {*runs[a]} & {*runs[b]})
    strategies = ("DSATUR", "largest_first", "smallest_last")
    needed = min(1 + max(nx.greedy_color(meeting, strategy).values()) for strategy in strategies)
    wires = tuple(ColouredWire(f"wire {n}", ONE, run, ()) for n, run in enumerate(runs))
    assert needed <= len(TELLABLE)
    found = coloured(Question(wires, (reel(TELLABLE[:needed]),)))
    assert found.measure.in_legs == 0
    assert list(repeats(Question(wires), dict(found.colours))) == []


@of_trials(8, 25)
def test_what_always_holds(count: int) -> None:
    """Each wire has a colour that it can have, fixed ones theirs; the count is the twin's; the bound is no more."""
    some = settings(max_examples=count, deadline=None, derandomize=True, database=None)
    some(given(st.randoms(use_true_random=False), st.integers(1, 12), st.integers(1, 8))(colour_at_random))()


def colour_at_random(dice: random.Random, wires: int, colours: int) -> None:
    """Colour random wires."""
    question = random_question(dice, wires, colours)
    found = coloured(question)
    given_to = dict(found.colours)
    assert list(given_to) == [wire.key for wire in question.wires]
    for wire in question.wires:
        assert given_to[wire.key] in question.choices(wire)
        assert wire.fixed in (None, given_to[wire.key])
    assert found.measure.counts == by_graph(graph_of(question), bases(found))
    assert found.bound <= found.measure
    assert coloured(question) == found


def test_earth_wires_stay_black_and_the_feed_red() -> None:
    """Common practice: with every colour to be had, earth is black, the feed red, and nothing else looks like earth."""
    wires = (
        ColouredWire("horn", ONE, (0, 1), ()),
        ColouredWire("feed", parse_size("6 mm2"), (0,), (), "feed"),
        *(ColouredWire(f"return {n}", ONE, (0, 1), (), "earth") for n in range(3)),
        *(ColouredWire(f"lamp {n}", ONE, (0, 1), ()) for n in range(5)),
    )
    found = bases(coloured(Question(wires)))
    assert {found[f"return {n}"] for n in range(3)} == {"BK"}
    assert found["feed"] == "RD"
    assert len(set(found.values())) == 8


def test_a_live_wire_beside_earth_never_takes_its_colour() -> None:
    """Two colours for nine live wires and their earth: the live ones all repeat before one looks like earth."""
    wires = (*in_one_leg(9, ("BK", "RD")).wires, ColouredWire("return", ONE, (0,), (), "earth"))
    found = coloured(Question(wires, (reel(("BK", "RD")),)))
    assert set(found.colours) == {*((f"wire {n}", Colour(base="RD")) for n in range(9)), ("return", Colour(base="BK"))}
    assert [len(group.wires) for group in repeats(Question(wires), dict(found.colours))] == [9]


def test_a_repeat_goes_where_no_connector_and_no_long_way_is() -> None:
    """Three wires and two colours: the pair that repeats shares one leg, and neither the connector nor three legs."""
    wires = (
        ColouredWire("a", ONE, (0, 1, 2, 3), ("neck",)),
        ColouredWire("b", ONE, (1, 2, 3), ("neck",)),
        ColouredWire("c", ONE, (0, 1, 2, 3), ()),
        ColouredWire("d", ONE, (3,), ()),
    )
    found = coloured(Question(wires, (reel(("RD", "BU", "WH")),)))
    assert (found.measure.in_connectors, found.measure.in_legs) == (0, 2)
    assert len({dict(found.colours)[key] for key in "abc"}) == 3


def test_green_yellow_is_never_proposed() -> None:
    """Source: IEC 60445: green-and-yellow is the protective conductor's; a user's own choice of it is kept."""
    wires = tuple(ColouredWire(f"return {n}", ONE, (0,), (), "earth") for n in range(3))
    found = bases(coloured(Question(wires, (reel(("GNYE", "BU")),))))
    assert set(found.values()) == {"BU"}
    with pytest.raises(NoColour, match=r"no reel has a colour for 'return 0', 1 mm2"):
        coloured(Question(wires, (reel(("GNYE",)),)))
    settled = replace(wires[0], fixed=Colour(base="GNYE"))
    assert bases(coloured(Question((settled,), (reel(("BU",)),)))) == {"return 0": "GNYE"}


def test_a_size_without_a_reel_has_no_colour() -> None:
    """A wire of a size that the shop has not can't be coloured; a reel without colours has all that are sold."""
    thick = (ColouredWire("fan", parse_size("4 mm2"), (0,), ()),)
    with pytest.raises(NoColour, match="4 mm2"):
        coloured(Question(thick, (reel(("RD",)),)))
    plain = Question(thick, (Reel.model_validate({"size": "4 mm2"}),))
    assert plain.choices(thick[0]) == Question(thick).choices(thick[0])


ANYWHERE = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK"]
"""Colours in which wire can be bought anywhere: common practice, no source."""


def test_what_can_be_bought_is_proposed() -> None:
    """Eleven colours, and each but black with one stripe that is seen on it; gold and its like only off a reel."""
    wire = ColouredWire("horn", ONE, (0,), ())
    offered = Question((wire,)).choices(wire)
    assert [colour.base for colour in offered if colour.stripe is None] == ANYWHERE
    assert [colour.base for colour in offered if colour.stripe is not None] == ANYWHERE[1:]
    assert {colour.stripe for colour in offered} == {None, "BK", "WH"}
    assert not any(alike(one, other) for one, other in combinations(offered, 2))
    gold = (reel(("GD", "TQ", "SR")),)
    assert [colour.base for colour in Question((wire,), gold).choices(wire)] == ["GD", "TQ", "SR"]


@pytest.mark.parametrize(("wires", "striped"), [(11, 0), (12, 1), (21, 10), (22, 10)])
def test_a_stripe_only_where_solid_colours_run_out(wires: int, striped: int) -> None:
    """Wires in one leg: eleven solid colours, then ten with a stripe, then the first two that look alike."""
    found = coloured(Question(in_one_leg(wires, ()).wires))
    assert found.proven
    assert found.measure.striped == striped
    assert found.measure.in_legs == (2 if wires > 21 else 0)


def test_wires_far_apart_repeat_before_one_has_a_stripe() -> None:
    """Each reel more costs the shop: thirty wires, each in a leg of its own, come from eleven reels."""
    found = coloured(Question(tuple(ColouredWire(f"wire {n}", ONE, (n,), ()) for n in range(30))))
    assert found.proven
    assert (found.measure.striped, found.measure.in_legs) == (0, 0)
    assert found.measure.repeated == 8 * comb(3, 2) + 3 * comb(2, 2)  # 8 colours thrice, 3 twice


def test_a_fixed_stripe_is_kept() -> None:
    """A fixed stripe is kept and tells its wire apart from others of its base."""
    striped = ColouredWire("horn", ONE, (0,), (), "other", Colour(base="BU", stripe="WH"))
    found = coloured(Question((striped, *in_one_leg(2, ()).wires), (reel(("BU", "RD")),)))
    assert dict(found.colours)["horn"] == Colour(base="BU", stripe="WH")
    assert found.measure.in_legs == 0


def test_fixed_wires_that_look_alike_are_told() -> None:
    """What the user has fixed alike is kept, counted and named."""
    both = [ColouredWire(key, ONE, (3,), (), "other", Colour(base=base)) for key, base in (("a", "GY"), ("b", "SR"))]
    question = Question((*both, ColouredWire("c", ONE, (3,), ())), (reel(("BU",)),))
    found = coloured(question)
    assert (found.measure.in_legs, found.proven) == (2, True)
    told = [
        (group.kind, group.place, [wire.key for wire in group.wires])
        for group in repeats(question, dict(found.colours))
    ]
    assert told == [("leg", 3, ["a", "b"])]


def test_the_count_refuses_what_the_shop_has_not() -> None:
    """A wire without a colour, or with one that its reel has not, is no answer."""
    question = in_one_leg(2, ("RD", "BU"))
    red = Colour(base="RD")
    assert measured(question, {"wire 0": red, "wire 1": red}).in_legs == 2
    for wrong in ({"wire 0": red}, {"wire 0": red, "wire 1": Colour(base="WH")}):
        with pytest.raises(InvalidColouring, match="wire 1"):
            measured(question, wrong)


def test_no_wires_need_no_colours() -> None:
    """Nothing to colour is proved best at nought."""
    assert coloured(Question(())) == Colouring(
        (), ColourMeasure(0, 0, 0, 0, 0, 0, 0, 0), ColourMeasure(0, 0, 0, 0, 0, 0, 0, 0)
    )


def crowded(seed: int, wires: int) -> Question:
    """Return wires of three sizes over twelve legs in a row, each sixth of them earth."""
    dice = random.Random(seed)
    sizes = [parse_size(size) for size in ("0.75 mm2", "1 mm2", "2.5 mm2")]
    spans = [sorted(dice.sample(range(13), 2)) for _ in range(wires)]
    return Question(
        tuple(
            ColouredWire(f"wire {n}", dice.choice(sizes), tuple(range(*span)), (), "earth" if n % 6 == 0 else "other")
            for n, span in enumerate(spans)
        ),
        tuple(reel((*TELLABLE, "GY"), size.label) for size in sizes),
    )


def test_sixty_wires_are_proved() -> None:
    """Sixty wires over twelve legs with twelve colours: the repeats in the legs are proved, not only found."""
    found = coloured(crowded(1, 60))
    assert found.measure.counts[:4] == found.bound.counts[:4]
    assert found.measure.in_legs > 0


def test_a_limit_says_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without effort or without time nothing is proved but what is nought; the colours stand, and so does the bound."""
    question = crowded(2, 24)
    best = coloured(question)
    short = coloured(question, seconds=0)
    monkeypatch.setattr(colouring, "EFFORT", 0.0)
    for found in (short, coloured(question)):
        assert not found.proven
        assert found.bound <= best.measure <= found.measure
        assert found.measure == measured(question, dict(found.colours))
