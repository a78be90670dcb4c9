"""The books of the invented sample: opened and filled under a clock of their own."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from itertools import groupby
from typing import Any
from uuid import UUID

from api.contract.commands import reader_of
from api.ledger.baselines import accepted_document, accepted_estimate
from api.ledger.closed_weeks import close_week
from api.ledger.documents.document_shapes import NewDocument
from api.ledger.documents.stored_documents import add_document, read_document
from api.ledger.entries import post, take_back
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.money_entry_shapes import NewPayment
from api.ledger.opened_books import OpenBooks, open_books
from api.store.caller import Caller
from api.store.store import Store
from api.store.writing_session import WritingSession
from estimator.money import dollars
from estimator.sample.ten_weeks import (
    ACCEPTED,
    DOCUMENT,
    REVERSAL,
    WEEK,
    SampleEntry,
    document_content,
    ten_weeks,
)

_ROOM_BYTES = 1_000_000  # for its few documents


def open_sample(store: Store, caller: Caller) -> tuple[OpenBooks, int]:
    """Return the open books of the sample, and how many rows they have.

    Raises
    ------
    AlreadyThere
        If they are open.
    """
    from estimator.opening import SAMPLE_SCOPE
    from estimator.pricing.estimate_json import estimate_from_json

    opened = open_books(store, caller, ACCEPTED, SAMPLE_SCOPE)
    with store.reading(caller) as session:
        estimate_id = accepted_estimate(session, opened.project_id, ACCEPTED)
        entries = ten_weeks(estimate_from_json(accepted_document(session, estimate_id)))
    for entered, together in groupby(entries, key=lambda one: one.entered):
        listed = list(together)

        def change(work: WritingSession, own: Iterable[SampleEntry] = listed) -> None:
            for one in own:
                _post(work, opened.project_id, one)

        store.carry_out(caller, entered, change)
    return opened, entries[-1].row  # the last one makes a single row


def _post(work: WritingSession, project_id: UUID, entry: SampleEntry) -> None:
    happened = date.fromisoformat(entry.body["happened"])
    if entry.kind == REVERSAL:
        take_back(work, project_id, entry.body["number"], happened)
        return
    if entry.kind == WEEK:
        _close_and_pay(work, project_id, happened)
        return
    if entry.kind == DOCUMENT:
        _add_document(work, project_id, entry.body)
        return
    kind = ENTRY_KINDS[entry.kind]
    post(work, project_id, kind, reader_of(kind.body).load(entry.body))


def _add_document(work: WritingSession, project_id: UUID, body: dict[str, Any]) -> None:
    file, taken = body["file"], date.fromisoformat(body["happened"])
    belongs = {field: body[field] for field in ("entry", "spot", "code") if field in body}
    query = NewDocument(name=file, taken=taken, **belongs)
    add_document(work, project_id, read_document(query, document_content(file)), _ROOM_BYTES)


def _close_and_pay(work: WritingSession, project_id: UUID, ends: date) -> None:
    for row in close_week(work, project_id, ends):
        assert row.cents is not None
        amount = dollars(row.cents)
        body = NewPayment(happened=ends, cost=row.number, amount=amount, means="transfer")
        post(work, project_id, ENTRY_KINDS["payments"], body)
