"""Circuits laid from a port: their wire, its trip, its size, and what reaches each load."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from functools import cached_property

from portloom.base.copper import Conductor
from portloom.base.drop import NO_MATTER, MicroVolts, greatest_resistance, resistance_drop, wire_drop
from portloom.base.fuses import peak_of, trip_for, trip_values
from portloom.base.quantities import MicroOhms, MilliAmps
from portloom.base.short_circuit import tripping_time, withstands
from portloom.base.sizes import WireSize
from portloom.base.unit import Output
from portloom.job.cases import Case
from portloom.job.circuit_wires import CircuitWires
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer, Return
from portloom.job.flow import Draws
from portloom.job.job import Job
from portloom.job.losses import Losses
from portloom.job.network import NOWHERE, Run, Trees
from portloom.job.routed import PathTo, RoutedTree, circuit_paths, flows, routed_tree
from portloom.job.site import Site
from portloom.job.standing import Staying


class OutputWire:
    """A circuit's wire from an output, wherever the feed comes from: what hangs on neither main fuse nor site."""

    def __init__(
        self,
        job: Job,
        tree: RoutedTree,
        output: Output,
        trip: MilliAmps | None = None,
        stock: Sequence[Conductor] | None = None,
        staying: Staying | None = None,
    ) -> None:
        """Take the wire as laid, and the output (any of its kind).

        ``trip`` is what the output is set to, else it is worked out; ``stock`` is what the wire may be made of, else
        any reel of the shop; ``staying`` says which part of it is built and stays.
        """
        self.staying = staying
        self.tree = tree
        self.output = output
        self._job = job
        self._set = trip
        self.stock = job.reels if stock is None else stock
        self._standing: Sequence[Conductor] | None = None
        self._spared: dict[str, bool] = {}
        """Whether a size stands the output's whole peak, by its label, as far as it was asked."""
        self.stands_short: dict[str, bool] = {}
        """Whether a size stands a short at every load, by its label, as far as it was asked."""

    @cached_property
    def trip(self) -> MilliAmps:
        """What the output's electronic fuse is set to; its largest value where none is right."""
        if self._set is not None:
            return self._set
        right = trip_for(self.output, self.tree.circuit.current, self.tree.circuit.inrush)
        return right if right is not None else max(trip_values(self.output), default=self.output.limit)

    @cached_property
    def flows(self) -> dict[int, tuple[MilliAmps, ...]]:
        """What flows in each of its wires in a leg, by the leg's number."""
        return flows(self._job.network, self.tree)

    @cached_property
    def reels(self) -> Sequence[Conductor]:
        """The reels that the trip protects in every leg and the terminal takes, thin to thick."""
        hot = self._job.hot_legs(self.tree.run)
        return [
            reel
            for reel in self.stock
            if self._is_protected(reel) and all(self._job.carries(reel, number, 1, self.trip) for number in hot)
        ]

    def standing(self, which: Callable[[], Sequence[Conductor]]) -> Sequence[Conductor]:
        """Return those of its reels that stand a short circuit, which is asked once: no main fuse has a say in it."""
        if self._standing is None:
            self._standing = which()
        return self._standing

    @property
    def any_reel(self) -> bool:
        """Whether the trip protects any reel that the terminal takes, where the wire lies in no hot leg."""
        return any(self._is_protected(reel) for reel in reversed(self.stock))

    def _is_protected(self, reel: Conductor) -> bool:
        terminal = self.output.wire_max
        return reel.ampacity >= self.trip and (terminal is None or reel.size.area <= terminal.area)

    def peak_spares(self, thinnest: WireSize) -> bool:
        """Tell whether a wire stands the output's whole peak, more than any short; a curve may take longer for less."""
        if thinnest.label not in self._spared:
            seconds = self._job.assume["trip time"] / 1_000_000
            stands = not self.output.trip_curve and withstands(thinnest, peak_of(self.output) / 1000, seconds)
            self._spared[thinnest.label] = stands
        return self._spared[thinnest.label]

    @cached_property
    def lost_beside(self) -> dict[str, int]:
        """What each load loses in output and plug, and in connectors and splices of the run, in nanovolts."""
        assume = self._job.assume
        at_unit = (self.output.resistance + assume["unit plug"]) * self.tree.circuit.current
        return {
            name: at_unit + assume["connector"] * path.through_connectors + assume["splice"] * path.through_splices
            for name, path in self.tree.paths.items()
        }


