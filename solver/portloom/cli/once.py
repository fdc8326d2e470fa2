"""A command of which each option is given once at most, but for those that may be repeated."""

from collections import Counter

from typer import Context
from typer.core import TyperCommand, TyperOption

from portloom.cli.screen import bad_call

RIGHT = {"--unit": "give it once; 'portloom plan' and 'portloom compare --two-units' take two units"}
"""What would be right where an option is repeated, if that is more than to give it once."""


class GivenOnce(TyperCommand):
    """A command that refuses a repeated option, where typer would take the last value and say nothing."""

    def parse_args(self, ctx: Context, args: list[str]) -> list[str]:  # type: ignore[override]  # typer's own context
        """Take the words of a call; raise BadFile where an option is repeated that may not be."""
        _, _, given = self.make_parser(ctx).parse_args(args=list(args))
        once = {p.name: p.opts[0] for p in self.params if isinstance(p, TyperOption) and not p.multiple}
        for name, times in Counter(param.name for param in given).items():
            if times > 1 and name in once:
                raise bad_call(
                    ctx.info_name or "", f"{once[name]} is given {times} times", RIGHT.get(once[name], "give it once")
                )
        return super().parse_args(ctx, args)
