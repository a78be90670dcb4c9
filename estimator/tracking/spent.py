"""What was spent on a cost code and kind: billed, accrued, paid and open, in exact cents."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from estimator.money import apportion
from estimator.tracking.ledger_rows import Cost, Payment

Place = tuple[str, str]
"""A cost code and a kind."""


@dataclass(frozen=True)
class Spent:
    """What a code and kind has cost.

    Parameters
    ----------
    billed_cents : int
        [0.01 $] Bills less vendors' credits, with tax.
    accrued_cents : int
        [0.01 $] Known from tickets and running rents; the bill is not here yet.
    paid_cents : int
        [0.01 $] Money that left.
    """

    billed_cents: int = 0
    accrued_cents: int = 0
    paid_cents: int = 0

    @property
    def incurred_cents(self) -> int:
        """Billed and accrued [0.01 $]."""
        return self.billed_cents + self.accrued_cents

    @property
    def open_cents(self) -> int:
        """Incurred and not yet paid [0.01 $]."""
        return self.incurred_cents - self.paid_cents

    def __add__(self, other: Spent) -> Spent:
        """Return both together."""
        return Spent(
            self.billed_cents + other.billed_cents,
            self.accrued_cents + other.accrued_cents,
            self.paid_cents + other.paid_cents,
        )


def paid_by_split(
    bills: Iterable[Cost], payments: Iterable[Payment]
) -> Iterator[tuple[Cost, list[int]]]:
    """Yield each bill with what was paid on each of its splits [0.01 $].

    Parameters
    ----------
    bills, payments : iterables of Cost and of Payment
        As known: see `as_known`.
    """
    paid_on: dict[int, int] = defaultdict(int)
    for payment in payments:
        paid_on[payment.cost] += payment.cents
    for bill in bills:
        yield bill, paid_parts(bill, paid_on.get(bill.row, 0))


def paid_parts(bill: Cost, paid_cents: int) -> list[int]:
    """Return what each split of a bill has paid [0.01 $]; all once the bill is paid in full.

    Parameters
    ----------
    bill : Cost
        With its splits.
    paid_cents : int
        [0.01 $] All that was paid on it.
    """
    if paid_cents == bill.cents:
        return [split.cents for split in bill.splits]
    if not paid_cents:
        return [0] * len(bill.splits)
    if len(bill.splits) == 1:
        return [paid_cents]
    return apportion(paid_cents, [abs(split.cents) for split in bill.splits])
