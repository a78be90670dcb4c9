"""Groups of commands whose help says of each command a whole sentence."""

from __future__ import annotations

import click

_LONGEST = 400


class Commands(click.Group):
    """A group that wraps what its commands do, where click would cut it at the edge."""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the first sentence of each command's help."""
        commands = [(name, self.get_command(ctx, name)) for name in self.list_commands(ctx)]
        with formatter.section("Commands"):
            formatter.write_dl(
                [(name, one.get_short_help_str(_LONGEST)) for name, one in commands if one]
            )
