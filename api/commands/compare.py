"""`groundsill compare`: the ways to do one item, side by side."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
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
    scope_argument,
    start_option,
    week_option,
)

if TYPE_CHECKING:
    from estimator.studies.comparison.changing_course import ChangedCourse
    from estimator.studies.comparison.comparison import Comparison
    from estimator.studies.comparison.findings import Findings, Variation


@click.command()
@scope_argument
@click.option("--item", required=True, metavar="CODE", help="Cost code, such as 30.020.")
@click.option(
    "--vary",
    multiple=True,
    metavar="INPUT",
    help="Input, resource, 'truck turnaround' or 'day worth' to vary. Give two for a map.",
)
@click.option("--from", "low", multiple=True, metavar="MEASURE", help="Low end of its range.")
@click.option("--to", "high", multiple=True, metavar="MEASURE", help="High end of its range.")
@click.option(
    "--day-worth", metavar="MONEY", help="What finishing a day sooner is worth, such as '$310/day'."
)
@click.option(
    "--placed",
    metavar="MEASURES",
    help="Placed so far, day by day: '38 ton; 46 ton'; or in all: '400 ton in 9 days'.",
)
@click.option("--by", metavar="METHOD", help="Method that placed it.")
@click.option("--switch", metavar="MONEY", help="Cost of switching methods, such as '$300'.")
@output_option("--chart", CHARTS, "Write a chart, as .svg or .png.")
@output_option("--xlsx", WORKBOOKS, "Write the comparison as a workbook.")
@force_option
@click.option("--json", "as_json", is_flag=True, help="Print the comparison as JSON.")
@rates_option
@on_option
@start_option
@week_option
@crew_option
def compare(
    scope: Path,
    item: str,
    vary: tuple[str, ...],
    low: tuple[str, ...],
    high: tuple[str, ...],
    day_worth: str | None,
    placed: str | None,
    by: str | None,
    switch: str | None,
    chart: Path | None,
    xlsx: Path | None,
    force: bool,
    as_json: bool,
    rates: Path | None,
    on: datetime | None,
    start: datetime | None,
    week: str | None,
    crew: dict[str, int],
) -> None:
    """Compare the methods that SCOPE lists for an item."""
    from api.commands.comparison_shown import show_comparison
    from api.commands.opening import open_scope, other_times
    from api.commands.progress import shown_if_long
    from estimator.quantity.measures import read_dollars
    from estimator.quantity.units import unit
    from estimator.studies.comparison import comparison, comparison_json
    from estimator.studies.comparison.findings import findings_of
    from estimator.written_files import refuse_what_is_there, write_files

    variations = _variations(vary, low, high)
    _check_usage(placed, by, switch)
    refuse_what_is_there([one for one in (chart, xlsx) if one], [scope], force=force)
    opened = open_scope(scope, rates, on, other_times(start, week, crew))
    worth = read_dollars(day_worth, unit("$/day"), "--day-worth") if day_worth is not None else None
    with shown_if_long("Comparing"):
        compared = comparison.compare(*opened, item, worth)
        course = _course(compared, placed, by, switch) if placed and by else None
        findings = findings_of(compared, variations, course)
    write_files(_contents(compared, findings, chart, xlsx), [scope], force=force)
    if chart is not None:
        click.echo(f"The chart is in {chart}.", err=True)
    if xlsx is not None:
        click.echo(f"The comparison is in {xlsx}.", err=True)
    if as_json:
        click.echo(comparison_json.comparison_json(compared, findings), nl=False)
    else:
        show_comparison(compared, findings)


def _contents(
    compared: Comparison, findings: Findings, chart: Path | None, xlsx: Path | None
) -> dict[Path, bytes]:
    """Return the requested files."""
    contents = {}
    if chart is not None:
        from estimator.charts.drawing import form_of
        from estimator.charts.method_chart import method_chart

        contents[chart] = method_chart(compared, findings, form_of(chart))
    if xlsx is not None:
        from estimator.workbook.comparison_workbook import comparison_bytes

        contents[xlsx] = comparison_bytes(compared, findings)
    return contents


def _variations(
    vary: tuple[str, ...], low: tuple[str, ...], high: tuple[str, ...]
) -> tuple[Variation, ...]:
    from estimator.studies.comparison.findings import Variation

    if len(vary) > 2:
        raise click.UsageError("Give --vary once for a curve, or twice for a map.")
    if max(len(low), len(high)) > len(vary):
        raise click.UsageError("Each --from and --to belongs to a --vary before it.")
    return tuple(
        Variation(name, low[n] if n < len(low) else "", high[n] if n < len(high) else "")
        for n, name in enumerate(vary)
    )


def _check_usage(placed: str | None, by: str | None, switch: str | None) -> None:
    if bool(placed) != bool(by):
        raise click.UsageError("--placed and --by go together.")
    if switch and not placed:
        raise click.UsageError("--switch needs --placed and --by.")


def _course(compared: Comparison, placed: str, by: str, switch: str | None) -> ChangedCourse:
    from estimator.quantity.measures import read_dollars
    from estimator.quantity.units import unit
    from estimator.studies.comparison.changing_course import course_so_far

    cost = read_dollars(switch, unit("$"), "--switch") if switch is not None else Decimal(0)
    return course_so_far(compared, placed, by, cost)
