"""`groundsill draw balance` and `draw cash`: is the money enough, and when does it run out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from api.commands.options import CHARTS, force_option, output_option
from api.commands.own_books import own_books

if TYPE_CHECKING:
    from api.draws.cash import CashOf

_OPTIONS = (
    click.option("--project", help="Name of the project, if several are open."),
    click.option("--as-of", metavar="DATE", help="Through this date; today if left out."),
    click.option(
        "--own-cash", metavar="MONEY", help="Owner's cash beyond the equity, such as 30000.00."
    ),
    click.option(
        "--days-to-pay", metavar="DAYS", help="Days from a cost to its payment; 0 if left out."
    ),
    click.option("--twice-a-month", is_flag=True, help="Also draw through the 15th."),
    click.option("--expected", metavar="MONEY", help="Money still to come in, such as a sale."),
    click.option(
        "--expected-on", metavar="DATE", help="Day it comes in; the next day if left out."
    ),
    click.option("--json", "as_json", is_flag=True, help="Print it as JSON."),
)


def _options(command: Callable[..., Any]) -> Callable[..., Any]:
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


@click.command()
@click.option(
    "--contingency",
    metavar="PERCENT",
    help="Contingency that must be left, in percent of the cost to complete; else the loan's.",
)
@_options
def balance(contingency: str | None, *, as_json: bool, **chosen: Any) -> None:
    """Show the money available against what is still to be paid, at P50 and P80."""
    from api.commands.cash_shown import show_balance
    from api.draws.cash import contingency_fraction
    from api.draws.cash_shapes import BalanceQuery
    from estimator.funding.cash_json import balance_fields

    body, name, cash = _cash(BalanceQuery, chosen | {"contingency_percent": contingency})
    shown = cash.balance(contingency_fraction(body))
    if as_json:
        _print_json(balance_fields(shown))
    else:
        show_balance(name, shown)


@click.command()
@click.option(
    "--at", type=click.Choice(["P50", "P80"]), help="Cost at completion; P50 if left out."
)
@output_option("--chart", CHARTS, "Write a chart of what is paid, the loan and the owner's money.")
@force_option
@_options
def cash(at: str | None, chart: Path | None, *, force: bool, as_json: bool, **chosen: Any) -> None:
    """Show cash by month, the day it runs out, and what brings the peak down."""
    from api.commands.cash_shown import show_cash
    from api.draws.cash_shapes import CourseQuery
    from estimator.funding.cash_json import cash_fields
    from estimator.funding.cash_ways import cash_ways

    body, name, own = _cash(CourseQuery, chosen | {"at": at})
    course = own.course(body.at)
    months_and_ways = cash_fields(course, cash_ways(course))
    if chart is not None:
        from estimator.charts.cash_chart import cash_chart
        from estimator.charts.drawing import form_of
        from estimator.written_files import write_files

        write_files({chart: cash_chart(course, name, body.at, form_of(chart))}, force=force)
        click.echo(f"Written: {chart}.", err=True)
    if as_json:
        _print_json(months_and_ways)
    else:
        show_cash(name, body.at, months_and_ways)


def _print_json(cash: dict[str, Any]) -> None:
    from estimator.pricing.indented_json import indented_json

    click.echo(indented_json(cash), nl=False)


def _cash(shape: Any, chosen: dict[str, Any]) -> tuple[Any, str, CashOf]:
    """Return the query that options state, the project's name, and its cash."""
    from api.commands.body_options import read_body
    from api.draws.cash import cash_facts, cash_of
    from api.ledger.opened_books import project_named
    from estimator.errors import FundingFaulty

    days = {"draw_days": "twice a month"} if chosen.pop("twice_a_month") else {}
    names = {one.name for one in fields(shape)}
    stated = {key: one for key, one in (chosen | days).items() if key in names and one is not None}
    body = read_body(shape, stated, FundingFaulty)
    with own_books() as (store, caller, now), store.reading(caller) as session:
        named, as_of = project_named(session, chosen["project"]), body.as_of or now.date()
        facts = cash_facts(body, as_of)
        return body, named.name, cash_of(session, named.id, as_of, now, facts)
