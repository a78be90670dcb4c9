"""`groundsill draw`: from the terms of the loan to the money, on the database of this computer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from api.commands.options import Day
from api.commands.own_books import own_books

if TYPE_CHECKING:
    from uuid import UUID

    from api.draws.rows import StoredDraw
    from api.store.sessions import AccountSession, WritingSession

_project = click.option("--project", help="Name of the project, if several are open.")
_json = click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
_number = click.argument("number", type=click.IntRange(1))
_DATE = Day()


@click.group()
def draw() -> None:
    """Get paid by the lender: freeze the schedule, open, submit, decide and fund draws."""


@draw.command()
@click.argument("terms", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@_project
@_json
def loan(terms: Path, project: str | None, *, as_json: bool) -> None:
    """Read the loan's TERMS and freeze its schedule of values from the budget as it is now."""
    from api.commands.draw_shown import show_loan
    from api.draws.loan_file import read_loan_file
    from api.draws.loans import freeze_loan, loan_json

    body = read_loan_file(terms.read_text(encoding="utf-8"), terms.name)
    told = _carried_out(
        project, lambda work, project_id: loan_json(freeze_loan(work, project_id, body))
    )
    show_loan(told, as_json=as_json)


@draw.command("open")
@click.option("--through", type=_DATE, required=True, metavar="DATE", help="Its last day.")
@click.option("--last", is_flag=True, help="The last draw: nothing is held back.")
@click.option(
    "--stored",
    multiple=True,
    metavar="ROW:AMOUNT[:PLACE[:LINE]]",
    help="Of an entry, what is not built in: on site, off site, or a deposit.",
)
@click.option("--interest", default="0", help="That the lender posted to the reserve.")
@click.option("--leave-out", multiple=True, type=int, help="Row that is not asked for yet.")
@_project
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
    """Open the next draw through a day; its figures come from the books until it is submitted."""
    names = ("row", "amount", "place", "line")
    parts = [dict(zip(names, one.split(":"), strict=False)) for one in stored]
    _open(
        {
            "through": through.date().isoformat(),
            "last": last,
            "stored": [
                {**one, "row": int(one["row"]) if one["row"].isdigit() else 0} for one in parts
            ],
            "interest": interest,
            "left_out": list(leave_out),
        },
        project,
        as_json=as_json,
    )


@draw.command()
@click.option("--line", "lines", multiple=True, required=True, help="Whose retainage is asked for.")
@click.option("--through", type=_DATE, required=True, metavar="DATE")
@_project
@_json
def release(lines: tuple[str, ...], through: Any, project: str | None, *, as_json: bool) -> None:
    """Open a draw that asks for the retainage of complete lines; it has no receipts of its own."""
    body = {"through": through.date().isoformat(), "release": list(lines)}
    _open(body, project, as_json=as_json)


@draw.command()
@click.argument("number", type=click.IntRange(1), required=False)
@_project
@_json
def show(number: int | None, project: str | None, *, as_json: bool) -> None:
    """Show draw NUMBER as it was submitted; without one, the draw that is open."""
    from api.commands.draw_shown import show_draft, show_draw

    if number is None:
        show_draft(_draft(project), as_json=as_json)
    else:
        show_draw(_read(project, number), as_json=as_json)


@draw.command()
@_project
def check(project: str | None) -> None:
    """Say what stands against submitting the open draw, and what the lender will ask about."""
    told = _draft(project)
    for fault in told["faults"]:
        click.echo(f"- {fault}")
    for note in told["notes"]:
        click.echo(f"Note: {note}.")
    if told["faults"]:
        raise SystemExit(1)
    click.echo("Every figure agrees to the cent: the draw can be submitted.")


