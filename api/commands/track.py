"""`groundsill track`: where the job stands, and where it is going."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import click

from api.commands.options import WORKBOOKS, force_option, output_option
from api.commands.own_books import own_books

DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--project", help="Name of the project, if several are open.")
@click.option("--as-of", type=DAY, metavar="DATE", help="Happened by; today if left out.")
@click.option(
    "--known-on", type=DAY, metavar="DATE", help="Entered by the end of that day in UTC; else now."
)
@click.option("--weeks", type=click.IntRange(1, 520), help="Forecast from the last WEEKS only.")
@click.option("--code", help="Show one cost code with its kinds.")
@click.option("--all", "with_all", is_flag=True, help="Codes on which nothing happened too.")
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@output_option("--xlsx", WORKBOOKS, "Write the report as a workbook, with sheets to fill in.")
@output_option("--csv", (".csv",), "Write the ledger, for whoever keeps the accounts.")
@force_option
def track(
    project: str | None,
    as_of: datetime | None,
    known_on: datetime | None,
    weeks: int | None,
    code: str | None,
    xlsx: Path | None,
    csv: Path | None,
    *,
    with_all: bool,
    as_json: bool,
    force: bool,
) -> None:
    """Show budget, spent, in place, earned, forecast, and what needs attention."""
    from api.ledger.opened_books import project_named
    from api.ledger.outlooks import outlook_of
    from api.ledger.reports import ledger_of, track_of, tracking_workbook
    from estimator.tracking.job_outlook import with_outlook

    with own_books() as (store, caller, now), store.reading(caller) as session:
        end = as_of.date() if as_of else now.date()
        entered = now if known_on is None else end_of(known_on)
        since = end - timedelta(7 * weeks - 1) if weeks else None
        named = project_named(session, project)
        report = track_of(session, named.id, end, entered, since)
        name, ahead = named.name, outlook_of(session, named.id, report)
        contents: dict[Path, bytes] = {}
        if xlsx is not None:
            contents[xlsx] = tracking_workbook(session, named.id, end, entered, since)
        if csv is not None:
            contents[csv] = ledger_of(session, named.id, end, entered).encode()
    _write(contents, force=force)
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


def _write(contents: dict[Path, bytes], *, force: bool) -> None:
    from estimator.written_files import write_files

    if contents:
        write_files(contents, force=force)
        click.echo(f"Written: {', '.join(map(str, contents))}.", err=True)


def end_of(day: datetime) -> datetime:
    """Return the last moment of a day [UTC]."""
    return (day + timedelta(1)).replace(tzinfo=UTC) - timedelta(microseconds=1)
