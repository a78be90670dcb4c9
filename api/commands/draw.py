"""`groundsill draw`: from the terms of the loan to the money, on the database of this computer."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from api.commands.cash import balance, cash
from api.commands.draw_loans import amend, loan
from api.commands.draw_papers import evidence, papers, waiver, withdraw
from api.commands.options import WORKBOOKS, DayOption, force_option, output_option
from api.commands.own_draws import (
    body_of,
    carried_out,
    changed,
    draft_fields,
    package_files,
    project_option,
    reading,
    step_taken,
    submitted_draw_fields,
)
from api.commands.whole_help import Commands

if TYPE_CHECKING:
    from uuid import UUID

    from api.draws.rows import StoredDraw
    from api.store.sessions import AccountSession
    from api.store.writing_session import WritingSession

_json = click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
_number = click.argument("number", type=click.IntRange(1))
_DATE = DayOption()
_ROW = re.compile("[0-9]{1,9}")


@click.group(cls=Commands)
def draw() -> None:
    """Get paid by the lender: freeze the schedule, open, submit, decide and fund draws."""


for command in (loan, amend, waiver, evidence, papers, withdraw):
    draw.add_command(command)
for command in (balance, cash):
    draw.add_command(command)


@draw.command("open")
@click.option("--through", type=_DATE, required=True, metavar="DATE", help="Last day of the draw.")
@click.option("--last", is_flag=True, help="The last draw: no retainage is held.")
@click.option(
    "--stored",
    multiple=True,
    metavar="ROW:AMOUNT[:PLACE[:LINE]]",
    help="Part of row ROW that is not installed yet: on site, off site, or a deposit.",
)
@click.option(
    "--interest",
    default="0",
    metavar="MONEY",
    help="Interest that the lender posted to the reserve.",
)
@click.option(
    "--leave-out", multiple=True, type=int, metavar="ROW", help="Row to hold for a later draw."
)
@project_option
@_json
def open_(
    through: Any,
    stored: tuple[str, ...],
    interest: str,
    leave_out: tuple[int, ...],
    project: str | None,
    *,
    last: bool,
    as_json: bool,
) -> None:
    """Open the next draw; its figures come from the books until it is submitted."""
    names = ("row", "amount", "place", "line")
    parts = [dict(zip(names, one.split(":"), strict=False)) for one in stored]
    _open(
        {
            "through": through.date().isoformat(),
            "last": last,
            "stored": [
                {**one, "row": int(one["row"]) if _ROW.fullmatch(one["row"]) else 0}
                for one in parts
            ],
            "interest": interest,
            "left_out": list(leave_out),
        },
        project,
        as_json=as_json,
    )


@draw.command()
@click.option(
    "--line", "lines", multiple=True, required=True, help="Line whose retainage is requested."
)
@click.option("--through", type=_DATE, required=True, metavar="DATE", help="Last day of the draw.")
@project_option
@_json
def release(lines: tuple[str, ...], through: Any, project: str | None, *, as_json: bool) -> None:
    """Open a draw that asks for the retainage of complete lines; it has no receipts of its own."""
    body = {"through": through.date().isoformat(), "release": list(lines)}
    _open(body, project, as_json=as_json)


@draw.command()
@click.argument("number", type=click.IntRange(1), required=False)
@output_option("--xlsx", WORKBOOKS, "Write the package as a workbook with live formulas.")
@output_option("--pdf", (".pdf",), "Write the package as pages for letter paper.")
@output_option("--csv", (".csv",), "Write the lines, for the lender's own system.")
@force_option
@project_option
@_json
def show(
    number: int | None,
    xlsx: Path | None,
    pdf: Path | None,
    csv: Path | None,
    project: str | None,
    *,
    force: bool,
    as_json: bool,
) -> None:
    """Show draw NUMBER as it was submitted; without one, the draw that is open.

    The package for the lender goes to files: cover, lines, backup, payees, evidence, changes,
    waivers, and the walk sheet for the inspector.
    """
    from api.commands.draw_shown import show_draft, show_draw
    from estimator.written_files import write_files

    paths = [path for path in (xlsx, pdf, csv) if path is not None]
    contents = package_files(number, project, paths) if paths else {}
    if contents:
        write_files(contents, force=force)
        click.echo(f"Written: {', '.join(map(str, contents))}.", err=True)
    if number is None:
        show_draft(draft_fields(project), as_json=as_json)
    else:
        show_draw(submitted_draw_fields(project, number), as_json=as_json)


@draw.command()
@project_option
def check(project: str | None) -> None:
    """Show what keeps the open draw from being submitted, and what the lender will ask about."""
    from api.commands.printing import hanging, page

    draft = draft_fields(project)
    with page() as out:
        for fault in draft["faults"]:
            hanging(out, "- ", "  ", fault)
        for note in draft["notes"]:
            hanging(out, "Note: ", "  ", f"{note}.")
    if draft["faults"]:
        raise SystemExit(1)
    click.echo("Every figure agrees to the cent: the draw can be submitted.")


@draw.command()
@project_option
@_json
def submit(project: str | None, *, as_json: bool) -> None:
    """Submit the open draw: it is frozen with a digest and never changes."""
    from api.commands.draw_shown import show_step
    from api.draws.drafts import draft_of, drafted
    from api.draws.stored_draws import submit_draft

    def change(work: WritingSession, project_id: UUID) -> StoredDraw:
        draft = draft_of(work, project_id)
        return submit_draft(work, draft, drafted(work, draft, work.at))

    show_step(changed(project, change), as_json=as_json)


@draw.command()
@project_option
def close(project: str | None) -> None:
    """Close the open draw without submitting it; its receipts can still be drawn."""
    from api.draws.drafts import draft_of

    def change(work: WritingSession, project_id: UUID) -> None:
        work.delete(draft_of(work, project_id))

    carried_out(project, change)
    click.echo("The draw is closed; nothing of it was submitted.")


@draw.command("list")
@project_option
def list_(project: str | None) -> None:
    """List the submitted draws."""
    from api.draws.drafts import submitted_draws
    from api.draws.rows import StoredDraw
    from api.draws.stored_draws import state_of, steps_of

    def read(session: AccountSession, project_id: UUID, _: Any) -> Any:
        steps = steps_of(session, StoredDraw.project_id == project_id)
        return submitted_draws(session, project_id), steps

    rows, steps = reading(project, read)
    for one in rows:
        state = state_of(steps[one.id])
        click.echo(f"Draw {one.number}, version {one.issue}, through {one.through}: {state}")


@draw.command()
@_number
@click.option("--cut", "cuts", multiple=True, metavar="LINE:AMOUNT:REASON",
              help="What the lender takes off a line.")  # fmt: skip
@click.option(
    "--return", "reason", default="", metavar="REASON", help="Why the whole draw goes back."
)
@project_option
@_json
def decide(
    number: int, cuts: tuple[str, ...], reason: str, project: str | None, *, as_json: bool
) -> None:
    """Post what the lender decided on draw NUMBER: granted, cut line by line, or returned."""
    from api.draws.draw_shapes import NewDecision
    from api.draws.stored_draws import decide as decide_draw

    names = ("line", "amount", "reason")
    parts = [dict(zip(names, one.split(":", 2), strict=False)) for one in cuts]
    body = body_of(NewDecision, {"returned": bool(reason), "reason": reason, "cuts": parts})
    step_taken(number, project, lambda work, of: decide_draw(work, of, body), as_json=as_json)


@draw.command()
@_number
@click.option("--day", type=_DATE, required=True, metavar="DATE", help="Date paid.")
@click.option(
    "--amount", metavar="MONEY", help="What the lender paid; its whole share if left out."
)
@click.option("--fees", default="0", metavar="MONEY", help="Fees withheld.")
@project_option
@_json
def fund(
    number: int, day: Any, amount: str | None, fees: str, project: str | None, *, as_json: bool
) -> None:
    """Post what the lender paid on draw NUMBER: in full, short, or less fees."""
    from api.draws.draw_shapes import NewFunding
    from api.draws.stored_draws import fund as fund_draw

    stated = {"day": day.date().isoformat(), "fees": fees}
    body = body_of(NewFunding, stated | ({} if amount is None else {"amount": amount}))
    step_taken(number, project, lambda work, of: fund_draw(work, of, body), as_json=as_json)


def _open(stated: dict[str, Any], project: str | None, *, as_json: bool) -> None:
    from api.commands.draw_shown import show_draft
    from api.draws.drafts import open_draft
    from api.draws.draw_shapes import NewDrawing
    from api.draws.shown_draws import draft_json

    body = body_of(NewDrawing, stated)

    def change(work: WritingSession, project_id: UUID) -> dict[str, Any]:
        draft, request = open_draft(work, project_id, body)
        return draft_json(request, draft.opened_at.isoformat())

    show_draft(carried_out(project, change), as_json=as_json)