@draw.command()
@_project
@_json
def submit(project: str | None, *, as_json: bool) -> None:
    """Submit the open draw: it is frozen with a digest and never changes."""
    from api.commands.draw_shown import show_step
    from api.draws.drafts import draft_of, drafted
    from api.draws.stored_draws import submit_draft

    def change(work: WritingSession, project_id: UUID) -> StoredDraw:
        draft = draft_of(work, project_id)
        return submit_draft(work, draft, drafted(work, draft, work.at))

    show_step(_changed(project, change), as_json=as_json)


@draw.command("list")
@_project
def list_(project: str | None) -> None:
    """List the draws that were submitted."""
    from sqlalchemy import select

    from api.draws.rows import StoredDraw
    from api.draws.stored_draws import state_of, steps_of
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, _), store.reading(caller) as session:
        of_project = StoredDraw.project_id == project_named(session, project).id
        statement = select(StoredDraw).where(of_project)
        rows = list(session.scalars(statement.order_by(StoredDraw.number, StoredDraw.issue)))
        steps = steps_of(session, [one.id for one in rows])
    for one in rows:
        state = state_of(steps[one.id])
        click.echo(f"Draw {one.number}, version {one.issue}, through {one.through}: {state}")


@draw.command()
@_number
@click.option("--cut", "cuts", multiple=True, metavar="LINE:AMOUNT:REASON",
              help="What the lender takes off a line.")  # fmt: skip
@click.option("--return", "reason", default="", metavar="REASON", help="The whole draw goes back.")
@_project
@_json
def decide(
    number: int, cuts: tuple[str, ...], reason: str, project: str | None, *, as_json: bool
) -> None:
    """Post what the lender decided of draw NUMBER: granted, cut line by line, or returned."""
    from api.draws.draw_shapes import NewDecision
    from api.draws.stored_draws import decide as decide_draw

    names = ("line", "amount", "reason")
    parts = [dict(zip(names, one.split(":", 2), strict=False)) for one in cuts]
    body = _body(NewDecision, {"returned": bool(reason), "reason": reason, "cuts": parts})
    _step(number, project, lambda work, of: decide_draw(work, of, body), as_json=as_json)


@draw.command()
@_number
@click.option("--day", type=_DATE, required=True, metavar="DATE", help="On which it was paid.")
@click.option("--amount", help="That the lender paid; all of its part if left out.")
@click.option("--fees", default="0", help="Withheld.")
@_project
@_json
def fund(
    number: int, day: Any, amount: str | None, fees: str, project: str | None, *, as_json: bool
) -> None:
    """Post what the lender paid of draw NUMBER: in full, short, or less fees."""
    from api.draws.draw_shapes import NewFunding
    from api.draws.stored_draws import fund as fund_draw

    said = {"day": day.date().isoformat(), "fees": fees}
    body = _body(NewFunding, said | ({} if amount is None else {"amount": amount}))
    _step(number, project, lambda work, of: fund_draw(work, of, body), as_json=as_json)


@draw.command()
@click.option("--payee", required=True)
@click.option("--for", "number", type=int, required=True, metavar="DRAW", help="Number of a draw.")
@click.option("--amount", required=True)
@click.option("--received", type=_DATE, required=True, metavar="DATE")
@click.option("--conditional", is_flag=True, help="On being paid.")
@click.option("--final", is_flag=True, help="Final, not progress.")
@click.option("--note", default="")
@_project
def waiver(project: str | None, number: int, received: Any, **said: Any) -> None:
    """Post a lien waiver that came in."""
    from api.draws.paper_shapes import NewWaiver
    from api.draws.papers import add_waiver

    body = _body(NewWaiver, said | {"draw": number, "received": received.date().isoformat()})
    paper = _carried_out(project, lambda work, of: add_waiver(work, of, body).number)
    click.echo(f"Paper {paper} is posted: waiver of {said['payee']} for draw {number}.")


