"""`groundsill trace`: from a dollar of the report back to what it came from."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

import click

from api.commands.own_books import own_books
from api.commands.track import DAY, end_of_day

if TYPE_CHECKING:
    from api.ledger.documents.rows import StoredDocument
    from api.ledger.traces import FullTrace
    from estimator.tracking.traced_rows import Trace


@click.command()
@click.argument("code", required=False)
@click.option(
    "--draw",
    "number",
    type=click.IntRange(1),
    metavar="NUMBER",
    help="A submitted draw, in place of CODE.",
)
@click.option("--project", help="Name of the project, if several are open.")
@click.option("--as-of", type=DAY, metavar="DATE", help="Through this date; today if left out.")
@click.option(
    "--known-on",
    type=DAY,
    metavar="DATE",
    help="Only what was entered by the end of that day (UTC); else all.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the trace as JSON.")
def trace(
    code: str | None,
    number: int | None,
    project: str | None,
    as_of: datetime | None,
    known_on: datetime | None,
    *,
    as_json: bool,
) -> None:
    """Show the rows and documents behind the figures of cost code CODE and of its budget.

    With --draw, each dollar of a draw that was submitted, back to its receipts.
    """
    if (code is None) == (number is None):
        raise click.UsageError("Name a cost code, or a draw with --draw.")
    if number is not None:
        _trace_draw(number, project, as_json=as_json)
        return
    assert code is not None
    from api.ledger.opened_books import project_named
    from api.ledger.traces import trace_json, trace_of

    with own_books() as (store, caller, now):
        end = as_of.date() if as_of else now.date()
        entered = now if known_on is None else end_of_day(known_on)
        with store.reading(caller) as session:
            project_id = project_named(session, project).id
        full = trace_of(store, caller, project_id, code, end, entered)
    if as_json:
        from estimator.pricing.indented_json import indented_json

        click.echo(indented_json(trace_json(full)), nl=False)
    else:
        _show(full)


def _trace_draw(number: int, project: str | None, *, as_json: bool) -> None:
    from api.commands.draw_shown import show_trace
    from api.draws.shown_draws import checked_request, draw_numbered, draw_trace_json
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, _), store.reading(caller) as session:
        of = draw_numbered(session, project_named(session, project).id, number)
        traced = draw_trace_json(checked_request(of))
    if as_json:
        from estimator.pricing.indented_json import indented_json

        click.echo(indented_json(traced), nl=False)
    else:
        show_trace(traced)


def _show(full: FullTrace) -> None:
    from api.commands.printing import hanging, page
    from estimator.money import cents_money

    traced, status = full.traced, full.traced.status
    with page() as out:
        out.print(f"{status.code} {status.name}")
        for label, cents in (
            ("Billed", status.spent.billed_cents),
            ("Accrued", status.spent.accrued_cents),
            ("Paid", status.spent.paid_cents),
        ):
            out.print(f"{label:<28}{cents_money(cents):>20}")
        _show_rows(out, traced)
        _show_links(out, traced)
        _show_documents(out, full.documents)
        out.print("")
        parts = [("Budget as accepted", status.baseline_cents)]
        if status.phase:
            parts[:0] = [
                ("Lines of the estimate", traced.lines_cents),
                ("Markups spread over them", traced.spread_cents),
            ]
        for label, cents in parts:
            out.print(f"{label:<28}{cents_money(cents):>20}")
        for sentence in traced.markups:
            hanging(out, "", "  ", sentence)
        for change, cents in traced.changes:
            hanging(
                out, "", "  ", f"Change, row {change.row}: {cents_money(cents)}, {change.reason}"
            )
        for one in full.working:
            out.print(f"\n{one['title']}")
            for step in one["steps"]:
                hanging(out, "  ", "    ", step)


def _show_links(out: Any, traced: Trace) -> None:
    """Print which rows a row covers and what pays it, and what was measured."""
    from api.commands.printing import hanging

    lines = []
    for one in traced.rows:
        covers = f"covers {', '.join(map(str, one.covers))}" if one.covers else ""
        paid = f"paid by {', '.join(map(str, one.payments))}" if one.payments else ""
        if covers or paid:
            lines.append(f"Row {one.row} {' and is '.join(filter(None, (covers, paid)))}" if covers
                         else f"Row {one.row} is {paid}")  # fmt: skip
    for step in traced.measured:
        by = "by the inspector" if step.is_inspector else "by us"
        unit = f" {step.unit}" if step.unit else ""
        lines.append(f"Row {step.row}: {step.in_place:f}{unit} in place on {step.happened}, {by}")
    if lines:
        out.print("")
    for line in lines:
        hanging(out, "", "  ", line)


def _show_documents(out: Any, documents: Sequence[StoredDocument]) -> None:
    """Print which pictures and PDFs there are of the code and of its rows."""
    from api.commands.printing import hanging

    if documents:
        out.print("")
    for one in documents:
        entry = "" if one.entry is None else f", to row {one.entry}"
        spot = f", {one.spot}" if one.spot else ""
        hanging(out, "", "  ", f"Document {one.number} of {one.dated}: {one.name}{spot}{entry}")


def _show_rows(out: Any, traced: Trace) -> None:
    from api.commands.printing import show_table, table
    from estimator.money import cents_money

    def whole(cents: int) -> str:
        return cents_money(cents).replace("$", "")

    shown = table(
        ("Row", "number"), ("Day", "code"), ("What", "code"), ("From", "text"), ("No.", "text"),
        ("Kind", "code"), ("Billed", "number"), ("Accrued", "number"),
    )  # fmt: skip
    for one in traced.rows:
        shown.add_row(
            str(one.row), str(one.happened), one.entry, one.party, one.document, one.place[1],
            whole(one.spent.billed_cents), whole(one.spent.accrued_cents),
        )  # fmt: skip
    if traced.rows:
        out.print("")
        show_table(out, shown)
