"""`/v1/projects/{id}/books`: what happened on the job, posted once and never changed.

What works on the library is imported when it is first used: a service at rest stays small.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import date
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma
from flask import Response
from sqlalchemy import select

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.fields import Choice, Day, Moment, Whole
from api.contract.lists import Page, PageQuery, page_of
from api.contract.places import ROOT, faults_at
from api.contract.schemas import Answer
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.ledger.entry_fields import Happened, Name, NewEntry
from api.ledger.entry_json import entry_json, sums_hidden
from api.ledger.entry_kinds import ENTRY_KINDS, MONEY_OF_SITE_KINDS, EntryKind
from api.ledger.money_entry_shapes import NewChange
from api.ledger.payroll_shapes import EXAMPLE_WEEK, Week, WeekAnswer
from api.ledger.rows import BookEntry, PostedEntry
from api.projects.project_routes import ONE as PROJECT
from api.projects.rows import Project
from api.store.models.base import HIGHEST_POSITION
from api.store.sessions import not_found
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

AT = f"{PROJECT}/books"
ENTRIES = f"{AT}/entries"
ONE = f"{ENTRIES}/<uuid:entry_id>"
EXAMPLE_REVERSAL: dict[str, Any] = {"happened": "2026-02-18"}
EXAMPLE_ALTERNATE: dict[str, Any] = {"happened": "2026-03-02", "alternate": "A1"}

books = Blueprint("books", __name__, description="The books: entries are added, never changed.")


@dataclass(frozen=True, kw_only=True)
class EntryQuery(PageQuery):
    """Which entries to list."""

    kind: Annotated[str | None, Choice(*ENTRY_KINDS)] = None
    since: Annotated[date | None, Day(), "Happened on this day or later."] = None


@dataclass(frozen=True, kw_only=True)
class Reversal:
    """When an entry is taken back."""

    happened: Happened


@dataclass(frozen=True, kw_only=True)
class TakenAlternate:
    """An alternate of the accepted estimate, and when it is taken."""

    happened: Happened
    alternate: Annotated[Name, "Its code in the scope, such as A1."]


class EntryAnswer(Answer):
    """An entry of the books."""

    id = ma.fields.UUID(required=True)
    number = Whole(1, HIGHEST_POSITION, required=True)
    kind = ma.fields.String(required=True)
    happened = ma.fields.String(required=True)
    entered_at = Moment(required=True)
    entered_by = ma.fields.String(required=True)
    reverses = ma.fields.Integer(required=True, allow_none=True)
    amount = ma.fields.String(required=True, allow_none=True)
    notes = ma.fields.List(ma.fields.String(), required=True)
    row = ma.fields.Dict(required=True)


class EntryPage(Page):
    """Some entries, in the order of the books."""

    entries = ma.fields.List(ma.fields.Nested(EntryAnswer), required=True)


def _posting(kind: EntryKind) -> None:
    """Add the route by which entries of a kind are posted."""

    def post_entry(body: NewEntry, project_id: UUID) -> Response:
        def create(work: WritingSession) -> StoredAnswer:
            from api.ledger.entries import post

            with faults_at(ROOT, names):
                return _created(work, post(work, project_id, kind, body))

        return create_row(services(), current_caller(), create)

    names = [one.name for one in fields(kind.body)]
    words = kind.body.__doc__ or ""
    post_entry.__name__ = f"post_{kind.name}"
    post_entry.__doc__ = f"Post {words[0].lower()}{words[1:]}"
    route = books.answers(EntryAnswer, 201)(books.creates(post_entry))
    books.post(f"{AT}/{kind.path}")(books.takes(kind.body, example=kind.example)(route))


for _kind in ENTRY_KINDS.values():
    _posting(_kind)


@books.post(f"{ONE}/reversal")
@books.takes(Reversal, example=EXAMPLE_REVERSAL)
@books.answers(EntryAnswer, 201)
@books.creates
def reverse_entry(body: Reversal, project_id: UUID, entry_id: UUID) -> Response:
    """Reverse an entry of money or hours in full, with a new entry."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.ledger.entries import take_back

        number = work.existing(BookEntry, entry_id, project_id=project_id).number
        return _created(work, take_back(work, project_id, number, body.happened))

    return create_row(services(), current_caller(), create)


