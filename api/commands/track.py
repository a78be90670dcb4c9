"""`groundsill track`: where the job stands, and where it is going."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID

import click

from api.commands.months_shown import show_months
from api.commands.options import CHARTS, WORKBOOKS, force_option, output_option
from api.commands.own_books import own_books

if TYPE_CHECKING:
    from api.store.sessions import AccountSession

DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--project", help="Name of the project, if several are open.")
@click.option("--as-of", type=DAY, metavar="DATE", help="Through this date; today if left out.")
@click.option(
    "--known-on",
    type=DAY,
    metavar="DATE",
    help="Only what was entered by the end of that day (UTC); else all.",
)
@click.option(
    "--weeks",
    type=click.IntRange(1, 520),
    metavar="WEEKS",
    help="Forecast from the last WEEKS only.",
)
@click.option("--code", help="Show one cost code with its kinds.")
@click.option("--all", "with_all", is_flag=True, help="Include codes on which nothing happened.")
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@output_option("--xlsx", WORKBOOKS, "Write the report as a workbook, with sheets to fill in.")
@output_option("--rows", (".csv", ".json"), "Write the rows of money, for the accountant.")
@output_option("--points", CHARTS, "Write a chart of the measured points with their limits.")
@output_option("--ics", (".ics",), "Write a calendar file: dates of the job, open hold points.")
@click.option("--months", is_flag=True, help="Show what each month added.")
@force_option
def track(
    project: str | None,
    as_of: datetime | None,
    known_on: datetime | None,
    weeks: int | None,
    code: str | None,
    xlsx: Path | None,
    rows: Path | None,
    points: Path | None,
    ics: Path | None,
    *,
    months: bool,
    with_all: bool,
    as_json: bool,
    force: bool,
) -> None:
    """Show budget, spent, in place, earned, forecast, and what needs attention."""
    from api.ledger.calendars import calendar_of
    from api.ledger.opened_books import project_named
    from api.ledger.outlooks import outlook_of
    from api.ledger.reports import months_of, point_chart_of, track_of, tracking_workbook
    from estimator.charts.drawing import form_of
    from estimator.tracking.job_outlook import with_outlook

    with own_books() as (store, caller, now), store.reading(caller) as session:
        end = as_of.date() if as_of else now.date()
        entered = now if known_on is None else end_of_day(known_on)
        since = end - timedelta(7 * weeks - 1) if weeks else None
        named = project_named(session, project)
        report = track_of(session, named.id, end, entered, since)
        name, ahead = named.name, outlook_of(session, named.id, report)
        contents: dict[Path, bytes] = {}
        if xlsx is not None:
            contents[xlsx] = tracking_workbook(session, named.id, end, entered, since)
        if rows is not None:
            contents[rows] = _rows(session, named.id, end, entered, rows.suffix.lower())
        if points is not None:
            form = form_of(points)
            contents[points] = point_chart_of(session, named.id, end, entered, form)
        if ics is not None:
            contents[ics] = calendar_of(session, named.id, end, entered)
        moved = months_of(session, named.id, end, entered) if months else ()
    _write(contents, force=force)
    if months:
        show_months(moved, as_json=as_json)
        return
    report = with_outlook(report, ahead)
    if as_json:
        from estimator.pricing.indented_json import indented_json
        from estimator.tracking.outlook_json import outlook_fields
        from estimator.tracking.track_json import track_fields

        fields = track_fields(report) | {"outlook": outlook_fields(ahead)}
        click.echo(indented_json(fields), nl=False)
        return
    from api.commands.track_shown import show_code, show_track

    if code is None:
        show_track(name, report, ahead, with_all=with_all)
    else:
        show_code(name, report, ahead, code)


def _rows(
    session: AccountSession, project_id: UUID, end: date, entered: datetime, suffix: str
) -> bytes:
    """Return the rows of money as a file of a kind."""
    from api.ledger.reports import money_lines_of
    from estimator.pricing.indented_json import indented_json
    from estimator.tracking.money_lines_json import money_line_fields
    from estimator.workbook.entries.money_lines_csv import money_lines_csv

    listed = money_lines_of(session, project_id, end, entered)
    if suffix == ".csv":
        return money_lines_csv(listed).encode()
    return indented_json({"rows": [money_line_fields(one) for one in listed]}).encode()


def _write(contents: dict[Path, bytes], *, force: bool) -> None:
    from estimator.written_files import write_files

    if contents:
        write_files(contents, force=force)
        click.echo(f"Written: {', '.join(map(str, contents))}.", err=True)


def end_of_day(day: datetime) -> datetime:
    """Return the last moment of a day [UTC]."""
    return (day + timedelta(1)).replace(tzinfo=UTC) - timedelta(microseconds=1)
