"""A CP-SAT model without what nobody here needs of it."""

from ortools.sat.python import cp_model


class LeanModel(cp_model.CpModel):
    """A model without ortools' old names for its methods.

    To make these takes longer than to solve many a small model, and hundreds of models are made for one explanation.
    """

    def _add_pre_pep8_methods(self) -> None:
        """Leave the old names away."""
