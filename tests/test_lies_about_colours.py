"""No lie of the solver becomes a claim about colours: they are the best, or withdrawn, or said not to be proved twice.

What is best is known by every choice, counted on a networkx graph. No outside source for the lies: each is what a wrong
status, value, bound or answer of a solver would be, told at each of its solves in turn.
"""

import random
from itertools import combinations
from math import comb

import networkx as nx
import pytest

from colour_twin import by_graph, every_choice, graph_of, random_question
from liar import LIES, Lie, lying
from outcomes import EXAMPLES
from portloom.base.wire_colours import alike
from portloom.colours.crowding import least_alike
from portloom.colours.question import Question
from portloom.documents.wiring.colours import colour_notes
from portloom.inputs.files import read_bike
from portloom.search import colouring
from portloom.search.colouring import coloured
from portloom.search.solving import Disagreement
from slices import each_seed, on_seeds
from test_colouring import crowded


def question_of(seed: int) -> Question:
    """Return a few made-up wires that have fewer colours than they need."""
    return random_question(random.Random(seed), 6, 2)


def no_lie_is_told(question: Question, lie: Lie) -> int:
    """Lie at each solve in turn; return how often it was a lie. Fails where one becomes a claim."""
    graph = graph_of(question)
    best = min(by_graph(graph, choice) for choice in every_choice(question))
    with lying(lie, None) as told:
        assert coloured(question).measure.counts == best
    lies = 0
    for at in range(told.solves):
        with lying(lie, at) as now:
            try:
                answer = coloured(question)
            except Disagreement:
                answer = None
        lies += now.lied
        if answer is not None:
            assert answer.bound.counts <= best <= answer.measure.counts, (lie, at)
            assert not answer.proven or answer.measure.counts == best, (lie, at)
    return lies


@on_seeds(range(2), range(2, 40))
@pytest.mark.parametrize("lie", LIES)
def test_no_lie_becomes_a_claim(lie: Lie, seeds: range) -> None:
    """Of random wires on a line of legs."""
    assert sum(no_lie_is_told(question_of(seed), lie) for seed in seeds)


@pytest.mark.long
def test_what_is_proved_once_is_said_to_be(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no effort left for second proofs only what was counted without a search is proved; the colours stay."""
    questions = [crowded(seed, 18) for seed in range(6)]
    best = [coloured(question) for question in questions]
    assert all(found.proven and not found.once for found in best)
    monkeypatch.setattr(colouring.ColourModel, "proved_again", lambda *_: False)
    once = [coloured(question) for question in questions]
    assert [(found.colours, found.measure) for found in once] == [(found.colours, found.measure) for found in best]
    assert all(found.once != found.proven for found in once)
    assert any(found.once for found in once)
    legs = read_bike(EXAMPLES / "dressed-tourer.yaml").frame.legs
    for question, found in zip(questions, once, strict=True):
        proof = "not proved twice to be best: the search ran out of effort first" if found.once else "proved best"
        assert proof in colour_notes(question, found, legs)[0]


@each_seed(range(12), range(12, 60))
def test_no_choice_has_fewer_alike_than_is_counted(seed: int) -> None:
    """Of every choice of colours none has fewer pairs alike than is counted without a search."""
    question = random_question(random.Random(seed), 5, 3)
    graph = graph_of(question)
    counts = [by_graph(graph, choice) for choice in every_choice(question)]
    assert least_alike(question, "connector", earths_apart=False) <= min(count[2] for count in counts)
    assert least_alike(question, "leg", earths_apart=False) <= min(count[3] for count in counts)
    apart = [count for count in counts if count[1] == 0]
    if apart:
        assert least_alike(question, "connector", earths_apart=True) <= min(count[2] for count in apart)
        assert least_alike(question, "leg", earths_apart=True) <= min(count[3] for count in apart)


@pytest.mark.parametrize("seed", range(4))
def test_what_is_counted_in_a_leg_is_what_turan_says(seed: int) -> None:
    """As many pairs as the edges that Turan's graph lacks, for as many colours as a largest clique has (networkx)."""
    question = crowded(seed, 30)
    total = 0
    for group in question.groups:
        others = [wire for wire in group.wires if wire.kind != "earth"]
        sizes = dict.fromkeys(wire.size for wire in others)
        for part in (others, *([wire for wire in others if wire.size == size] for size in sizes)):
            told = nx.Graph()
            told.add_nodes_from(colour for wire in part for colour in question.choices(wire))
            told.add_edges_from((a, b) for a, b in combinations(told, 2) if not alike(a, b))
            most = max(map(len, nx.find_cliques(told)), default=0)
            if most:
                turan = nx.turan_graph(len(part), min(len(part), most)).number_of_edges()
                total += comb(len(part), 2) - turan
    assert least_alike(question, "leg", earths_apart=False) == total
