"""`groundsill books`: what a job costs is tracked from the day its estimate is the budget."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.bank import LINE_HELP, MAPPING_HELP, RULE_HELP, import_bank
from api.commands.options import DayOption, rates_option, scope_argument
from api.commands.own_books import own_books
from api.commands.whole_help import Commands

if TYPE_CHECKING:
    from api.ledger.imports import Imported


@click.group(cls=Commands)
def books() -> None:
    """Open the books of a job, on the database of this computer.

    The service shows the same books; it does not have to be running.
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


@books.command("alternate")
@click.argument("code")
@click.option("--project", help="Name of the project, if several are open.")
@click.option("--happened", type=DayOption(), metavar="DATE", help="The day; today if left out.")
def alternate_(code: str, project: str | None, happened: datetime | None) -> None:
    """Accept alternate CODE of the estimate: a change to the budget of its codes, with markups."""
    from api.commands.log import show_entry
    from api.ledger.entries import post
    from api.ledger.entry_json import entry_json
    from api.ledger.entry_kinds import ENTRY_KINDS
    from api.ledger.opened_books import project_named
    from api.ledger.taken_alternates import alternate_change

    with own_books() as (store, caller, now):
        day = happened.date() if happened else now.date()
        with store.reading(caller) as session:
            project_id = project_named(session, project).id
            change = alternate_change(session, project_id, code, day, now)
        entry = store.carry_out(
            caller,
            now,
            lambda work: entry_json(post(work, project_id, ENTRY_KINDS["changes"], change), caller),
        )
    show_entry(entry, as_json=False)


@books.command("demo")
def demo_() -> None:
    """Open the books of the invented sample with ten weeks of entries, its loan and two draws.

    The entries run from April to June 2026, whatever day it is: look with --as-of 2026-06-14.
    """
    from api.draws.sample_draws import draw_twice
    from api.ledger.sample_books import open_sample
    from estimator.money import cents_money
    from estimator.sample.ten_weeks import LAST_DAY

    with own_books() as (store, caller, _):
        opened, rows = open_sample(store, caller)
        draw_twice(store, caller, opened.project_id)
    click.echo(f"The books of {opened.name} are open: {rows} rows, all of them invented.")
    click.echo(f"Budget, with all markups: {cents_money(opened.budget_cents)}")
    click.echo(f"Look at them with 'groundsill track --as-of {LAST_DAY}'.")


@books.command("import")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--project", help="Name of the project, if several are open.")
@click.option(
    "--keep", is_flag=True, help="Post what is new; without it, only show what would be posted."
)
@click.option(
    "--bank", metavar="NAME", help="FILE is an export of that bank account or card: CSV or OFX."
)
@click.option("--map", "mapping", default="", metavar="date=..,amount=..", help=MAPPING_HELP)
@click.option("--rule", "rules", multiple=True, metavar="WORDS=CODE:KIND:VENDOR", help=RULE_HELP)
@click.option("--line", "lines", multiple=True, metavar="LINE=..", help=LINE_HELP)
@click.option("--accept", is_flag=True, help="Also post what is proposed for the bank's lines.")
@click.option(
    "--replace",
    default="",
    metavar="ROWS",
    help="Replace these rows of the books, such as 13,15, with what FILE says; or all.",
)
def import_(
    file: Path,
    project: str | None,
    bank: str | None,
    mapping: str,
    rules: tuple[str, ...],
    lines: tuple[str, ...],
    replace: str,
    *,
    accept: bool,
    keep: bool,
) -> None:
    """Check the entries typed into FILE, such as tracking.xlsx filled in; --keep posts them.

    What the books already have is skipped. What they have differently is listed and left as it
    is, or reversed and posted again with --replace. If anything is wrong, nothing is posted.

    With --bank, FILE is what a bank exports: each line is proposed as a payment of an open bill, a
    cost, or money that came in. With --keep, its columns and rules are stored for the next time.
    """
    if bank is not None:
        import_bank(file, project, bank, mapping, rules, lines, is_accepted=accept, keep=keep)
        return
    if mapping or rules or lines or accept:
        raise click.UsageError("--map, --rule, --line and --accept go with --bank")
    from api.ledger.changed_ledger import ledger_changes
    from api.ledger.imports import import_entries, replacing_of
    from api.ledger.opened_books import project_named
    from estimator.errors import LedgerFaulty
    from estimator.workbook.entries.entry_reader import read_entries

    content = file.read_bytes()
    typed = read_entries(content, file.name)
    with own_books() as (store, caller, now):
        with store.reading(caller) as session:
            named = project_named(session, project)
            ledger = ledger_changes(session, named.id, content, file.name)
        with store.unit_of_work(caller, now) as work:
            imported = import_entries(work, named.id, typed.entries, replacing_of(replace))
            imported.changed += ledger.changed
            if keep and not imported.faults.count:
                work.commit()
    for note in (*typed.notes, *ledger.notes):
        click.echo(f"Note: {note}")
    _show_import(imported, keep=keep)
    imported.faults.raise_if_any(LedgerFaulty)


