"""The door to ortools: what of it is used, by its compiled module or, where that lacks something, by its public one.

The public module brings numpy and pandas, which no model here uses and which take most of its time to load and of its
memory. What it does for a model of whole numbers is done by the compiled module beneath it.
"""

from collections.abc import Callable
from functools import cache, partial
from importlib.metadata import version
from typing import Any, Protocol

from portloom.base.values import dataclass

WANTED = ">=9.15.6755,<9.16"
"""The versions that this was tried with, as in pyproject.toml."""

PlanFound = Callable[[tuple[int, ...]], None]
"""What is done with the values of all variables, each time that a plan is found."""
BoundProved = Callable[[float], None]
"""What is done with each bound of the goal."""


class Solving(Protocol):
    """One run of the solver."""

    def solve(self, message: Any, parameters: Any, found: PlanFound | None, proved: BoundProved | None) -> Any:
        """Return the solver's response to a model's message; tell what is found and proved on the way."""

    def stop(self) -> None:
        """End the run soon, from another thread; nothing happens where none goes on."""


@dataclass(frozen=True)
class Door:
    """What of ortools is used."""

    model: Callable[[], Any]
    """A new message for a model,"""
    parameters: Callable[[], Any]
    """and one for settings."""
    run: Callable[[], Solving]
    validate: Callable[[Any], str]
    """What is wrong with a model's message."""


class NoDoorError(ImportError):
    """The version of ortools that is installed lacks something that is needed."""


@cache
def door() -> Door:
    """Return the door; raise NoDoorError where ortools has none of the two."""
    for way in (compiled, public):
        try:
            return way()
        except (ImportError, AttributeError) as error:
            missing = error
    raise NoDoorError(f"ortools {version('ortools')} can't be used: {missing}; wanted is {WANTED}") from missing


# --- by the compiled module


def compiled() -> Door:
    """Return the door by the compiled module; raise ImportError or AttributeError where it lacks something."""
    from ortools.sat.python import cp_model_helper as helper  # noqa: PLC0415 - the one door or the other is loaded

    class Watch(helper.SolutionCallback):
        """Tells every plan that is found on the way."""

        def __init__(self, found: PlanFound) -> None:
            super().__init__()
            self._found = found

        def OnSolutionCallback(self) -> None:  # noqa: N802 - the solver's name for it
            response = self.Response()  # type: ignore[no-untyped-call]
            self._found(tuple(response.solution))

    run = partial(_CompiledRun, helper.SolveWrapper, Watch)
    return Door(helper.CpModelProto, helper.SatParameters, run, helper.CpSatHelper.validate_model)


class _CompiledRun:
    """One run. What the solver calls lives as long as its wrapper, which therefore lives no longer than the solve."""

    def __init__(self, wrapper: Callable[[], Any], watch: Callable[[PlanFound], Any]) -> None:
        self._new, self._watch = wrapper, watch
        self._wrapper: Any = None
        self._stopped = False

    def solve(self, message: Any, parameters: Any, found: PlanFound | None, proved: BoundProved | None) -> Any:
        wrapper = self._wrapper = self._new()
        wrapper.set_parameters(parameters)
        watch = None if found is None else self._watch(found)
        if watch is not None:
            wrapper.add_solution_callback(watch)
        if proved is not None:
            wrapper.add_best_bound_callback(proved)
        if self._stopped:
            wrapper.stop_search()
        try:
            return wrapper.solve(message)
        finally:
            self._wrapper = None
            if watch is not None:
                wrapper.clear_solution_callback(watch)

    def stop(self) -> None:
        self._stopped = True
        wrapper = self._wrapper
        if wrapper is not None:
            wrapper.stop_search()


# --- by the public module


def public() -> Door:
    """Return the door by the public module; raise ImportError or AttributeError where it lacks something."""
    from ortools.sat.python import cp_model  # noqa: PLC0415 - takes four times as long as the compiled module

    class Watch(cp_model.CpSolverSolutionCallback):
        """Tells every plan that is found on the way."""

        def __init__(self, found: PlanFound) -> None:
            super().__init__()
            self._found = found

        def on_solution_callback(self) -> None:
            response = self.response_proto
            self._found(tuple(response.solution))

    def validate(message: Any) -> str:
        return str(cp_model.CpModel(message).validate())

    run = partial(_PublicRun, cp_model.CpSolver, cp_model.CpModel, Watch)
    return Door(cp_model.CpModelProto, cp_model.SatParameters, run, validate)


class _PublicRun:
    """One run."""

    def __init__(
        self, solver: Callable[[], Any], model: Callable[[Any], Any], watch: Callable[[PlanFound], Any]
    ) -> None:
        self._solver, self._model, self._watch = solver(), model, watch

    def solve(self, message: Any, parameters: Any, found: PlanFound | None, proved: BoundProved | None) -> Any:
        self._solver.parameters = parameters
        self._solver.best_bound_callback = proved
        self._solver.solve(self._model(message), None if found is None else self._watch(found))
        return self._solver.response_proto

    def stop(self) -> None:
        self._solver.stop_search()
