"""The page that the commands print, and tables that fit 80 columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import compress
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Column, Table

WIDTH = 80
NARROWEST = 40

_GAP = 2
_LONGEST_WORD = 20
_NOTHING = ("", "-")


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
        Heading, which may have two lines, and `text` (wraps), `code` (never wraps) or `number`
        (right-aligned).
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


def show_table(out: Console, shown: Table) -> None:
    """Print a table; one that would cut a figure or break a word goes row by row instead."""
    widths = [_narrowest(column) for column in shown.columns]
    if sum(widths) + _GAP * (len(widths) - 1) <= out.width:
        out.print(shown)
    else:
        _show_row_by_row(out, shown)


def _show_row_by_row(out: Console, shown: Table) -> None:
    """Print codes and words of each row, and below them each of its figures with its heading."""
    from rich.cells import cell_len

    is_figure = [column.justify == "right" for column in shown.columns]
    headings = [str(column.header).replace("\n", " ") for column in shown.columns]
    rows = [list(map(str, row)) for row in zip(*(one.cells for one in shown.columns), strict=True)]
    longest = max(map(cell_len, compress(headings, is_figure)), default=0)
    widest = max((cell_len(one) for row in rows for one in compress(row, is_figure)), default=0)
    hanging(out, "", "  ", _words_of(headings, is_figure))
    out.print("-" * out.width)
    for row in rows:
        hanging(out, "", "  ", _words_of(row, is_figure))
        for heading, figure in compress(zip(headings, row, strict=True), is_figure):
            if figure not in _NOTHING:
                out.print(f"  {heading:<{longest}}  {figure:>{widest}}")


def _words_of(row: Sequence[str], is_figure: Sequence[bool]) -> str:
    words = [text for text, figure in zip(row, is_figure, strict=True) if not figure]
    return "  ".join(filter(None, words))


def _narrowest(column: Column) -> int:
    """Return the width of a column without a break where none belongs."""
    from rich.cells import cell_len

    cells = [line for cell in (column.header, *column.cells) for line in str(cell).splitlines()]
    if column.no_wrap:
        return max(map(cell_len, cells))
    words = [word for cell in cells for word in cell.split()]
    return min(max(map(cell_len, words), default=0), _LONGEST_WORD)


def hanging(out: Console, first: str, others: str, text: str) -> None:
    """Print a text with one lead before its first line and another before those that follow."""
    from rich.text import Text

    lines = Text(text).wrap(out, out.width - max(len(first), len(others)))
    for number, line in enumerate(lines):
        out.print(Text((others if number else first) + line.plain))


def sentences(out: Console, heading: str, texts: Sequence[str]) -> None:
    """Print sentences as a list under a heading; nothing if there are none."""
    if not texts:
        return
    out.print(f"\n{heading}")
    for sentence in texts:
        hanging(out, "- ", "  ", sentence)
