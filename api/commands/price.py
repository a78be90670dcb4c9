"""`groundsill price`: what a scope costs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.options import (
    CHARTS,
    WORKBOOKS,
    crew_option,
    force_option,
    on_option,
    output_option,
    rates_option,
    start_option,
    week_option,
)

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.scope.other_times import OtherTimes
    from estimator.studies.risk.job_risk import JobRisk


@click.command()
@click.argument(
    "scope", required=False, type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@rates_option
@on_option
@output_option("--xlsx", WORKBOOKS, "Write the estimate as a workbook.")
@start_option
@week_option
@crew_option
@click.option("--json", "as_json", is_flag=True, help="Print the estimate as JSON.")
@click.option(
    "--risk",
    "with_risk",
    is_flag=True,
    help="Add the range of the cost, the contingency and the dates.",
)
@click.option(
    "--confidence",
    type=float,
    metavar="FRACTION",
    help="With --risk, how sure the contingency is to be; 0.8 if left out.",
)
@click.option(
    "--seed",
    type=int,
    metavar="NUMBER",
    help="With --risk, seed of the random numbers; 1906 if left out.",
)
@click.option(
    "--budget",
    metavar="MONEY",
    help="With --risk, show the chance of staying within it, such as '$310,000'.",
)
@output_option("--chart", CHARTS, "With --risk, write a chart of it, as .svg or .png.")
@output_option("--template", WORKBOOKS, "Write an empty scope workbook instead of pricing.")
@force_option
def price(
    scope: Path | None,
    rates: Path | None,
    on: datetime | None,
    start: datetime | None,
    week: str | None,
    crew: dict[str, int],
    xlsx: Path | None,
    as_json: bool,
    with_risk: bool,
    confidence: float | None,
    seed: int | None,
    budget: str | None,
    chart: Path | None,
    template: Path | None,
    force: bool,
) -> None:
    """Price SCOPE, a .yaml or .xlsx file."""
    if not with_risk and any(one is not None for one in (confidence, seed, budget, chart)):
        raise click.UsageError("--confidence, --seed, --budget and --chart need --risk.")
    if (scope is None) == (template is None):
        raise click.UsageError("Give a SCOPE to price, or --template FILE.xlsx.")
    if template is not None:
        _write_template(template, rates, force)
    if scope is not None:
        options = _RiskOptions(confidence, seed, budget, chart) if with_risk else None
        from api.commands.opening import other_times

        times = other_times(start, week, crew)
        _price(scope, rates, on, times, xlsx, as_json, options, force)


@dataclass(frozen=True)
class _RiskOptions:
    """Options for the cost range of an estimate."""

    confidence: float | None
    seed: int | None
    budget: str | None
    chart: Path | None


def _write_template(path: Path, rates: Path | None, force: bool) -> None:
    from estimator.opening import open_tables
    from estimator.workbook.scope.scope_template import write_template

    write_template(open_tables(rates), path, force=force)
    click.echo(f"An empty scope is in {path}.", err=True)


def _price(
    path: Path,
    rates: Path | None,
    on: datetime | None,
    times: OtherTimes,
    xlsx: Path | None,
    as_json: bool,
    options: _RiskOptions | None,
    force: bool,
) -> None:
    from api.commands.opening import priced
    from estimator.written_files import refuse_what_is_there, write_files

    chart = None if options is None else options.chart
    refuse_what_is_there([one for one in (xlsx, chart) if one], [path], force=force)
    estimate = priced(path, rates, on, times)
    risk = None if options is None else _risk(estimate, options)
    write_files(_contents(estimate, risk, xlsx, chart), [path], force=force)
    if chart is not None:
        click.echo(f"The chart is in {chart}.", err=True)
    if xlsx is not None:
        click.echo(f"The estimate is in {xlsx}.", err=True)
    if as_json:
        from estimator.pricing.estimate_json import estimate_json
        from estimator.studies.risk.risk_json import risk_fields

        fields = None if risk is None else risk_fields(risk)
        click.echo(estimate_json(estimate, fields), nl=False)
    else:
        from api.commands.estimate_shown import show_estimate

        show_estimate(estimate, risk)


def _risk(estimate: Estimate, options: _RiskOptions) -> JobRisk:
    """Return how sure an estimate is."""
    from api.commands.progress import progress_bar
    from estimator.money import to_cents
    from estimator.quantity.measures import read_dollars
    from estimator.quantity.units import unit
    from estimator.ranges.latin_hypercube import DEFAULT_SEED
    from estimator.studies.risk.job_risk import DEFAULT_CONFIDENCE, job_risk

    confidence = DEFAULT_CONFIDENCE if options.confidence is None else options.confidence
    seed = DEFAULT_SEED if options.seed is None else options.seed
    budget = None
    if options.budget is not None:
        budget = to_cents(read_dollars(options.budget, unit("$"), "--budget"))
    with progress_bar("Drawing") as progress:
        return job_risk(estimate, confidence, seed, progress=progress, budget_cents=budget)


def _contents(
    estimate: Estimate, risk: JobRisk | None, xlsx: Path | None, chart: Path | None
) -> dict[Path, bytes]:
    """Return the requested files."""
    contents = {}
    if risk is not None and chart is not None:
        from estimator.charts.drawing import form_of
        from estimator.charts.risk_chart import risk_chart

        contents[chart] = risk_chart(risk, form_of(chart))
    if xlsx is not None:
        from estimator.workbook.estimate_workbook import estimate_bytes

        contents[xlsx] = estimate_bytes(estimate, risk)
    return contents
