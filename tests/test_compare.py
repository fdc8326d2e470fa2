"""Comparing units: the figures are those of the plans, the reasons hold, and the order is as promised.

Bikes and units are made up. What counts as beaten is tried again by brute force over random rows.
"""

import pickle

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import portloom
from oracle.random_bikes import random_case
from outcomes import EXAMPLES, PROFILES
from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.unit import Unit
from portloom.comparing.buying import to_buy
from portloom.comparing.prepared import PreparedBike
from portloom.comparing.ranking import BY, beaten_by, ranked
from portloom.comparing.reason import UNTOLD, short_reason
from portloom.comparing.row import Fit, FitUnknown, NoFit, OnOne, Reason, Row, RowAnswer, ThinMargin
from portloom.comparing.tables import Trial, compared, singles
from portloom.documents.document import Plan
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.inputs.files import read_unit, unit_from_text
from portloom.job.kinds import port_names
from portloom.planning.plan import NothingFits, Planned
from portloom.report.text.buying import what_to_buy
from slices import each_seed, first_of, of_trials, third_of
from unasked import bike_from_text, read_bike

HARBOUR = read_bike(EXAMPLES / "harbour-trail.yaml")
SINGLE = read_bike(EXAMPLES / "bare-single.yaml")
SIX, EIGHT, ELEVEN, FOURTEEN = (
    read_unit(PROFILES / f"{name}-way.yaml") for name in ("six", "eight", "eleven", "fourteen")
)


def _figures(plan: Plan, unit: Unit) -> tuple[object, ...]:
    read = {line.port for line in plan.inputs} | {box.port for box in plan.multiplexers}
    used = {line.port for line in plan.outputs} | read
    left = [name for name in (*port_names(unit, "outputs"), *port_names(unit, "inputs")) if name not in used]
    costs = plan.cost, plan.wire_run, plan.spare_port_loss, plan.copper_mg, plan.only.place, plan.only.turned
    return *costs, left, plan.no_room_for, plan.only.feed.worst, plan.only.feed.limit, plan.only.feed.worst_case


@first_of(("bike", "unit"), [(SINGLE, SIX), (HARBOUR, ELEVEN), (HARBOUR, FOURTEEN)], 1)
def test_figures_are_those_of_the_plan(bike: Bike, unit: Unit) -> None:
    """A row has the very figures of the plan that ``portloom.plan`` gives, whatever was tried on the bench before."""
    bench_warm = portloom.compare([bike], [EIGHT, unit]).bikes[0].of_unit(unit.unit)
    answer = portloom.plan(bike, unit)
    assert isinstance(answer, Planned)
    fit = bench_warm.fit
    assert fit is not None
    left = [*fit.outputs_left, *fit.inputs_left]
    costs = fit.cost, fit.wire_run, fit.spare_port_loss, fit.copper_mg, fit.place, fit.turned
    assert (*costs, left, fit.no_room_for, fit.worst, fit.limit, fit.worst_case) == _figures(answer.plan, unit)
    assert [line.load for line in answer.plan.room_for] == list(fit.room_for)


@third_of("family", ["plain", "banks", "sharing", "later", "faults", "safety"], 0)
@each_seed([1002], range(9100, 9104))
def test_random_bikes(family: str, seed: int) -> None:
    """On random bikes a row says what the plan says, and a reason alone leaves no plan: that is proved by solving."""
    bike_text, unit_text = random_case(seed, family)
    bike, unit = bike_from_text(bike_text, "bike"), unit_from_text(unit_text, "unit")
    row, answer = portloom.compare([bike], [unit]).bikes[0].rows[0].row, portloom.plan(bike, unit)
    if isinstance(answer, Planned):
        assert row.fit is not None
        assert (row.fit.cost, row.fit.place, row.fit.copper_mg) == (
            answer.plan.cost, answer.plan.only.place, answer.plan.copper_mg,
        )  # fmt: skip
    else:
        assert isinstance(answer, NothingFits)
        assert isinstance(row.answer, NoFit)
        assert _leaves_no_plan(bike, unit, row.answer.reason)


THINGS = ("load", "switch", "outputs", "inputs", "current", "inrush")


