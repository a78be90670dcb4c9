"""`groundsill credit`: what the books give the file of the rehabilitation credit."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import click

from api.commands.own_books import own_books

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.funding.credit_from_books import CreditFile

_DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--project", help="Name of the project, if several are open.")
@click.option(
    "--basis", required=True, metavar="MONEY",
    help="Adjusted basis of the building before the work, without the land, such as '$180,000'.",
)  # fmt: skip
@click.option(
    "--in-service", type=_DAY, required=True, metavar="DATE",
    help="Day on which the building is placed in service.",
)  # fmt: skip
@click.option("--phased", is_flag=True, help="Windows of 60 months: work planned in phases.")
@click.option("--as-of", type=_DAY, metavar="DATE", help="Costs incurred by; today if left out.")
def credit(
    project: str | None,
    basis: str,
    in_service: datetime,
    as_of: datetime | None,
    *,
    phased: bool,
) -> None:
    """Show which costs count, whether the work is substantial, and the credit of each year."""
    from api.ledger.baselines import baseline_of
    from api.ledger.known_books import books_of
    from api.ledger.opened_books import project_named
    from estimator.funding.credit_from_books import credit_file
    from estimator.funding.tax_credit import MONTHS, PHASED_MONTHS
    from estimator.money import to_cents
    from estimator.quantity.measures import read_dollars
    from estimator.quantity.units import unit
    from estimator.tracking.budget import current_budget

    with own_books() as (store, caller, now), store.reading(caller) as session:
        end = as_of.date() if as_of else now.date()
        named = project_named(session, project)
        known = books_of(session, named.id).known(end, now)
        budget = current_budget(baseline_of(session, named.id, now), known.changes, end, now)
        name = named.name
    months = PHASED_MONTHS if phased else MONTHS
    basis_cents = to_cents(read_dollars(basis, unit("$"), "--basis"))
    shown = credit_file(known.costs, budget, basis_cents, in_service.date(), months)
    from api.commands.printing import page

    with page() as out:
        out.print(f"{name}: rehabilitation credit, costs incurred by {end}\n")
        _show(out, shown)


def _show(out: Console, shown: CreditFile) -> None:
    from api.commands.printing import hanging
    from estimator.funding.tax_credit import ASK
    from estimator.money import cents_money

    answers = shown.cents_by_answer
    lines = [
        ("Normally counts", answers["yes"]),
        ("Does not count", answers["no"]),
        ("To be asked about, not in the credit", answers["ask"]),
    ]
    for label, cents in lines:
        out.print(f"{label:<38}{cents_money(cents):>18}")
    best = shown.best_window
    verdict = "passes" if best.passes else "misses"
    out.print()
    hanging(
        out, "", "",
        f"The window {best.start} to {best.end} {verdict} the test by "
        f"{cents_money(abs(best.over_cents))}: {cents_money(best.spent_cents)} spent in it, more "
        f"than {cents_money(best.needed_cents)} is needed.",
    )  # fmt: skip
    passing = sum(one.passes for one in shown.windows)
    out.print(f"Of {len(shown.windows)} windows that end in that year, {passing} pass.\n")
    in_all = cents_money(shown.credit.credit_cents)
    out.print(f"20 % of what counts, if the test is passed: {in_all}")
    for year, cents in shown.credit.by_year:
        out.print(f"  {year}{cents_money(cents):>14}")
    out.print()
    hanging(out, "", "", ASK)
