"""Importing a bank or card export: each line is proposed, and posted where that is accepted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import or_

from api.contract.commands import loaded
from api.ledger.bank_decisions import COSTING, PAYING, SKIPPED, Decision, decision_of
from api.ledger.desk import IN_DAYS, Desk, party_key
from api.ledger.entries import add_entry, post
from api.ledger.entry_fields import NewEntry
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.import_desk import ImportDesk
from api.ledger.rows import BookEntry, PostedEntry
from api.ledger.stored_sums import unpaid_bills
from api.projects.rows import Project
from api.store.models.base import NAME_LENGTH
from api.store.writing_session import WritingSession
from estimator.errors import Faults, InputFaulty, LedgerFaulty, fault, quoted
from estimator.money import cents_text
from estimator.tracking.bank_lines import (
    DAYS_TO_CLEAR,
    KNOWN,
    LEFT_OUT,
    BankLine,
    BankProposal,
    OpenBill,
    bank_proposals,
    check_line_days,
    money_logged,
    open_bills,
)
from estimator.tracking.bank_terms import BankRule, BankTerms
from estimator.tracking.ledger_rows import Cost, Payment, Receipt
from estimator.tracking.tickets import standing
from estimator.workbook.entries.bank_csv import csv_lines
from estimator.workbook.entries.bank_ofx import is_ofx, ofx_lines

_COSTS, _PAYMENTS, _RECEIPTS = "costs", "payments", "receipts"
# A line that was imported is posted on its own day; what takes a row back may be of any day.
_NEAR = or_(IN_DAYS, BookEntry.reverses.is_not(None))
_AT_ONCE = 1_000


@dataclass(frozen=True)
class Statement:
    """An export as it was sent.

    Parameters
    ----------
    content : bytes
        CSV or OFX.
    name : str
        What to call it in messages.
    bank : str
        Whose: the name of its terms.
    """

    content: bytes
    name: str
    bank: str


@dataclass
class StatementImported:
    """What came of an export, or would come of it.

    Parameters
    ----------
    proposals : list of BankProposal
        One for each line, in their order.
    posted : dict of int to list of PostedEntry
        By the number of the line.
    faults : Faults
        Of all lines; with one of them nothing is posted.
    """

    proposals: list[BankProposal]
    posted: dict[int, list[PostedEntry]] = field(default_factory=dict)
    faults: Faults = field(default_factory=Faults)


def remember(work: WritingSession, project_id: UUID, kind: str, stated: Mapping[str, str]) -> None:
    """Post terms or a rule of a bank, unless the latest says the same.

    Raises
    ------
    ValidationError, LedgerFaulty
        If they are not right.
    """
    desk, of = Desk(work, project_id, work.at), ENTRY_KINDS[kind]
    body: NewEntry = loaded(of.body, {"happened": desk.today.isoformat(), **stated})
    row, _ = of.checked(desk, body)
    rows: list[Any] = desk.rows(kind, of.row)
    latest = [one for one in rows if _about(one) == _about(row)]
    head = {"row": row.row, "entered": row.entered, "happened": row.happened}
    if not latest or replace(latest[-1], **head) != row:
        post(work, project_id, of, body)


def _about(terms: BankTerms | BankRule) -> str:
    return terms.words if isinstance(terms, BankRule) else party_key(terms.name)


def import_statement(
    work: WritingSession,
    project_id: UUID,
    statement: Statement,
    decided: Mapping[int, Decision],
    *,
    is_accepted: bool,
) -> StatementImported:
    """Return what came of the lines of an export, posted in their order.

    Whoever calls commits only if there are no faults, and not at all for a preview.

    Parameters
    ----------
    work, project_id : WritingSession, UUID
        Where.
    statement : Statement
        The export.
    decided : mapping of int to Decision
        By the number of the line, what it becomes.
    is_accepted : bool
        True to post what is proposed for the others.

    Raises
    ------
    LedgerFaulty
        If the file cannot be read.
    """
    work.existing(Project, project_id)
    desk = ImportDesk(work, project_id, work.at)
    lines = _lines(desk, statement)
    check_line_days(lines, desk.today)
    proposed = _proposals(desk, statement.bank, lines)
    imported = StatementImported(proposed)
    for number in sorted(set(decided) - {one.line.number for one in proposed}):
        imported.faults.add(f"line {number}", "is not in the file", "look at the preview")
    for one in proposed:
        decision = decided.get(one.line.number) or decision_of(one, is_accepted=is_accepted)
        try:
            entries = _post(desk, statement.bank, one, decision)
        except InputFaulty as error:
            for wrong in error.faults:
                imported.faults.add(f"line {one.line.number}", wrong.what, wrong.remedy)
        else:
            if entries:
                imported.posted[one.line.number] = entries
    desk.write()
    return imported


def _lines(desk: Desk, statement: Statement) -> list[BankLine]:
    if is_ofx(statement.content):
        return ofx_lines(statement.content, statement.name)
    terms = desk.rows("banks", BankTerms, statement.bank)
    if not terms:
        what = f"nothing says how the files of {quoted(statement.bank)} are read"
        raise fault(LedgerFaulty, what, "name its columns: date=..,amount=..,description=..")
    return csv_lines(statement.content, statement.name, terms[-1])


def _proposals(desk: Desk, bank: str, lines: list[BankLine]) -> list[BankProposal]:
    if not lines:
        return []
    days = [one.day for one in lines]
    near = {"of_first": min(days) - timedelta(DAYS_TO_CLEAR), "of_last": max(days)}
    costs = desk.rows(_COSTS, Cost, None, _NEAR, **near)
    payments = desk.rows(_PAYMENTS, Payment, None, _NEAR, **near)
    receipts = desk.rows(_RECEIPTS, Receipt, None, _NEAR, **near)
    live = set(standing([*costs, *payments, *receipts]))
    known: list[Cost | Payment | Receipt] = [*costs, *payments, *receipts]
    logged, begins = money_logged(payments, receipts), _bank_line(bank, "")
    marks = {
        one.bank_line.removeprefix(begins)
        for one in known
        if one.row in live and one.bank_line.startswith(begins)
    }
    rules = desk.rows("bank_rules", BankRule)
    return bank_proposals(lines, _open_bills(desk), rules, marks, logged)


def _open_bills(desk: Desk) -> list[OpenBill]:
    """Return the bills on which something is to pay, found by the sums of what each moved."""
    paid = dict(unpaid_bills(desk.session, desk.project_id))
    numbers = sorted(paid)
    bills = [
        bill
        for first in range(0, len(numbers), _AT_ONCE)
        for bill in desk.related(numbers[first : first + _AT_ONCE])
        if isinstance(bill, Cost)
    ]
    return open_bills(bills, paid)


def _bank_line(bank: str, mark: str) -> str:
    return f"{party_key(bank)}: {mark}"


def _post(
    desk: ImportDesk, bank: str, one: BankProposal, decision: Decision | None
) -> list[PostedEntry]:
    """Return the entries that a line became: none without a decision."""
    if decision is None or decision.what == SKIPPED or one.what in (KNOWN, LEFT_OUT):
        return []
    line = one.line
    head = {"happened": line.day.isoformat()}
    amount = cents_text(abs(line.cents))
    means = {"means": f"{bank} {line.reference}".strip()[:NAME_LENGTH]}
    paying = head | {"amount": amount} | means

    def add(kind: str, body: dict[str, Any]) -> PostedEntry:
        of = ENTRY_KINDS[kind]
        row, notes = of.checked(desk, loaded(of.body, body))
        marked = replace(row, bank_line=_bank_line(bank, line.mark))
        return add_entry(desk.session, desk, of, marked, notes)

    if line.cents > 0 and decision.what in (PAYING, COSTING):
        raise fault(LedgerFaulty, "is money that came in", "take it as a receipt, or skip it")
    if line.cents < 0 and decision.what not in (PAYING, COSTING):
        raise fault(LedgerFaulty, "is money that went out", "name the row that it pays, or a code")
    if decision.what == PAYING:
        return [add(_PAYMENTS, paying | {"cost": decision.row})]
    words = (line.description or bank)[:NAME_LENGTH]
    if decision.what != COSTING:
        return [add(_RECEIPTS, head | {"payer": words, "reason": bank, "amount": amount})]
    split = {"code": decision.code, "kind": decision.kind}
    body = head | {"vendor": decision.vendor or words, "net": amount, "splits": [split]}
    cost = add(_COSTS, body | {"note": line.description})
    return [cost, add(_PAYMENTS, paying | {"cost": cost.number})]