def _leaves_no_plan(bike: Bike, unit: Unit, reason: Reason) -> bool:
    """Keep the loads with their currents, the ports, and what the named rules judge by; ask for a plan."""
    on = PreparedBike(bike).on(unit)
    instance = Instance(on.job, on.rules)
    named = reason.rules or tuple(rule.slug for rule in on.rules)
    kept = [key for key, fact in instance.facts.items() if fact.rule in named or key[0] in THINGS]
    return not Questions(instance, Clock(None)).has_plan(kept)


ANOTHER = "take a unit that has it"
SHARE = "of them shared ('share') or past the unit ('fed: relay', 'fed: fuse')"
REASONS = (
    (
        "harbour-trail", "six-way",
        "no output takes fuel pump: it must be driven in mode 'engine-run', out 1 to out 6 lack that mode (rule mode)",
        ANOTHER,
    ),
    (
        "harbour-trail", "eight-way", "seven loads can only go on six outputs, out 1, out 2 and out 5 to out 8",
        f"one {SHARE}",
    ),
    (
        "market-parallel", "eight-way",
        "no output takes fan: it is on in the run-on, out 1, out 2, out 7 and out 8 are never live with the key off; "
        "it kicks back when switched off, out 3 to out 6 can't take that without a suppressor (rules key-off and "
        "inductive)",
        "fit a diode or a suppressor at fan, say 'suppressed: true'",
    ),
    (
        "market-parallel", "sixteen-way",
        "no input takes engine speed signal: it gives a signal of kind 'pulse', in 1 to in 12 and in 14 do not read "
        "that; engine speed signal pulses at 1000 Hz, in 13 counts up to 500 Hz (rule signal)",
        ANOTHER,
    ),
    ("sidecar-hauler", "fourteen-way", None, "say 'fed: fuse'"),
    (
        "winter-trail", "eleven-way",
        "13 loads need an output of their own; the eleven-way has eleven, out 1 to out 11",
        f"two {SHARE}",
    ),
    (
        "winter-trail", "fourteen-way",
        "three loads, heated grips, heated seat and vest socket, need a dimming output; the fourteen-way has two, "
        "out 12 and out 13",
        f"dim: say 'mode: steady' to do without it, or one {SHARE}",
    ),
)  # fmt: skip


@pytest.mark.parametrize(("bike", "unit", "sentence", "helps"), REASONS)
def test_shortest_reason(bike: str, unit: str, sentence: str | None, helps: str) -> None:
    """What is in the way is told with its mode and its limit, and what may help; the examples are of several kinds."""
    on = PreparedBike(read_bike(EXAMPLES / f"{bike}.yaml")).on(read_unit(PROFILES / f"{unit}.yaml"))
    reason = short_reason(on)
    assert reason is not None
    assert sentence in (None, reason.sentence)
    assert reason.said == f"{reason.sentence}; may help: {helps}"


def test_an_indicator_that_nobody_called_one() -> None:
    """A load that flashes and has no part is no indicator to any rule: that is what helps, in the file's words."""
    words = BARE.format("{name: front left, at: bars, power: 10 W, kind: filament, mode: flash}")
    on = PreparedBike(bike_from_text(words, "bike")).on(PLAIN)
    reason = short_reason(on)
    assert reason is not None
    assert reason.said == (
        "no output takes front left: it must flash, out 1 does not flash (rule mode); may help: flash: say 'part: left "
        "indicator', or which lamp it is"
    )


BARE = (
    "bike: B\nsupply: {{running: 14 V, battery: {{capacity: 10 Ah, at: bars}}}}\nignition: own\n"
    "frame: {{legs: [{{between: [bars, tail], length: 1 m}}], earth: [bars]}}\nplaces: [{{name: seat, front: bars}}]\n"
    "loads: [{}]\n"
)
PLAIN = unit_from_text(
    "unit: plain\nfeed: {limit: 20 A}\noutputs: [{name: out 1, limit: 10 A, inductive: true}]\n"
    "inputs: [{name: in 1, accepts: [earth]}]\n",
    "unit",
)