@draw.command()
@click.option("--kind", required=True, help="Such as insurance, permit, title date-down.")
@click.option("--name", required=True)
@click.option("--issued", type=_DATE, required=True, metavar="DATE")
@click.option("--expires", type=_DATE, metavar="DATE", help="Last day on which it holds.")
@click.option("--for", "number", type=int, metavar="DRAW", help="Of one draw only.")
@click.option("--row", type=int, help="Entry of the books that it is of.")
@click.option("--note", default="")
@_project
def evidence(
    project: str | None, number: int | None, row: int | None, issued: Any, expires: Any, **said: Any
) -> None:
    """Post a paper that the lender wants to see."""
    from api.draws.paper_shapes import NewEvidence
    from api.draws.papers import add_evidence

    said |= {"issued": issued.date().isoformat(), "draw": number, "row": row}
    said |= {"expires": expires.date().isoformat() if expires else None}
    body = _body(NewEvidence, {name: one for name, one in said.items() if one is not None})
    paper = _carried_out(project, lambda work, of: add_evidence(work, of, body).number)
    click.echo(f"Paper {paper} is posted: {said['kind']}, {said['name']}.")


def _open(said: dict[str, Any], project: str | None, *, as_json: bool) -> None:
    from api.commands.draw_shown import show_draft
    from api.draws.drafts import drafted, open_draft
    from api.draws.draw_shapes import NewDrawing
    from api.draws.shown_draws import draft_json

    body = _body(NewDrawing, said)

    def change(work: WritingSession, project_id: UUID) -> dict[str, Any]:
        draft = open_draft(work, project_id, body)
        return draft_json(drafted(work, draft, work.at), draft.opened_at.isoformat())

    show_draft(_carried_out(project, change), as_json=as_json)


def _body(shape: Any, said: dict[str, Any]) -> Any:
    """Return a body read by the rules of the service, its faults by the names of the options."""
    from marshmallow import ValidationError

    from api.commands.body_options import option_places
    from api.contract.commands import schema_of
    from api.contract.schemas import faults_of
    from estimator.errors import FundingFaulty

    schema = schema_of(shape)()
    try:
        return schema.load({name: one for name, one in said.items() if one != ""})
    except ValidationError as error:
        raise FundingFaulty(option_places(faults_of(error.messages, schema, "json"))) from None


def _carried_out(project: str | None, change: Callable[[WritingSession, UUID], Any]) -> Any:
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, now):
        return store.carry_out(
            caller, now, lambda work: change(work, project_named(work, project).id)
        )


def _changed(
    project: str | None, change: Callable[[WritingSession, UUID], StoredDraw]
) -> dict[str, Any]:
    from api.draws.shown_draws import draw_json

    def told(work: WritingSession, project_id: UUID) -> dict[str, Any]:
        return draw_json(work, change(work, project_id))

    result: dict[str, Any] = _carried_out(project, told)
    return result


def _step(
    number: int,
    project: str | None,
    step: Callable[[WritingSession, StoredDraw], object],
    *,
    as_json: bool,
) -> None:
    from api.commands.draw_shown import show_step
    from api.draws.shown_draws import draw_numbered

    def change(work: WritingSession, project_id: UUID) -> StoredDraw:
        of = draw_numbered(work, project_id, number)
        step(work, of)
        return of

    show_step(_changed(project, change), as_json=as_json)


def _draft(project: str | None) -> dict[str, Any]:
    from api.draws.drafts import draft_of, drafted
    from api.draws.shown_draws import draft_json

    def told(session: AccountSession, project_id: UUID, now: Any) -> dict[str, Any]:
        draft = draft_of(session, project_id)
        return draft_json(drafted(session, draft, now), draft.opened_at.isoformat())

    return _reading(project, told)


def _read(project: str | None, number: int) -> dict[str, Any]:
    from api.draws.shown_draws import draw_json, draw_numbered

    return _reading(
        project,
        lambda session, of, _: draw_json(session, draw_numbered(session, of, number)),
    )


def _reading(
    project: str | None, read: Callable[[AccountSession, UUID, Any], dict[str, Any]]
) -> dict[str, Any]:
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, now), store.reading(caller) as session:
        return read(session, project_named(session, project).id, now)
