"""`groundsill schedule`: when each phase and item is done, with the crews that there are."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from api.commands.options import on_option, rates_option, scope_argument

_DAY = click.DateTime(["%Y-%m-%d"])


def _number_of(_: click.Context, __: click.Parameter, texts: tuple[str, ...]) -> dict[str, int]:
    """Return crews by resource, as `laborer=3`."""
    there = {}
    for text in texts:
        resource, _equals, number = text.partition("=")
        if not (resource and number.isascii() and number.isdigit() and 0 < int(number) <= 1_000):
            raise click.UsageError(f"--crew takes a resource and a number, as laborer=3: {text!r}")
        there[resource] = int(number)
    return there


@click.command()
@scope_argument
@rates_option
@on_option
@click.option(
    "--start", type=_DAY, metavar="DATE", help="First day; else the scope's, else its pricing date."
)
@click.option(
    "--crew", multiple=True, callback=_number_of, metavar="RESOURCE=NUMBER",
    help="How many there are of a crew or machine that is scarce, such as laborer=3; goes before "
    "the scope's crew.",
)  # fmt: skip
@click.option("--items", "with_items", is_flag=True, help="Show the items of each phase.")
@click.option("--json", "as_json", is_flag=True, help="Print the schedule as JSON.")
def schedule(
    scope: Path,
    rates: Path | None,
    on: datetime | None,
    start: datetime | None,
    crew: dict[str, int],
    *,
    with_items: bool,
    as_json: bool,
) -> None:
    """Show when the work of SCOPE is done, and what may be late without harm."""
    from api.commands.opening import priced
    from estimator.scheduling.job_dates import job_schedule
    from estimator.scheduling.worth_of_one_more import one_more

    estimate = priced(scope, rates, on)
    there = {**estimate.scope.crew, **crew}
    dates = job_schedule(estimate, start=start.date() if start else None, there=there)
    ways = one_more(estimate, dates)
    if as_json:
        from estimator.pricing.indented_json import indented_json
        from estimator.scheduling.schedule_json import schedule_fields

        click.echo(indented_json(schedule_fields(estimate, dates, ways)), nl=False)
        return
    from api.commands.schedule_shown import show_schedule

    show_schedule(estimate.scope.project, dates, ways, with_items=with_items)