def test_where_there_are_ports_enough_a_sum_is_told() -> None:
    """The Harbour Trail draws more than 12 A by day, which is what a main fuse of 15 A carries for good (15 / 1.25)."""
    small = ELEVEN.model_copy(update={"feed": ELEVEN.feed.model_copy(update={"fuse_max": MilliAmps(15_000)})})
    reason = short_reason(PreparedBike(HARBOUR).on(small))
    assert reason is not None
    assert reason.sentence.endswith("together, the largest main fuse that the unit takes carries 12 A continuously")


def test_where_no_cheap_test_tells_a_conflict_does() -> None:
    """A bike that lacks what a rule asks for is no crowd and no overload: the search says what is in the way."""
    data = HARBOUR.model_copy(update={"inputs": tuple(s for s in HARBOUR.inputs if s.name != "rear brake switch")})
    assert short_reason(PreparedBike(data).on(ELEVEN)) is None
    answer = portloom.compare([data], [ELEVEN]).bikes[0].rows[0].row.answer
    assert isinstance(answer, NoFit)
    assert answer.reason.said == (
        "Brake lamp must light with both brakes, and no input tells the unit 'rear brake'; may help: a switch or "
        "sensor that 'tells: [rear brake]'"
    )


# --- what to buy


def _priced(unit: Unit, price: str | None) -> Unit:
    return unit.model_copy(update={"price": price})


def _first_line(bikes: list[Bike], units: list[Unit], **more: float) -> str:
    return what_to_buy(to_buy(portloom.compare(bikes, units, **more)))  # type: ignore[arg-type]  # limits alone


THREE = [HARBOUR, SINGLE, read_bike(EXAMPLES / "dressed-tourer.yaml")]
MARKET = read_bike(EXAMPLES / "market-parallel.yaml")


def test_which_to_buy() -> None:
    """The first line names the cheapest that takes it or every bike, and what a cheaper one gets to."""
    assert _first_line([SINGLE], [FOURTEEN, SIX]) == "Cheapest that takes it: six-way, 130."
    assert (
        _first_line([HARBOUR], [ELEVEN, SIX]) == "Cheapest that takes it: eleven-way, 240; the six-way at 130 does not."
    )
    assert _first_line([SINGLE, HARBOUR], [ELEVEN, SIX]) == (
        "Cheapest that takes both: eleven-way, 240; the six-way at 130 takes one."
    )
    assert _first_line([SINGLE, HARBOUR], [SIX]) == (
        "The six-way does not take both, proved; the six-way at 130 takes one."
    )


@pytest.mark.long
def test_which_to_buy_for_many() -> None:
    """So it does for three bikes, and where nothing takes them all."""
    units = [FOURTEEN, ELEVEN, SIX]
    assert _first_line([HARBOUR, SINGLE, MARKET], units) == (
        "Cheapest that takes all three: fourteen-way, 335; the eleven-way at 240 takes two."
    )
    assert _first_line(THREE, units) == "Cheapest that takes all three: eleven-way, 240; the six-way at 130 takes one."
    assert _first_line([HARBOUR, MARKET], [SIX, EIGHT]) == (
        "None of the 2 tried takes both, proved; the six-way at 130 takes none."
    )


def test_what_is_set_aside_comes_first_in_the_same_sentence() -> None:
    """A rule that no plan keeps is named before the unit that is bought on the strength of it; many are counted."""
    buy = to_buy(portloom.compare([SINGLE], [SIX]))
    assert what_to_buy(buy, ["opening"]) == "With rule opening set aside, the six-way takes it, 130."
    assert what_to_buy(buy, ["drop", "drop", "start"]).startswith("With rules drop and start set aside, the six-way")
    assert what_to_buy(buy, ["drop", "start", "run"]).startswith("With three rules set aside (see below), the six-way")


def test_money_decides_and_not_wire() -> None:
    """What is dearer in wire and cheaper in money is the cheapest; with no price for one, wire and spare ports tell."""
    dear = [_priced(ELEVEN, "900"), _priced(FOURTEEN, "899.5")]
    assert _first_line([SINGLE], dear) == "Cheapest that takes it: fourteen-way, 899.5."
    assert portloom.compare([SINGLE], dear).by == "price"
    some = [_priced(ELEVEN, None), FOURTEEN]
    comparison = portloom.compare([SINGLE], some)
    assert comparison.by == "cost"
    best = comparison.bikes[0].rows[0].row
    assert best.fit is not None
    assert what_to_buy(to_buy(comparison)) == (
        f"Least wire and spare ports of all that take it: {best.unit}, {best.fit.cost / 1_000_000:.3f} m (eleven-way "
        "has no price)."
    )


