"""`groundsill credit`: what the books give the file of the rehabilitation credit."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import click

from api.commands.own_books import own_books

if TYPE_CHECKING:
    pass

_DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--project", help="Name of the project, if several are open.")
@click.option(
    "--basis", metavar="MONEY",
    help="Adjusted basis of the building before the work, without the land, such as '$180,000'; "
    "else as 'groundsill log basis' stated it.",
)  # fmt: skip
@click.option(
    "--in-service", type=_DAY, required=True, metavar="DATE",
    help="Date the building is placed in service.",
)  # fmt: skip
@click.option("--phased", is_flag=True, help="A 60-month window, for work planned in phases.")
@click.option("--cash-basis", is_flag=True, help="Count costs when they are paid, not incurred.")
@click.option("--as-of", type=_DAY, metavar="DATE", help="Through this date; today if left out.")
@click.option(
    "--entries", "with_entries", is_flag=True, help="List each cost and whether it counts."
)
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def credit(
    project: str | None,
    basis: str | None,
    in_service: datetime,
    as_of: datetime | None,
    *,
    phased: bool,
    cash_basis: bool,
    with_entries: bool,
    as_json: bool,
) -> None:
    """Show which costs count, whether the work is substantial, and the credit for each year."""
    from api.ledger.credit_files import credit_file_of
    from api.ledger.opened_books import project_named
    from estimator.funding.tax_credit import MONTHS, PHASED_MONTHS
    from estimator.quantity.measures import read_dollars
    from estimator.quantity.units import unit

    stated = None if basis is None else read_dollars(basis, unit("$"), "--basis")
    with own_books() as (store, caller, now), store.reading(caller) as session:
        named = project_named(session, project)
        name, end = named.name, as_of.date() if as_of else now.date()
        shown = credit_file_of(
            session, named.id, end, now, in_service.date(), stated,
            months=PHASED_MONTHS if phased else MONTHS, is_cash_basis=cash_basis,
        )  # fmt: skip
    if as_json:
        from estimator.funding.credit_json import credit_fields
        from estimator.pricing.indented_json import indented_json

        click.echo(indented_json(credit_fields(shown)), nl=False)
        return
    from api.commands.credit_shown import show_credit
    from api.commands.printing import page

    with page() as out:
        verb = "paid" if cash_basis else "incurred"
        out.print(f"{name}: rehabilitation credit, costs {verb} by {end}\n")
        show_credit(out, shown, with_entries=with_entries)