class WiredOutput:
    """A circuit on an output: what a rule needs to know to judge it."""

    def __init__(self, site: Site, losses: Losses, wire: OutputWire, conductor: Conductor | None = None) -> None:
        """Take the circuit's wire from its output.

        ``conductor`` is its size once all that lies beside it is known; until then it is the thinnest.
        """
        self.site = site
        self.losses = losses
        self.wire = wire
        self.tree = wire.tree
        self.circuit = wire.tree.circuit
        self.run = wire.tree.run
        self.output = wire.output
        self._conductor = conductor

    def fed_at(self, site: Site, losses: Losses) -> "WiredOutput":
        """Return the same circuit with another main fuse or feed: what hangs on neither is not worked out again."""
        return WiredOutput(site, losses, self.wire)

    def laid_again(self, site: Site, losses: Losses, circuit: OutputCircuit, output: Output) -> "WiredOutput":
        """Return a circuit along the same way from an output like it, as far built as this one is."""
        tree = routed_tree(site, circuit, self.run, site.face(output.face))
        stock = self.wire.stock if self.stays else None
        return WiredOutput(site, losses, OutputWire(site.job, tree, output, stock=stock, staying=self.wire.staying))

    def sized(self, conductor: Conductor) -> "WiredOutput":
        """Return the same circuit with a wire of another size."""
        return WiredOutput(self.site, self.losses, self.wire, conductor)

    @property
    def trip(self) -> MilliAmps:
        """What the output's electronic fuse is set to; its largest value where none is right."""
        return self.wire.trip

    @property
    def flows(self) -> dict[int, tuple[MilliAmps, ...]]:
        """What flows in each of its wires in a leg, by the leg's number."""
        return self.wire.flows

    @property
    def legs(self) -> tuple[int, ...]:
        """The numbers of the legs in which its wires lie, sorted; one where two lie is there twice."""
        return self.tree.wires.legs

    @property
    def stays(self) -> bool:
        """Whether its wire is a built one, with what branches off it."""
        return self.wire.staying is not None

    @property
    def new_run(self) -> Run:
        """What is laid anew of its tree: all of it, or what branches off a built wire."""
        return self.run if self.wire.staying is None else self.wire.staying.new

    @property
    def new_legs(self) -> tuple[int, ...]:
        """The same of all its wires; a leg in which two new ones lie is there twice."""
        if self.wire.staying is None:
            return self.legs
        left = Counter(self.legs) - Counter(self.wire.staying.old_legs)
        return tuple(sorted(left.elements()))

    @property
    def reels(self) -> Sequence[Conductor]:
        """The reels that the trip protects in every leg and the terminal takes, thin to thick."""
        return self.wire.reels

    @property
    def _placed(self) -> Iterator[Consumer]:
        """The loads to which its wires are known to lead."""
        return (load for load in self.circuit.loads if load.name in self.tree.paths)

    @cached_property
    def serving(self) -> Sequence[Conductor]:
        """The reels that also keep every drop and stand a short circuit, thin to thick."""
        greatest = min((self._greatest_to(load) for load in self._placed), default=NO_MATTER)
        return [reel for reel in self.wire.standing(self._which_stand) if reel.resistance <= greatest]

    def _which_stand(self) -> Sequence[Conductor]:
        """Return the reels that stand a short: where the first stands the whole peak, each thicker one does, too."""
        reels = self.reels
        if reels and self._withstands_peak(reels[0]):
            return reels
        return [reel for reel in reels if self.withstands(reel)]

    @property
    def conductor(self) -> Conductor | None:
        """Its wire: the thinnest that serves, or thicker once all that lies beside it is known."""
        return self._conductor or next(iter(self.serving), None)

    @property
    def drawn(self) -> Conductor:
        """Its wire, or the thickest that could be tried where none is right; for print-outs and sums."""
        return self.conductor or (self.reels or self.site.job.reels)[-1]

    def _greatest_to(self, load: Consumer) -> int:
        """Return the greatest resistance at 20 C that a load allows the run."""
        moment = self.tree.paths[load.name].moment
        return greatest_resistance(self.losses.allowed_to(load), self.wire.lost_beside[load.name], moment)

    def withstands(self, conductor: Conductor) -> bool:
        """Tell whether a short at any load trips before run or tails are too hot, whatever feed and main fuse are."""
        known = self.wire.stands_short
        if conductor.size.label not in known:
            known[conductor.size.label] = self._withstands_peak(conductor) or all(
                withstands(min(conductor.size, load.leads or conductor.size), *self.fault(load, conductor))
                for load in self.circuit.shorts
            )
        return known[conductor.size.label]

    def _withstands_peak(self, conductor: Conductor) -> bool:
        tails = self.circuit.tails
        return self.wire.peak_spares(conductor.size if tails is None else min(tails, conductor.size))

    def return_withstands(self, way: Return, size: WireSize) -> bool:
        """Tell whether a joint return, of ``size``, stands a short at any load whose current it takes."""
        return self.wire.peak_spares(size) or all(
            withstands(size, *self.fault(load, self.drawn)) for load in self.circuit.shorts if load.back == way
        )

    def fault(self, load: Consumer, conductor: Conductor) -> tuple[float, float]:
        """Return the current of a short at a load in amperes, and the seconds that the trip needs for it."""
        amperes = min(peak_of(self.output) / 1000, self._short(load, conductor))
        without_curve = self.site.job.assume["trip time"] / 1_000_000
        return amperes, tripping_time(self.output.trip_curve, self.trip / 1000, amperes, without_curve)

    def _short(self, load: Consumer, conductor: Conductor) -> float:
        """Return the running voltage over the resistance of battery, output and run, in amperes."""
        assume = self.site.job.assume
        around = assume["battery resistance"] + self.output.resistance + self._run_resistance(load, conductor)
        return self.site.job.bike.supply.running * 1000 / float(around)

    def _run_resistance(self, load: Consumer, conductor: Conductor) -> Fraction:
        """Return the resistance of the way to a load, in microohms."""
        path = self.tree.paths[load.name]
        parted = self.site.job.assume["connector"] * path.connectors
        return 1000 * wire_drop(conductor, path.moment_of_one) + parted

    def drop(self, load: Consumer, conductor: Conductor, draws: Draws | None = None) -> MicroVolts:
        """Return what is lost from the unit's plug through the output and on the wires to a load that has a place.

        All loads of the circuit are on, each at its steady current, or at what ``draws`` says.
        """
        assume = self.site.job.assume
        path, current = self._flow_to(load, draws)
        plug = MicroOhms(self.output.resistance + assume["unit plug"])
        return MicroVolts(
            resistance_drop(plug, current)
            + resistance_drop(MicroOhms(assume["connector"]), path.through_connectors)
            + resistance_drop(MicroOhms(assume["splice"]), path.through_splices)
            + wire_drop(conductor, path.moment)
        )

    def _flow_to(self, load: Consumer, draws: Draws | None) -> tuple[PathTo, MilliAmps]:
        """Return the path to a load, and what flows in the output."""
        if draws is None:
            return self.tree.paths[load.name], self.circuit.current
        found = circuit_paths(self.site.job, self.circuit, self.tree.wires, self.tree.root, draws)
        return found[load.name], MilliAmps(sum(map(draws, self.circuit.loads)))

    def feeds_in(self, case: Case) -> bool:
        """Tell whether the circuit is on in a case: a guest alone, which another circuit feeds, is fed by that."""
        return any(self.site.job.on(load, case) for load in self.circuit.members)

    def while_cranking(self, load: Consumer, conductor: Conductor | None = None) -> MicroVolts | None:
        """Return the lowest voltage that reaches a load from here while cranking, or None where it feeds none then.

        With the wire's first size, or with ``conductor``.
        """
        cranking, wire = self.losses.cranking, conductor or next(iter(self.serving), None)
        cases = [case for case in cranking.cases if self.feeds_in(case)]
        if not cases or wire is None or load.at is None:
            return None
        return cranking.at_load(load, self.drop(load, wire, cranking.flow.draws), cases)

    def first_drops(self) -> dict[str, MicroVolts]:
        """Return what each load loses, counted at the wire's first size: what thickens it later only helps."""
        return self.drops((self.serving or [self.drawn])[0])

    def drops(self, conductor: Conductor) -> dict[str, MicroVolts]:
        """Return what each load loses over its whole path in its worst case."""
        return {
            load.name: MicroVolts(self.losses.before_run(load) + self.drop(load, conductor)) for load in self._placed
        }


