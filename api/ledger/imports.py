"""Importing entries: new ones are posted, known ones skipped, changed ones left to be decided."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from marshmallow import ValidationError
from sqlalchemy import select

from api.contract.commands import schema_of
from api.contract.schemas import faults_of
from api.ledger.desk import party_key
from api.ledger.entries import post
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry
from api.store.sessions import AccountSession, WritingSession
from estimator.errors import Faults, InputFaulty
from estimator.money import to_cents
from estimator.workbook.entries.entry_reader import TypedEntry

Key = tuple[Any, ...]


@dataclass(frozen=True)
class _Likeness:
    """What makes two entries of a kind the same one, and what must agree then."""

    key_of_body: Callable[[Any], Key]
    key_of_row: Callable[[Any], Key]
    said_by_body: Callable[[Any], Key]
    said_by_row: Callable[[Any], Key]


def _cost_key(vendor: str, document: str, otherwise: Key) -> Key:
    return (party_key(vendor), document.casefold()) if document else (party_key(vendor), *otherwise)


_LIKENESS = {
    "costs": _Likeness(
        lambda one: _cost_key(one.vendor, one.document, (one.happened, to_cents(one.net))),
        lambda row: _cost_key(row.vendor, row.document, (row.happened, row.net_cents)),
        lambda one: (
            one.happened, to_cents(one.net), to_cents(one.tax),
            sorted((split.code, split.kind) for split in one.splits),
        ),
        lambda row: (
            row.happened, row.net_cents, row.cents - row.net_cents,
            sorted((split.code, split.kind) for split in row.splits),
        ),
    ),
    "tickets": _Likeness(
        lambda one: (party_key(one.vendor), one.number.casefold()),
        lambda row: (party_key(row.vendor), row.number.casefold()),
        lambda one: (one.happened, one.code, one.kind, one.quantity, to_cents(one.amount)),
        lambda row: (row.happened, row.code, row.kind, row.quantity, row.cents),
    ),
    "hours": _Likeness(
        lambda one: (party_key(one.person), one.happened, one.code, one.trade),
        lambda row: (party_key(row.person), row.happened, row.code, row.trade),
        lambda one: (one.hours, one.rate, one.unpaid),
        lambda row: (row.hours, row.rate_per_hr, row.is_unpaid),
    ),
    "progress": _Likeness(
        lambda one: (one.code, one.happened),
        lambda row: (row.code, row.happened),
        lambda one: (one.in_place, one.expected, one.percent),
        lambda row: (row.in_place, row.expected, row.is_percent),
    ),
}  # fmt: skip


@dataclass
class Imported:
    """What came of an import, or would come of it.

    Parameters
    ----------
    new : list of (str, BookEntry)
        Where it stands, and the entry that it makes.
    known : list of (str, int)
        Where it stands, and the row of the books that says the same.
    changed : list of (str, int)
        Where it stands, and the row of the books that says otherwise: it is not posted.
    faults : Faults
        Of all rows; with one of them nothing is posted.
    """

    new: list[tuple[str, BookEntry]] = field(default_factory=list)
    known: list[tuple[str, int]] = field(default_factory=list)
    changed: list[tuple[str, int]] = field(default_factory=list)
    faults: Faults = field(default_factory=Faults)


def import_entries(
    work: WritingSession, project_id: UUID, entries: Sequence[TypedEntry]
) -> Imported:
    """Return what came of entries that were typed in, posted in their order.

    Whoever calls commits only if there are no faults, and not at all for a preview.
    """
    imported = Imported()
    standing = _standing_rows(work, project_id, {one.kind for one in entries})
    for typed in entries:
        try:
            _import(work, project_id, typed, standing, imported)
        except ValidationError as error:
            schema = schema_of(ENTRY_KINDS[typed.kind].body)()
            _note(imported.faults, typed, faults_of(error.messages, schema, "json"))
        except InputFaulty as error:
            _note(imported.faults, typed, error.faults)
    return imported


def _import(
    work: WritingSession,
    project_id: UUID,
    typed: TypedEntry,
    standing: dict[tuple[str, Key], tuple[int, Key]],
    imported: Imported,
) -> None:
    kind, like = ENTRY_KINDS[typed.kind], _LIKENESS[typed.kind]
    body = schema_of(kind.body)().load(typed.body)
    key = (typed.kind, like.key_of_body(body))
    if key in standing:
        row, said = standing[key]
        matching = imported.known if said == like.said_by_body(body) else imported.changed
        matching.append((typed.where, row))
        return
    entry = post(work, project_id, kind, body)
    standing[key] = (entry.number, like.said_by_body(body))
    imported.new.append((typed.where, entry))


def _standing_rows(
    session: AccountSession, project_id: UUID, kinds: Iterable[str]
) -> dict[tuple[str, Key], tuple[int, Key]]:
    """Return by kind and key the rows that are no reversals and were not reversed."""
    statement = select(BookEntry).where(
        BookEntry.project_id == project_id, BookEntry.kind.in_(sorted(kinds))
    )
    entries = list(session.scalars(statement.order_by(BookEntry.number)))
    gone = {one.reverses for one in entries}
    standing = {}
    for one in entries:
        if one.reverses is None and one.number not in gone:
            row: Any = library_row(one.fields, ENTRY_KINDS[one.kind].row)
            like = _LIKENESS[one.kind]
            standing[one.kind, like.key_of_row(row)] = (one.number, like.said_by_row(row))
    return standing


def _note(faults: Faults, typed: TypedEntry, of_entry: Iterable[Any]) -> None:
    """Note the faults of an entry where its fields stand: sheet, row and column."""
    for one in of_entry:
        name = one.where.removeprefix("#/").partition("/")[0]
        faults.add(typed.cells.get(name, typed.where), one.what, one.remedy)
