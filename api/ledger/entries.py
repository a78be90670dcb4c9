"""Posting to the books, taking an entry back, and reading them whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any
from uuid import UUID

from sqlalchemy import select

from api.ledger.desk import Desk, opened_desk, party_key
from api.ledger.entry_fields import NewEntry
from api.ledger.entry_kinds import ENTRY_KINDS, MONEY_OF_BODIES, EntryKind
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry, PostedEntry
from api.ledger.stored_sums import related_rows
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import LedgerFaulty, fault
from estimator.tracking.change_states import APPROVED
from estimator.tracking.entry_checks import check_day
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.posting import paid_notes, reversal_of


def _cost_back(row: Cost) -> dict[str, Any]:
    """Return what takes a cost back; payroll is taken back on its own day, with its week."""
    back = {"splits": reversal_of(row), "is_credit": False}
    return back if row.payroll is None else back | {"happened": row.happened}


_TAKEN_BACK: dict[str, Callable[[Any], dict[str, Any]]] = {
    "costs": _cost_back,
    "payments": lambda row: {"cents": -row.cents},
    "receipts": lambda row: {"cents": -row.cents},
    "tickets": lambda row: {"cents": -row.cents, "quantity": -row.quantity},
    "rents": lambda row: {"happened": row.happened},
    "stock": lambda row: {
        "quantity": -row.quantity,
        "happened": row.happened,
        "cents": None if row.cents is None else -row.cents,
    },
    "machine_hours": lambda row: {
        "run": -row.run,
        "standing": -row.standing,
        "happened": row.happened,
    },
    "hours": lambda row: {"hours": -row.hours, "happened": row.happened},
}


def post(work: WritingSession, project_id: UUID, kind: EntryKind, body: NewEntry) -> PostedEntry:
    """Return a new entry of the books, checked by the library.

    Raises
    ------
    LedgerFaulty, LaborFaulty, AmountFaulty
        With every fault of the entry.
    """
    return post_at(work, opened_desk(work, project_id), kind, body)


def post_at(work: WritingSession, desk: Desk, kind: EntryKind, body: NewEntry) -> PostedEntry:
    """Return a new entry of the books that a desk is for: see `post`."""
    _refuse_money(work, kind, body)
    row, notes = kind.checked(desk, body)
    return add_entry(work, desk, kind, row, [*_written_notes(desk, body), *notes])


def _written_notes(desk: Desk, body: NewEntry) -> list[str]:
    """Return a note of the day on which an old record was written down.

    Raises
    ------
    LedgerFaulty
        If that day is to come, or before what it tells of happened.
    """
    if body.written is None:
        return []
    if body.written > desk.today:
        what = f"{body.written} is in the future"
        raise fault(LedgerFaulty, what, f"today is {desk.today}", "written")
    if body.written < body.happened:
        what = f"{body.written} is before {body.happened}, when it happened"
        raise fault(LedgerFaulty, what, "give the day on which the record was made", "written")
    return [f"written down on {body.written}"]


def _refuse_money(work: WritingSession, kind: EntryKind, body: NewEntry) -> None:
    """Refuse a rate or an amount of a crew, which states none."""
    field = MONEY_OF_BODIES.get(kind.name)
    if work.caller.is_crew and field and getattr(body, field) is not None:
        raise fault(LedgerFaulty, "may not come from a crew", "leave it out", field)


def take_back(work: WritingSession, project_id: UUID, number: int, happened: date) -> PostedEntry:
    """Return the entry that takes another back in full.

    Raises
    ------
    LedgerFaulty
        If there is no such entry, it is of a kind that is not taken back, is itself a reversal, or
        was reversed before.
    """
    desk = opened_desk(work, project_id)
    check_day(happened, desk.today)
    entry = _numbered(work, project_id, number)
    _check_standing(work, entry)
    kind = ENTRY_KINDS[entry.kind]
    row: Any = library_row(entry.fields, kind.row)
    head = {"row": desk.number, "happened": happened, "entered": desk.at, "reverses": number}
    back = replace(row, **(head | _TAKEN_BACK[entry.kind](row)))
    is_cost = isinstance(row, Cost)
    notes = paid_notes(row, _paid_on(work, project_id, number)) if is_cost else []
    return add_entry(work, desk, kind, back, notes)


def give_way(work: WritingSession, project_id: UUID, number: int) -> None:
    """Take an entry back on its own day, so that another may stand in its place.

    What is measured is not taken back: the latest counts.

    Raises
    ------
    LedgerFaulty
        If something is paid on it, or it is an order or an approved change, which add up.
    """
    entry = _numbered(work, project_id, number)
    if entry.kind == "commitments" or entry.fields.get("state") == APPROVED:
        what = f"row {number} would not be replaced: another one adds to it"
        raise fault(LedgerFaulty, what, "post what is more or less as a new entry")
    if entry.kind not in _TAKEN_BACK:
        return
    if sum(one.cents for one in _paid_on(work, project_id, number)):
        what = f"row {number} is paid, in part or in full"
        raise fault(LedgerFaulty, what, "take the payment back first, or keep the row")
    take_back(work, project_id, number, entry.happened)


def _paid_on(session: AccountSession, project_id: UUID, number: int) -> list[Payment]:
    related = related_rows(session, project_id, [number])
    return [one for one in related if isinstance(one, Payment) and one.cost == number]


def _numbered(session: AccountSession, project_id: UUID, number: int) -> BookEntry:
    entry = session.scalar(
        select(BookEntry).where(BookEntry.project_id == project_id, BookEntry.number == number)
    )
    if entry is None:
        raise fault(LedgerFaulty, f"there is no row {number}", "look at the list of entries")
    return entry


def _check_standing(session: AccountSession, entry: BookEntry) -> None:
    if entry.kind not in _TAKEN_BACK:
        what = f"row {entry.number} is not of money, rent, stock or hours: only those are reversed"
        adds_up = entry.kind in ("commitments", "changes")
        remedy = "post what is more or less" if adds_up else "post what is right: the latest counts"
        raise fault(LedgerFaulty, what, remedy)
    if entry.reverses is not None:
        what = f"row {entry.number} is a reversal itself"
        raise fault(LedgerFaulty, what, "post the entry again")
    reversing = select(BookEntry.number).where(
        BookEntry.project_id == entry.project_id, BookEntry.reverses == entry.number
    )
    if (earlier := session.scalar(reversing)) is not None:
        raise fault(LedgerFaulty, f"row {entry.number} is reversed already, by row {earlier}")


def add_entry(
    work: WritingSession, desk: Desk, kind: EntryKind, row: Any, notes: list[str]
) -> PostedEntry:
    """Return the entry of a row that was checked, added to the books."""
    entry = PostedEntry(
        id=desk.new_id(),
        account_id=work.caller.account_id,
        project_id=desk.project_id,
        number=row.row,
        kind=kind.name,
        happened=row.happened,
        entered_at=desk.at,
        entered_by=work.caller.actor,
        party=party_key(getattr(row, kind.party)) if kind.party else "",
        document=getattr(row, kind.document) if kind.document else "",
        reverses=getattr(row, "reverses", None),
        cents=getattr(row, "cents", None),
        notes=notes,
        row=row,
    )
    desk.keep(work, entry, row)
    return entry
