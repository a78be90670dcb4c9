"""`groundsill explain`: the working of the figures of one item."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from api.commands.options import on_option, rates_option, scope_argument


@click.command()
@scope_argument
@click.option("--item", required=True, metavar="CODE", help="Cost code, such as 20.010.")
@click.option(
    "--line", type=click.IntRange(min=1), metavar="LINE", help="Only this line of the item."
)
@rates_option
@on_option
def explain(
    scope: Path, item: str, line: int | None, rates: Path | None, on: datetime | None
) -> None:
    """Show how each figure of an item of SCOPE is worked out."""
    from api.commands.estimate_shown import show_working
    from api.commands.opening import priced

    estimate = priced(scope, rates, on)
    numbers = [line] if line else [one.line for one in estimate.lines_of(item)]
    show_working(estimate, item, [estimate.explain(f"{item}/{number}") for number in numbers])
