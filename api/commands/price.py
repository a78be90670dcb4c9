"""`groundsill price`: what a scope costs."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from api.commands.options import on_option, rates_option


@click.command()
@click.argument(
    "scope", required=False, type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@rates_option
@on_option
@click.option(
    "--xlsx", type=click.Path(dir_okay=False, path_type=Path), help="Write the estimate workbook."
)
@click.option("--json", "as_json", is_flag=True, help="Print the estimate as JSON.")
@click.option(
    "--template",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write an empty scope workbook instead of pricing.",
)
def price(
    scope: Path | None,
    rates: Path | None,
    on: datetime | None,
    xlsx: Path | None,
    as_json: bool,
    template: Path | None,
) -> None:
    """Price SCOPE, a .yaml or .xlsx file."""
    if template is not None:
        _write_template(template, rates)
    if scope is not None:
        _price(scope, rates, on, xlsx, as_json)
    elif template is None:
        raise click.UsageError("Give a SCOPE to price, or --template FILE.xlsx.")


def _write_template(path: Path, rates: Path | None) -> None:
    from api.commands.opening import open_tables
    from estimator.workbook.template import write_template

    write_template(open_tables(rates), path)
    click.echo(f"An empty scope is in {path}.", err=True)


def _price(
    path: Path, rates: Path | None, on: datetime | None, xlsx: Path | None, as_json: bool
) -> None:
    from api.commands.opening import open_scope, priced

    estimate = priced(open_scope(path, rates, on))
    if xlsx is not None:
        from estimator.workbook.estimate_workbook import write_estimate

        write_estimate(estimate, xlsx)
        click.echo(f"The estimate is in {xlsx}.", err=True)
    if as_json:
        from estimator.pricing.estimate_json import estimate_json

        click.echo(estimate_json(estimate), nl=False)
    else:
        from api.commands.estimate_shown import show_estimate

        show_estimate(estimate)
