"""The slugs of all rules, in the order in which they are told, and those that nobody may set aside."""

RULE_SLUGS: tuple[str, ...] = (
    "cover",
    "decided",
    "alike",
    "trip",
    "main-fuse",
    "mode",
    "share",
    "wire",
    "outputs",
    "inputs",
    "bank",
    "unit-total",
    "opening",
    "signal",
    "engine-run",
    "follow",
    "inductive",
    "key-off",
    "cranking",
    "multiplexer",
    "start",
    "run",
    "brake-lamp",
    "engine-stop",
    "indicator-pair",
)
NEVER_SET_ASIDE: tuple[str, ...] = ("cover", "outputs", "inputs", "wire", "main-fuse", "brake-lamp", "engine-stop")
"""Without these a plan is no plan, or it can burn or run away."""
