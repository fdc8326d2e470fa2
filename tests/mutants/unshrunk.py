"""For pytest: hypothesis tries the same cases every time, and makes none small that fails: that it fails is enough."""

from hypothesis import Phase, settings

settings.register_profile(
    "unshrunk", database=None, derandomize=True, deadline=None, phases=(Phase.explicit, Phase.generate)
)
settings.load_profile("unshrunk")
