"""The kinds of entries: what is sent of each, and under which path.

An entry is known by the name of its list in the library's `Books`. What checks it stands in
`entry_rows`, which is loaded with the first entry: a service at rest does without the library.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from api.ledger import bank_shapes as bank
from api.ledger import credit_shapes as credit
from api.ledger import money_entry_shapes as money
from api.ledger import payroll_shapes as pay
from api.ledger import site_entry_shapes as site
from api.ledger.entry_fields import NewEntry

if TYPE_CHECKING:
    from api.ledger.desk import Desk


@dataclass(frozen=True)
class EntryKind:
    """A kind of entry.

    Parameters
    ----------
    name : str
        Of its list in `Books`.
    path : str
        Of its route.
    body : type
        What is sent.
    example : dict
        A body.
    party, document : str
        The fields of the row by which it is looked up; empty without one.
    """

    name: str
    path: str
    body: type
    example: dict[str, Any]
    party: str = ""
    document: str = ""

    @property
    def row(self) -> type:
        """The row of the library that a body makes."""
        return _checked()[self.name][0]

    def checked(self, desk: Desk, body: NewEntry) -> tuple[Any, list[str]]:
        """Return the row that a body makes, with what is to be noted about it."""
        return _checked()[self.name][1](desk, body)


@cache
def _checked() -> Mapping[str, tuple[type, Callable[[Desk, Any], tuple[Any, list[str]]]]]:
    """Return what checks each kind, which is loaded with the first entry."""
    from api.ledger.entry_rows import CHECKED

    return CHECKED


_ALL = (
    EntryKind("costs", "costs", money.NewCost, money.EXAMPLE_COST, "vendor", "document"),
    EntryKind("payments", "payments", money.NewPayment, money.EXAMPLE_PAYMENT),
    EntryKind("receipts", "receipts", money.NewReceipt, money.EXAMPLE_RECEIPT, "payer"),
    EntryKind("tickets", "tickets", money.NewTicket, money.EXAMPLE_TICKET, "vendor", "number"),
    EntryKind(
        "commitments", "orders", money.NewCommitment, money.EXAMPLE_COMMITMENT, "vendor", "number"
    ),
    EntryKind("changes", "changes", money.NewChange, money.EXAMPLE_CHANGE),
    EntryKind("hours", "hours", site.NewHours, site.EXAMPLE_HOURS, "person"),
    EntryKind("progress", "progress", site.NewProgress, site.EXAMPLE_PROGRESS, "code", "figure"),
    EntryKind("holds", "holds", site.NewHold, site.EXAMPLE_HOLD, "code", "name"),
    EntryKind(
        "results", "hold-results", site.NewHoldResult, site.EXAMPLE_HOLD_RESULT, "code", "name"
    ),
    EntryKind("stock", "stock", site.NewStockMove, site.EXAMPLE_STOCK, "material"),
    EntryKind("rents", "rents", site.NewRent, site.EXAMPLE_RENT, "vendor"),
    EntryKind("points", "points", site.NewPoint, site.EXAMPLE_POINT, "name"),
    EntryKind("readings", "readings", site.NewReading, site.EXAMPLE_READING, "point"),
    EntryKind("plans", "plans", site.NewPlan, site.EXAMPLE_PLAN, "code"),
    EntryKind("called_off", "call-offs", site.NewCallOff, site.EXAMPLE_CALL_OFF),
    EntryKind(
        "machine_hours",
        "machine-hours",
        site.NewMachineHours,
        site.EXAMPLE_MACHINE_HOURS,
        "machine",
    ),
    EntryKind("days", "days", site.NewDay, site.EXAMPLE_DAY),
    EntryKind("banks", "banks", bank.NewBank, bank.EXAMPLE_BANK, "name"),
    EntryKind("bank_rules", "bank-rules", bank.NewBankRule, bank.EXAMPLE_BANK_RULE),
    EntryKind("payroll", "payroll-terms", pay.NewPayroll, pay.EXAMPLE_PAYROLL),
    EntryKind("credit_answers", "credit-answers", credit.NewAnswer, credit.EXAMPLE_ANSWER),
    EntryKind("approvals", "approvals", credit.NewApproval, credit.EXAMPLE_APPROVAL),
    EntryKind("bases", "bases", credit.NewBasis, credit.EXAMPLE_BASIS),
)
ENTRY_KINDS = {one.name: one for one in _ALL}

# What a crew sees of the books: kinds of entry, each with the fields of its row that are money.
MONEY_OF_SITE_KINDS: Mapping[str, frozenset[str]] = {
    "hours": frozenset({"rate_per_hr"}),
    "tickets": frozenset({"cents"}),
    **dict.fromkeys(
        ("days", "holds", "machine_hours", "plans", "points", "progress", "readings", "results"),
        frozenset[str](),
    ),
}
# The field of a body that states money; without it the earlier rows of the books say the same.
MONEY_OF_BODIES: Mapping[str, str] = {"hours": "rate", "tickets": "amount"}
