"""`groundsill rates learn`: what the record of a job says about the rates."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.own_books import own_books
from api.commands.track import DAY
from estimator.errors import how_many

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from api.ledger.learning import WouldCost
    from estimator.tracking.job_record import JobRate


@click.command()
@click.option("--project", help="Name of the project, if several are open.")
@click.option("--as-of", type=DAY, metavar="DATE", help="Through this date; today if left out.")
@click.option(
    "--to",
    "folder",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Write the proposed rates as a new set, once you say yes.",
)
@click.option("--yes", is_flag=True, help="Write without asking.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def learn(
    project: str | None,
    as_of: datetime | None,
    folder: Path | None,
    *,
    yes: bool,
    as_json: bool,
) -> None:
    """Show what the books teach: prices, pace, turnaround, waste, blades, recovery.

    Shows what each scope would cost with the new rates. Nothing is written without --to; after it,
    'groundsill rates difference shipped FOLDER --scope SCOPE' shows the changes line by line.
    """
    from api.ledger.learning import learned_fields, learned_of, would_cost
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, now), store.reading(caller) as session:
        end = as_of.date() if as_of else now.date()
        learned = learned_of(session, project_named(session, project).id, end, now)
        scopes = would_cost(session, learned.tables, end)
    if as_json:
        from estimator.pricing.indented_json import indented_json

        click.echo(indented_json(learned_fields(learned, scopes)), nl=False)
    else:
        _show(learned.rates, learned.in_scope)
        _show_scopes(scopes, end)
    if folder is not None:
        _write(learned.tables, end, folder, is_sure=yes)


def _show(rates: Sequence[JobRate], in_scope: Sequence[str]) -> None:
    from api.commands.printing import hanging, page, show_table, table

    if not rates:
        click.echo("Nothing has been seen three times yet: there is nothing to learn from.")
        return
    shown = table(
        ("Rate", "text"), ("Of", "text"), ("Times seen", "number"), ("Mean", "number"),
        ("80 % from", "number"), ("80 % to", "number"), ("In the tables", "number"),
        ("Proposed", "number"),
    )  # fmt: skip
    for one in rates:
        learned, proposal = one.learned, one.proposal
        shown.add_row(
            f"{one.what}, {one.unit}", one.code, str(learned.observations), _short(learned.mean),
            _short(learned.low), _short(learned.high),
            "-" if one.table is None else _short(one.table),
            "-" if proposal is None else _short(proposal.rate),
        )  # fmt: skip
    with page() as out:
        show_table(out, shown)
        for one in rates:
            for far in one.learned.outliers:
                text = f"{one.what} of {one.code}: {_short(far.ratio)} {one.unit}, {far.note}"
                hanging(out, "- ", "  ", f"{text}, is far from the others; it is counted")
        for words in in_scope:
            hanging(out, "- ", "  ", f"for the scope: {words}")


def _show_scopes(scopes: Sequence[WouldCost], on: date) -> None:
    from api.commands.printing import page
    from estimator.money import money_text

    if not scopes:
        return
    with page() as out:
        out.print(f"\nCash cost with the new rates, all else at the rates of {on}")
        for one in scopes:
            more = one.with_them - one.now
            side = "more" if more >= 0 else "less"
            out.print(
                f"{one.name}: {money_text(one.with_them)}, {money_text(abs(more))} {side} than now"
            )


def _short(number: float) -> str:
    return f"{number:.4g}"


def _write(tables: Mapping[str, str], on: date, folder: Path, *, is_sure: bool) -> None:
    from estimator.errors import TablesFaulty, fault
    from estimator.rates.written_folder import write_folder

    if not tables:
        what = "the record proposes no rate"
        raise fault(TablesFaulty, what, "log bills with their quantity, hours and progress")
    prices = max(tables.get("resources.csv", "").count("\n") - 1, 0)
    assemblies = max(tables.get("assemblies.csv", "").count("\n") - 1, 0)
    what = (
        f"{how_many(prices, 'rate')} of {on} and {how_many(assemblies, 'assembly')} with another "
        "pace, waste or life"
    )
    if not is_sure:
        click.confirm(f"Write {what} to {folder}?", abort=True)
    write_folder(folder, tables)
    click.echo(f"Written to {folder}: {what}.", err=True)