def test_what_is_not_known_is_no_refusal() -> None:
    """With no time, nothing is called too small, and nothing the cheapest of all."""
    assert _first_line([HARBOUR], [ELEVEN, SIX], time_limit=0.0) == (
        "None of the 2 tried is known to take the bike; it is not known of the eleven-way at 240: the time limit was "
        "reached."
    )


# --- order, and what is beaten

NAMES = st.sampled_from(("grips", "lamps", "socket"))
FEW = st.integers(0, 2)


def _second(outputs: int, inputs: int, worst: int) -> OnOne:
    """Return what is the second unit's own, where there are two."""
    left = {"outputs_left": ("out",) * outputs, "inputs_left": ("in",) * inputs}
    return OnOne("tail", turned=False, **left, worst=MilliAmps(worst), worst_case="day", limit=MilliAmps(3))


@st.composite
def fits(draw: st.DrawFn) -> RowAnswer:
    """Draw a plan's figures, few of each so that many are equal; its loss is what is left of the cost."""
    run, loss = draw(FEW), draw(FEW)
    names = tuple(sorted(draw(st.sets(NAMES))))
    thin = ThinMargin("trip", "horn", "the horn", draw(st.integers(900, 902)))
    second = draw(st.one_of(st.none(), st.builds(_second, FEW, FEW, FEW)))
    return Fit(
        status="planned",
        proven=draw(st.sampled_from((True, True, False))),
        place=draw(st.sampled_from(("seat", "box"))),
        turned=draw(st.booleans()),
        cost=Micrometres(run + loss),
        wire_run=Micrometres(run),
        spare_port_loss=Micrometres(loss),
        copper_mg=draw(FEW),
        outputs_left=("out",) * draw(FEW),
        inputs_left=("in",) * draw(FEW),
        room_for=names,
        no_room_for=tuple(name for name in ("grips", "lamps", "socket") if name not in names),
        worst=MilliAmps(draw(FEW)),
        worst_case="day",
        limit=MilliAmps(3),
        thin=(thin,) * draw(FEW),
        second=second,
    )


ANSWERS = st.one_of(
    fits(), fits(), fits(), st.just(NoFit("no plan", UNTOLD)), st.just(FitUnknown("unknown", Micrometres(0)))
)
PRICES = st.one_of(st.none(), st.sampled_from(("9", "10", "10.5")))


@st.composite
def tables(draw: st.DrawFn) -> list[Row]:
    """Draw the rows of one bike."""
    answers = draw(st.lists(ANSWERS, min_size=1, max_size=6))
    return [Row("bike", f"unit {number}", draw(PRICES), answer) for number, answer in enumerate(answers)]


def _respects(row: Row, fit: Fit) -> dict[str, float]:
    """Return each respect as people would say it, the larger the better."""
    return {
        "less cost": -fit.cost,
        "less wire": -fit.wire_run,
        "less copper": -fit.copper_mg,
        "more outputs": sum(len(unit.outputs_left) for unit in fit.units),
        "more inputs": sum(len(unit.inputs_left) for unit in fit.units),
        "more of the feeds": sum(unit.limit - unit.worst for unit in fit.units),
        "more of one feed": max(unit.limit - unit.worst for unit in fit.units),
        "fewer thin margins": -len(fit.thin),
        **{f"room for {name}": float(name in fit.room_for) for name in ("grips", "lamps", "socket")},
        **({} if row.price is None else {"less to pay": -float(row.price)}),
    }


def _really_beaten(row: Row, rows: list[Row]) -> tuple[str, ...]:
    if not row.fit or not row.fit.proven:
        return ()
    mine, beating = _respects(row, row.fit), []
    for other in rows:
        its = _respects(other, other.fit) if other.fit else {}
        both = [(its[what], mine[what]) for what in its if what in mine]
        if both and min(a - b for a, b in both) >= 0 and max(a - b for a, b in both) > 0:
            beating.append(other.unit)
    return tuple(beating)


