"""The books of the invented sample: opened and filled under a clock of their own."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from itertools import groupby
from uuid import UUID

from api.contract.commands import reader_of
from api.ledger.closed_weeks import close_week
from api.ledger.entries import post, take_back
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.money_entry_shapes import NewPayment
from api.ledger.opened_books import OpenBooks, open_books
from api.store.caller import Caller
from api.store.sessions import WritingSession
from api.store.store import Store
from estimator.money import dollars
from estimator.sample.ten_weeks import ACCEPTED, REVERSAL, WEEK, SampleEntry, ten_weeks


def open_sample(store: Store, caller: Caller) -> tuple[OpenBooks, int]:
    """Return the open books of the sample, and how many rows they have.

    Raises
    ------
    AlreadyThere
        If they are open.
    """
    from estimator.opening import SAMPLE_SCOPE, open_scope
    from estimator.pricing.printed_estimate import printed_estimate
    from estimator.scheduling.dated_estimate import price

    opened = open_books(store, caller, ACCEPTED, SAMPLE_SCOPE)
    entries = ten_weeks(printed_estimate(price(*open_scope(SAMPLE_SCOPE))))
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
    kind = ENTRY_KINDS[entry.kind]
    post(work, project_id, kind, reader_of(kind.body).load(entry.body))


def _close_and_pay(work: WritingSession, project_id: UUID, ends: date) -> None:
    for row in close_week(work, project_id, ends):
        assert row.cents is not None
        amount = dollars(row.cents)
        body = NewPayment(happened=ends, cost=row.number, amount=amount, means="transfer")
        post(work, project_id, ENTRY_KINDS["payments"], body)
