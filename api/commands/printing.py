"""The page that the commands print, and tables that fit 80 columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

WIDTH = 80
NARROWEST = 40


@contextmanager
def page() -> Iterator[Console]:
    """Collect what is printed to a console and put it out at the end, without trailing blanks.

    The console takes text as it is: no markup, no emoji names, no guessing of colors.
    """
    from rich.console import Console

    console = Console(markup=False, emoji=False, highlight=False)
    console.width = min(max(console.width, NARROWEST), WIDTH)
    with console.capture() as captured:
        yield console
    for line in captured.get().splitlines():
        click.echo(line.rstrip())


def table(*columns: tuple[str, str]) -> Table:
    """Return an empty table.

    Parameters
    ----------
    *columns : tuple of str
        Heading, and `text` (wraps), `code` (never wraps) or `number` (right-aligned).
    """
    from rich.box import Box
    from rich.table import Table

    rule_below_heading = Box("    \n    \n -- \n    \n    \n    \n    \n    \n", ascii=True)
    result = Table(box=rule_below_heading, pad_edge=False, padding=(0, 1, 0, 0), show_edge=False)
    for heading, form in columns:
        result.add_column(
            heading,
            justify="right" if form == "number" else "left",
            no_wrap=form != "text",
            overflow="fold",
            ratio=1 if form == "text" else None,
        )
    result.expand = True
    return result


def hanging(out: Console, first: str, others: str, text: str) -> None:
    """Print a text with one lead before its first line and another before those that follow."""
    from rich.text import Text

    lines = Text(text).wrap(out, out.width - max(len(first), len(others)))
    for number, line in enumerate(lines):
        out.print(Text((others if number else first) + line.plain))


def sentences(out: Console, heading: str, told: Sequence[str]) -> None:
    """Print sentences as a list under a heading; nothing if there are none."""
    if not told:
        return
    out.print(f"\n{heading}")
    for sentence in told:
        hanging(out, "- ", "  ", sentence)
