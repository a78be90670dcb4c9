"""What an entry of money says when it is posted: costs, payments, receipts, orders, changes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Annotated, Any

from api.contract.commands import several
from api.contract.fields import Choice, Day, Fraction, Money, Quantity, Whole, Words, YesNo
from api.ledger.entry_fields import (
    ClockTime,
    CostCode,
    CostKind,
    Name,
    NewEntry,
    Note,
    Positive,
    RowNumber,
    SignedAmount,
    UnitName,
    Vendor,
    rows_named,
)
from api.store.models.base import CODE_LENGTH, NAME_LENGTH
from estimator.rates.kinds import COSTS
from estimator.tracking.change_states import APPROVED, CHANGE_STATES

MOST_SPLITS = 100
MOST_TICKETS = 1_000
_MINUTES_A_DAY = 24 * 60

EXAMPLE_COST: dict[str, Any] = {
    "happened": "2026-02-12",
    "vendor": "Ridge Road Quarry",
    "document": "Q-1187",
    "net": "1440.00",
    "tax": "100.80",
    "splits": [{"code": "30.020", "kind": "material"}],
    "quantity": "60",
    "unit": "ton",
}
EXAMPLE_PAYMENT: dict[str, Any] = {
    "happened": "2026-02-20", "cost": 1, "amount": "1000.00", "means": "check 204",
}  # fmt: skip
EXAMPLE_RECEIPT: dict[str, Any] = {
    "happened": "2026-02-14", "payer": "Salvage yard", "reason": "old planks", "amount": "620.00",
}  # fmt: skip
EXAMPLE_TICKET: dict[str, Any] = {
    "happened": "2026-02-11", "number": "T-5521", "vendor": "Ridge Road Quarry", "truck": "14",
    "code": "30.020", "kind": "material", "quantity": "15.75", "unit": "ton", "amount": "404.46",
    "came": "09:25", "left": "09:50", "waited_minutes": 6,
}  # fmt: skip
EXAMPLE_COMMITMENT: dict[str, Any] = {
    "happened": "2026-02-02", "number": "7", "vendor": "Ridge Road Quarry", "code": "30.020",
    "kind": "material", "amount": "9600.00",
}  # fmt: skip
EXAMPLE_CHANGE: dict[str, Any] = {
    "happened": "2026-02-16",
    "reason": "soft ground under the pit: 18 ton more stone",
    "parts": [
        {"code": "30.020", "kind": "material", "amount": "432.00", "quantity": "18"},
        {"code": "contingency", "amount": "-432.00"},
    ],
}

_DOCUMENT = "Number of the bill; the same vendor, number and amount are refused a second time."


@dataclass(frozen=True, kw_only=True)
class Split:
    """What one cost code and kind bears of a cost."""

    code: CostCode
    kind: CostKind
    amount: Annotated[
        Decimal | None, Money(least=None), "Part of the net; on every split, or on none."
    ] = None
    share: Annotated[Decimal, Quantity(), "Weight, if no split has an amount."] = Decimal(1)


@dataclass(frozen=True, kw_only=True)
class NewCost(NewEntry):
    """A bill, a store receipt or a vendor's credit."""

    vendor: Vendor
    net: Annotated[SignedAmount, "Amount before tax, such as 1440.00."]
    splits: Annotated[Sequence[Split], several(Split, 1, MOST_SPLITS)]
    tax: Annotated[SignedAmount, "Sales tax on it."] = Decimal(0)
    document: Annotated[str, Words(NAME_LENGTH), _DOCUMENT] = ""
    quantity: Annotated[Decimal | None, Quantity(least=None), "Quantity that it charges."] = None
    unit: UnitName = ""
    once: Annotated[bool, YesNo(), "True for a cost that does not recur, such as a set-up fee."] = (
        False
    )
    credit: Annotated[bool, YesNo(), "True for a vendor's credit; its amounts are negative."] = (
        False
    )
    tickets: Annotated[Sequence[int], rows_named(MOST_TICKETS), "Rows of its tickets."] = ()
    rents: Annotated[Sequence[int], rows_named(MOST_TICKETS), "Rows of the rents it charges."] = ()
    rent_through: Annotated[
        date | None, Day(), "Last day of rent that it charges; its own day if left out."
    ] = None
    loads: Annotated[int | None, Whole(0, 10_000), "Loads that the bill charges."] = None
    order: Annotated[str, Words(NAME_LENGTH), "Number of the order it is billed on."] = ""
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewPayment(NewEntry):
    """A payment on a cost; a negative amount is money that came back."""

    cost: Annotated[RowNumber, "Row of the cost that it pays."]
    amount: Annotated[SignedAmount, "Amount paid, such as 1000.00."]
    means: Annotated[Name, "How it was paid, such as check 204."]


