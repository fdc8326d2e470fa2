"""The job: one bike on one unit, with every figure that is the same in every plan."""