@of_trials(40, 300)
def test_beaten_against_brute_force(count: int) -> None:
    """Beaten is a unit if another is as good in each respect that both have, and better in one; nothing else is."""

    @given(tables())
    @settings(max_examples=count, deadline=None)
    def judge(rows: list[Row]) -> None:
        assert [beaten_by(row, rows) for row in rows] == [_really_beaten(row, rows) for row in rows]

    judge()


@of_trials(40, 200)
def test_order(count: int) -> None:
    """What fits comes first, then what is not known, then what does not fit; ties keep the order of the call."""

    @given(tables(), st.sampled_from(tuple(BY)))
    @settings(max_examples=count, deadline=None)
    def judge(rows: list[Row], by: str) -> None:
        order = ranked(rows, by)
        assert sorted(row.unit for row in order) == [row.unit for row in rows]
        groups = [0 if row.fit else 1 if isinstance(row.answer, FitUnknown) else 2 for row in order]
        assert groups == sorted(groups)
        assert ranked(order, by) == order
        fitting = [(row, row.fit) for row in order if row.fit]
        assert [BY[by](row, fit) for row, fit in fitting] == sorted(BY[by](row, fit) for row, fit in fitting)

    judge()


@of_trials(30, 100)
def test_cheapest_first(count: int) -> None:
    """Ranked by price, those without one come after those that have one, whatever that is."""

    @given(tables())
    @settings(max_examples=count, deadline=None)
    def judge(rows: list[Row]) -> None:
        prices = [row.price for row in ranked(rows, "price") if row.fit]
        known = [float(price) for price in prices if price is not None]
        assert prices[len(known) :] == [None] * (len(prices) - len(known))
        assert known == sorted(known)

    judge()


# --- several bikes


def test_units_that_fit_every_bike() -> None:
    """A unit fits every bike if it fits each; it may, where that is not known of some and refused of none."""
    fit = FitUnknown("unknown", Micrometres(0)), NoFit("no plan", UNTOLD)
    good = portloom.compare([SINGLE], [SIX]).bikes[0].rows[0].row.answer
    answers = {(0, 0): good, (1, 0): good, (0, 1): good, (1, 1): fit[0], (0, 2): good, (1, 2): fit[1]}
    units = [unit.model_copy(update={"unit": name}) for unit, name in ((SIX, "a"), (SIX, "b"), (SIX, "c"))]
    rows: dict[Trial, Row] = {
        (bike, (unit,)): Row("bike", "abc"[unit], None, answer) for (bike, unit), answer in answers.items()
    }
    both = compared([SINGLE, SINGLE], units, singles(3), rows, "cost")
    assert both.fit_every_bike == ("a",)
    assert both.may_fit_every_bike == ("a", "b")


@first_of(("bikes", "units"), [([SINGLE], [SIX, EIGHT]), ([SINGLE, HARBOUR], [SIX, EIGHT, ELEVEN])], 1)
def test_processes_change_nothing(bikes: list[Bike], units: list[Unit]) -> None:
    """Two processes give what one gives; what they are sent and send back is the same after pickling."""
    alone, two = (portloom.compare(bikes, units, processes=count) for count in (1, 2))
    assert alone == two
    assert pickle.loads(pickle.dumps((bikes, units))) == (bikes, units)  # noqa: S301 - our own


def test_wrong_calls_of_the_library_are_refused() -> None:
    """Units that could not be told apart, and a column that there is not, are refused before anything is solved."""
    with pytest.raises(ValueError, match="two units have the same name"):
        portloom.compare([SINGLE], [SIX, SIX])
    with pytest.raises(ValueError, match="there is no column 'colour' to rank by"):
        portloom.compare([SINGLE], [SIX], by="colour")


def test_no_two_columns_to_rank_by_are_one_name() -> None:
    """However its words are joined, and in small letters or great."""
    assert len({name.replace("-", " ").replace("_", " ").casefold() for name in BY}) == len(BY)
