"""How a bank's exports are read and whose its lines are: what a body says, as a row."""

from __future__ import annotations

from api.ledger.bank_shapes import NewBank, NewBankRule
from api.ledger.desk import Desk
from estimator.errors import Faults, LedgerFaulty
from estimator.tracking.bank_terms import BankRule, BankTerms
from estimator.tracking.entry_checks import check_code, check_day


def bank_terms_row(desk: Desk, body: NewBank) -> tuple[BankTerms, list[str]]:
    """Return how the exports of an account are read."""
    check_day(body.happened, desk.today)
    if bool(body.amount_column) == bool(body.debit_column and body.credit_column):
        faults, remedy = (
            Faults(),
            "name one column with a sign, or one of debits and one of credits",
        )
        faults.add("amount_column", "does not say which column holds the amounts", remedy)
        faults.raise_if_any(LedgerFaulty)
    return BankTerms(
        **desk.head(body), name=body.name, date_column=body.date_column,
        description_column=body.description_column, amount_column=body.amount_column,
        debit_column=body.debit_column, credit_column=body.credit_column,
        reference_column=body.reference_column, dates=body.dates, decimal=body.decimal,
        out=body.out,
    ), []  # fmt: skip


def bank_rule_row(desk: Desk, body: NewBankRule) -> tuple[BankRule, list[str]]:
    """Return whose the lines with certain words are."""
    check_day(body.happened, desk.today)
    if body.code:
        check_code(body.code, desk.budget)
        faults = Faults()
        for field in ("vendor", "kind"):
            if not getattr(body, field):
                faults.add(field, "is missing", "a rule with a code names vendor and kind too")
        faults.raise_if_any(LedgerFaulty)
    return BankRule(
        **desk.head(body), words=" ".join(body.words.casefold().split()), vendor=body.vendor,
        code=body.code, kind=body.kind,
    ), []  # fmt: skip
