"""What is sent about a bank or card: how its exports are read, and whose its lines are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from api.contract.fields import Choice, Words
from api.ledger.entry_fields import CostCode, Name, NewEntry
from api.store.models.base import NAME_LENGTH
from estimator.rates.kinds import COSTS
from estimator.tracking.bank_words import (
    COMMA,
    DAY_FIRST,
    ISO,
    NEGATIVE,
    POINT,
    POSITIVE,
    US,
)

EXAMPLE_BANK: dict[str, Any] = {
    "happened": "2026-02-02", "name": "checking", "date_column": "Posted",
    "description_column": "Payee", "amount_column": "Amount", "dates": "us",
}  # fmt: skip
EXAMPLE_BANK_RULE: dict[str, Any] = {
    "happened": "2026-02-02", "words": "MILL STREET RENTAL", "vendor": "Mill Street Rental",
    "code": "30.020", "kind": "equipment",
}  # fmt: skip
Heading = Annotated[str, Words(NAME_LENGTH)]


@dataclass(frozen=True, kw_only=True)
class NewBank(NewEntry):
    """How to read the exports of a bank or card; the latest of a name counts."""

    name: Annotated[Name, "Name of the bank account or card."]
    date_column: Annotated[Heading, "Heading of the dates in its CSV files."]
    description_column: Annotated[Heading, "Heading of the descriptions in its CSV files."]
    amount_column: Annotated[str, Words(NAME_LENGTH), "Amounts with a sign."] = ""
    debit_column: Annotated[str, Words(NAME_LENGTH), "Money out, if in a column of its own."] = ""
    credit_column: Annotated[str, Words(NAME_LENGTH), "Money in, if in a column of its own."] = ""
    reference_column: Annotated[str, Words(NAME_LENGTH), "Check numbers and the like."] = ""
    dates: Annotated[str, Choice(ISO, US, DAY_FIRST), "How its dates are written."] = ISO
    decimal: Annotated[str, Choice(POINT, COMMA), "The mark before the cents."] = POINT
    out: Annotated[str, Choice(NEGATIVE, POSITIVE), "The sign of money that goes out."] = NEGATIVE


@dataclass(frozen=True, kw_only=True)
class NewBankRule(NewEntry):
    """Where a bank line goes if its description has certain words."""

    words: Annotated[Name, "Words of the description, such as MILL STREET RENTAL."]
    vendor: Annotated[str, Words(NAME_LENGTH), "Vendor that they stand for."] = ""
    code: Annotated[CostCode, "Cost code to post to; leave it out if not for this job."] = ""
    kind: Annotated[str, Choice(*COSTS), "Kind of the cost."] = ""