@dataclass(frozen=True, kw_only=True)
class NewReceipt(NewEntry):
    """Money that came in: a sale of salvage, a refund, insurance."""

    payer: Annotated[Name, "Who paid it."]
    reason: Annotated[Name, "What it was paid for, such as old planks."]
    amount: Annotated[Decimal, Money(above="0"), "Amount that came in, such as 620.00."]


@dataclass(frozen=True, kw_only=True)
class NewTicket(NewEntry):
    """A delivery: quantity, hired time and accrued cost in one entry."""

    number: Annotated[Name, "Number of the ticket."]
    vendor: Vendor
    code: CostCode
    kind: CostKind
    quantity: Annotated[Positive, "Quantity delivered, such as 15.75."]
    unit: UnitName
    amount: Annotated[
        Decimal | None,
        Money(),
        "What it will be billed at, with tax; if left out, at the vendor's last unit price.",
    ] = None
    truck: Annotated[str, Words(CODE_LENGTH), "Number of the truck."] = ""
    came: Annotated[time | None, ClockTime(), "When the truck came in, such as 09:25."] = None
    left: Annotated[time | None, ClockTime(), "When the truck went out, such as 09:50."] = None
    waited_minutes: Annotated[
        int | None,
        Whole(0, _MINUTES_A_DAY),
        "Minutes of that time that the truck waited; not known if left out.",
    ] = None
    placed: Annotated[bool, YesNo(), "True if delivery puts it in place."] = False


@dataclass(frozen=True, kw_only=True)
class NewCommitment(NewEntry):
    """An order or a subcontract; a change to it has the same number."""

    number: Annotated[Name, "Number of the order."]
    vendor: Vendor
    code: CostCode
    kind: CostKind
    amount: Annotated[Decimal, Money(least=None), "Amount before tax; below zero for a cut."]
    retainage: Annotated[
        Decimal | None, Fraction(), "Share held back from each bill: 0.10; if left out, as before."
    ] = None


@dataclass(frozen=True, kw_only=True)
class NewChangePart:
    """What a change does to one cost code."""

    code: CostCode
    amount: Annotated[Decimal, Money(least=None), "Added; a minus amount takes off."] = Decimal(0)
    kind: Annotated[str, Choice(*COSTS), "If left out, spread like the baseline."] = ""
    quantity: Annotated[Decimal, Quantity(least=None), "Added quantity of finished work."] = (
        Decimal(0)
    )
    rate: Annotated[
        Decimal | None, Money(least=None), "Per unit of that work, instead of an amount."
    ] = None
    days: Annotated[int, Whole(-3_660, 3_660), "Days by which its finish moves."] = 0


@dataclass(frozen=True, kw_only=True)
class NewChange(NewEntry):
    """A change to the budget, a transfer, or a draw on the contingency.

    A change with a number may be a draft, then submitted, approved or rejected; reason and parts
    stay as last posted unless you send them again.
    """

    reason: Annotated[str, Words(NAME_LENGTH), "Why the budget changes."] = ""
    parts: Annotated[Sequence[NewChangePart], several(NewChangePart, 0, MOST_SPLITS)] = ()
    number: Annotated[
        str, Words(NAME_LENGTH), "Number of the change; none if it is posted only once."
    ] = ""
    state: Annotated[str, Choice(*CHANGE_STATES), "Only approved changes are in the budget."] = (
        APPROVED
    )