@books.post(f"{AT}/weeks")
@books.takes(Week, example=EXAMPLE_WEEK)
@books.answers(WeekAnswer, 201)
@books.creates
def post_week(body: Week, project_id: UUID) -> Response:
    """Close a workweek: paid hours become payroll rows; for late hours, rows of the difference."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.ledger.closed_weeks import close_week

        with faults_at(ROOT, ["ends"]):
            entries = close_week(work, project_id, body.ends)
        week = {
            "ends": body.ends.isoformat(),
            "entries": [entry_json(one, work.caller) for one in entries],
        }
        return creation(_where(entries[0]), week)

    return create_row(services(), current_caller(), create)


@books.post(f"{AT}/alternates")
@books.takes(TakenAlternate, example=EXAMPLE_ALTERNATE)
@books.answers(EntryAnswer, 201)
@books.creates
def take_alternate(body: TakenAlternate, project_id: UUID) -> Response:
    """Take an alternate of the accepted estimate: it changes its codes, with their markups."""
    parts, changes = services(), list[NewChange]()

    def prepare() -> None:
        from api.ledger.taken_alternates import alternate_change

        with parts.store.reading(current_caller()) as session, faults_at(ROOT, ["alternate"]):
            session.existing(Project, project_id)
            changes[:] = [
                alternate_change(session, project_id, body.alternate, body.happened, parts.now)
            ]

    def create(work: WritingSession) -> StoredAnswer:
        from api.ledger.entries import post

        with faults_at(ROOT, ["happened", "alternate"]):
            return _created(work, post(work, project_id, ENTRY_KINDS["changes"], changes[0]))

    return create_row(parts, current_caller(), create, prepare)


@books.get(ENTRIES)
@books.asks(EntryQuery)
@books.answers(EntryPage)
def list_entries(query: EntryQuery, project_id: UUID) -> Response:
    """List entries in the order of the books."""
    statement = select(BookEntry).where(BookEntry.project_id == project_id)
    if query.kind is not None:
        statement = statement.where(BookEntry.kind == query.kind)
    if current_caller().is_crew:
        statement = statement.where(BookEntry.kind.in_(MONEY_OF_SITE_KINDS))
    if query.since is not None:
        statement = statement.where(BookEntry.happened >= query.since)
    order = (BookEntry.number, BookEntry.id)
    with services().store.reading(current_caller()) as session:
        session.existing(Project, project_id)
        page = page_of(session, statement, order, query, cursor_key())
        hidden = sums_hidden(session, project_id, services().now, page.rows)
    entries = [entry_json(row, current_caller(), hidden) for row in page.rows]
    return json_answer({"entries": entries, "next": page.next})


@books.get(ONE)
@books.answers(EntryAnswer)
def show_entry(project_id: UUID, entry_id: UUID) -> Response:
    """Show an entry."""
    caller = current_caller()
    with services().store.reading(caller) as session:
        entry = session.existing(BookEntry, entry_id, project_id=project_id)
        hidden = sums_hidden(session, project_id, services().now, [entry])
    if caller.is_crew and entry.kind not in MONEY_OF_SITE_KINDS:
        raise not_found(BookEntry, entry_id)
    return json_answer(entry_json(entry, caller, hidden))


def _created(work: WritingSession, entry: PostedEntry) -> StoredAnswer:
    return creation(_where(entry), entry_json(entry, work.caller))


def _where(entry: PostedEntry) -> str:
    return f"/v1/projects/{entry.project_id}/books/entries/{entry.id}"
