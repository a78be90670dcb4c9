"""`groundsill books`: what a job costs is tracked from the day its estimate is the budget."""

from __future__ import annotations

from pathlib import Path

import click

from api.commands.options import rates_option, scope_argument
from api.commands.own_books import own_books


@click.group()
def books() -> None:
    """Open the books of a job, on the database of this computer.

    The service shows the same books; it need not run.
    """


@books.command("open")
@scope_argument
@rates_option
def open_(scope: Path, rates: Path | None) -> None:
    """Price SCOPE, and accept the estimate as the budget of its books."""
    from api.ledger.opened_books import open_books
    from estimator.money import cents_money

    with own_books() as (store, caller, now):
        opened = open_books(store, caller, now, scope, rates)
    click.echo(f"The books of {opened.name} are open.")
    click.echo(f"Budget, with all markups: {cents_money(opened.budget_cents)}")
    click.echo("Post what happens with 'groundsill log', look with 'groundsill track'.")


@books.command("demo")
def demo_() -> None:
    """Open the books of the invented sample with ten weeks of entries.

    They are of April to June 2026, by a clock of their own: look with --as-of 2026-06-14.
    """
    from api.ledger.sample_books import open_sample
    from estimator.money import cents_money
    from estimator.sample.ten_weeks import LAST_DAY

    with own_books() as (store, caller, _):
        opened, rows = open_sample(store, caller)
    click.echo(f"The books of {opened.name} are open: {rows} rows, all of them invented.")
    click.echo(f"Budget, with all markups: {cents_money(opened.budget_cents)}")
    click.echo(f"Look at them with 'groundsill track --as-of {LAST_DAY}'.")


@books.command("list")
def list_() -> None:
    """List the jobs whose books are open."""
    from api.ledger.opened_books import open_projects

    with own_books() as (store, caller, _), store.reading(caller) as session:
        for project in open_projects(session):
            click.echo(f"{project.created_at:%Y-%m-%d}  {project.name}")