def _show_import(imported: Imported, *, keep: bool) -> None:
    """Print what came of an import, or would come of it."""
    click.echo(
        f"{len(imported.new)} new, {len(imported.known)} already known, "
        f"{len(imported.changed) + len(imported.replaced)} changed."
    )
    new = {entry.number for _, entry in imported.new}
    for where, row in imported.known:
        if row in new:
            click.echo(f"{where}: the same as another row of the file, skipped")
    for one in imported.changed:
        click.echo(f"{one.where}: row {one.row} of the books stays: {one.differences}")
    for one, entry in imported.replaced:
        click.echo(f"{one.where}: row {entry.number} replaces row {one.row}: {one.differences}")
    for note in imported.notes:
        click.echo(note)
    if imported.changed:
        click.echo(
            "--replace ROWS takes what the file says; --replace all does it for all of them."
        )
    if not imported.faults.count:
        posted = (
            "The new ones are posted." if keep else "Nothing is posted yet: add --keep to post."
        )
        click.echo(posted)


@books.command("list")
def list_() -> None:
    """List the jobs with open books: date created, name."""
    from api.ledger.opened_books import open_projects

    with own_books() as (store, caller, _), store.reading(caller) as session:
        for project in open_projects(session):
            click.echo(f"{project.created_at:%Y-%m-%d}  {project.name}")


@books.command("quantities")
@click.option("--project", help="Name of the project, if several are open.")
@click.option(
    "--as-of", type=DayOption(), metavar="DATE", help="Through this date; today if left out."
)
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def quantities(project: str | None, as_of: datetime | None, *, as_json: bool) -> None:
    """Show the crew what is in place, what is expected and the hours, with no dollar figures."""
    from api.commands.quantities_shown import show_quantities
    from api.ledger.opened_books import project_named
    from api.ledger.reports import quantities_of
    from estimator.pricing.indented_json import indented_json

    with own_books() as (store, caller, now), store.reading(caller) as session:
        named = project_named(session, project)
        day = as_of.date() if as_of else now.date()
        name, fields = named.name, quantities_of(session, named.id, day, now)
    if as_json:
        click.echo(indented_json(fields), nl=False)
    else:
        show_quantities(name, fields)


@books.command("daysheet")
@click.argument("day", type=DayOption(), metavar="DATE")
@click.option("--project", help="Name of the project, if several are open.")
def daysheet(day: datetime, project: str | None) -> None:
    """Print the day sheet of DATE for the clipboard; DATE may be in the future.

    Work under way with what is in place, its cautions, and blanks for hours, tickets, machines and
    quantities. Type in what was filled in with 'groundsill log'.
    """
    from api.ledger.opened_books import project_named
    from api.ledger.reports import day_sheet_of

    with own_books() as (store, caller, now), store.reading(caller) as session:
        page = day_sheet_of(session, project_named(session, project).id, day.date(), now)
    click.echo(page, nl=False)
