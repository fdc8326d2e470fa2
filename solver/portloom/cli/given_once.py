"""Commands that refuse an option which is given twice and may not be."""

from collections import Counter

import typer
from typer.core import TyperCommand, TyperOption

from portloom.cli.screen import usage_error

RIGHT = {"--unit": "give it once; 'portloom plan' and 'portloom compare --two-units' take two units"}
"""What would be right where an option is repeated, if that is more than to give it once."""
RIGHT_OF_WHY = (
    "give it once: 'portloom why' explains one unit, and changes are tried for one alone; 'portloom plan' with both "
    "says in a line why they do not do"
)


class GivenOnce(TyperCommand):
    """A command that refuses a repeated option, where typer would take the last value and say nothing."""

    def parse_args(self, ctx: typer.Context, args: list[str]) -> list[str]:  # type: ignore[override]  # its own
        """Take the words of a call; raise BadFile where an option is repeated that may not be."""
        _, _, given = self.make_parser(ctx).parse_args(args=list(args))
        once = {p.name: p.opts[0] for p in self.params if isinstance(p, TyperOption) and not p.multiple}
        for name, times in Counter(param.name for param in given).items():
            if times > 1 and name in once:
                raise usage_error(ctx.info_name or "", f"{once[name]} is given {times} times", _right(ctx, once[name]))
        return super().parse_args(ctx, args)


def _right(ctx: typer.Context, option: str) -> str:
    """Say what would be right where an option of a command is repeated."""
    if (ctx.info_name, option) == ("why", "--unit"):
        return RIGHT_OF_WHY
    return RIGHT.get(option, "give it once")
