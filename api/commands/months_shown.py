"""What `groundsill track --months` prints: what each month added, and all of them together."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from estimator.tracking.monthly_movements import MonthMovement

_WIDTH = 14


def show_months(movements: Sequence[MonthMovement], *, as_json: bool) -> None:
    """Print what each month added, as a table or as JSON."""
    from estimator.pricing.indented_json import indented_json
    from estimator.tracking.money_lines_json import MOVEMENTS, months_fields

    fields = months_fields(movements)
    if as_json:
        click.echo(indented_json(fields), nl=False)
        return
    click.echo("Month  " + "".join(f"{name.capitalize():>{_WIDTH}}" for name in MOVEMENTS))
    for one in [*fields["months"], {"month": "Total", **fields["total"]}]:
        amounts = [f"{Decimal(one[name]):,.2f}" for name in MOVEMENTS]
        click.echo(f"{one['month']:<7}" + "".join(f"{text:>{_WIDTH}}" for text in amounts))