def laid_along(site: Site, losses: Losses, circuit: OutputCircuit, run: Run, output: Output) -> WiredOutput:
    """Lay a circuit from an output along ``run``; raise DisconnectedRoute where its legs do not join face and loads."""
    tree = routed_tree(site, circuit, run, site.face(output.face))
    return WiredOutput(site, losses, OutputWire(site.job, tree, output))


def laid_shortest(site: Site, losses: Losses, circuit: OutputCircuit, output: Output) -> WiredOutput | None:
    """Lay a circuit from an output by its shortest tree; None where no way leads there."""
    face, network = site.face(output.face), site.job.network
    run = Trees(network, circuit.points, (face,), network.numbers_of(circuit.avoid)).tree(circuit.points, face)
    return None if run is None else laid_along(site, losses, circuit, run, output)


def not_laid(site: Site, losses: Losses, later: OutputCircuit, output: Output) -> WiredOutput:
    """Return the circuit of a later load on an output: nobody knows where its wire will run."""
    return WiredOutput(site, losses, wire_not_laid(site.job, later, output))


def wire_not_laid(job: Job, circuit: OutputCircuit, output: Output) -> OutputWire:
    """Return the wire of a circuit from an output, of which nobody knows where it will run."""
    return OutputWire(job, RoutedTree(circuit, NOWHERE, "", CircuitWires(NOWHERE), {}), output)
