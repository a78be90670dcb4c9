"""Sums over the ledger: all that a report needs of its rows, however many there are."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from operator import add, sub
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from estimator.tracking.ledger_lines import LedgerLine
from estimator.tracking.payroll_week import Worked
from estimator.tracking.spent import Place, Spent

Group = TypeVar("Group")

UNPAID = "unpaid"
"""Kind under which hours are summed up that nobody pays."""


class SumKey(NamedTuple):
    """What lines of the ledger are added up by."""

    code: str
    kind: str
    order: str
    is_once: bool


class Amounts(NamedTuple):
    """What was added up: cents, and hours that are not closed."""

    billed_cents: int = 0
    net_cents: int = 0
    accrued_cents: int = 0
    paid_cents: int = 0
    hours: Decimal = Decimal(0)

    def plus(self, other: Amounts) -> Amounts:
        """Return both together."""
        return Amounts(*map(add, self, other))

    def less(self, other: Amounts) -> Amounts:
        """Return what is left of these when others are taken off."""
        return Amounts(*map(sub, self, other))


NO_AMOUNTS = Amounts()


@dataclass(frozen=True)
class LedgerSums:
    """The ledger added up.

    Parameters
    ----------
    amounts : mapping of SumKey to Amounts
        By cost code, kind, order, and whether it recurs; unpaid hours under a kind of their own,
        with their value as if it were accrued.
    open_hours : mapping of date to Worked
        Paid hours that no payroll covers, by the day of the work.
    """

    amounts: Mapping[SumKey, Amounts]
    open_hours: Mapping[date, Worked]

    def spent(self) -> Mapping[Place, Spent]:
        """Return what each cost code and kind has cost, where that is anything, in their order."""
        spent: dict[Place, Spent] = {}
        for key, own in sorted(self.amounts.items()):
            if key.kind != UNPAID:
                place = (key.code, key.kind)
                more = Spent(own.billed_cents, own.accrued_cents, own.paid_cents)
                spent[place] = spent[place] + more if place in spent else more
        return MappingProxyType({place: own for place, own in spent.items() if own != Spent()})

    def recurring_cents(self) -> Mapping[Place, int]:
        """Return what was incurred on each code and kind and recurs [0.01 $]."""
        return self._added_up(
            lambda key: None if key.is_once or key.kind == UNPAID else (key.code, key.kind),
            lambda own: own.billed_cents + own.accrued_cents,
        )

    def billed_on_orders(self) -> Mapping[str, int]:
        """Return what was billed on each order, before tax [0.01 $]."""
        return self._added_up(lambda key: key.order or None, lambda own: own.net_cents)

    def open_on_orders(self) -> Mapping[str, int]:
        """Return what was billed on each order and is not paid, with tax [0.01 $]."""
        return self._added_up(
            lambda key: key.order or None, lambda own: own.billed_cents - own.paid_cents
        )

    def taxed(self) -> Mapping[str, Fraction]:
        """Return what the bills of a kind come to with tax, of each dollar before it."""
        net = self._added_up(lambda key: key.kind, lambda own: own.net_cents)
        billed = self._added_up(lambda key: key.kind, lambda own: own.billed_cents)
        return {kind: Fraction(billed.get(kind, 0), own) for kind, own in net.items() if own > 0}

    def unclosed(self) -> Worked:
        """Return the paid hours that no payroll covers."""
        return sum(self.open_hours.values(), Worked())

    def unpaid(self) -> Worked:
        """Return the hours that nobody pays, and their value."""
        own = (own for key, own in self.amounts.items() if key.kind == UNPAID)
        return sum((Worked(one.hours, one.accrued_cents) for one in own), Worked())

    def something(self) -> LedgerSums:
        """Return the sums without what comes to nothing."""
        return LedgerSums(
            {key: own for key, own in self.amounts.items() if own != NO_AMOUNTS},
            {day: own for day, own in self.open_hours.items() if own != Worked()},
        )

    def _added_up(
        self, group: Callable[[SumKey], Group | None], cents: Callable[[Amounts], int]
    ) -> Mapping[Group, int]:
        sums: dict[Group, int] = defaultdict(int)
        for key, own in sorted(self.amounts.items()):
            of = group(key)
            if of is not None:
                sums[of] += cents(own)
        return MappingProxyType({of: own for of, own in sums.items() if own})


def key_of(line: LedgerLine) -> SumKey:
    """Return what a line is added up by."""
    code, kind = line.place
    return SumKey(code, kind if line.unpaid_cents is None else UNPAID, line.order, line.is_once)


def amounts_of(line: LedgerLine) -> Amounts:
    """Return what a line adds."""
    spent = line.spent
    accrued = spent.accrued_cents if line.unpaid_cents is None else line.unpaid_cents
    return Amounts(spent.billed_cents, line.net_cents, accrued, spent.paid_cents, line.hours)


def sums_of(lines: Iterable[LedgerLine]) -> LedgerSums:
    """Return lines of the ledger added up.

    Parameters
    ----------
    lines : iterable of LedgerLine
        See `lines_of`.
    """
    amounts: dict[SumKey, Amounts] = {}
    days: dict[date, Worked] = {}
    for line in lines:
        key, own = key_of(line), amounts_of(line)
        amounts[key] = amounts.get(key, NO_AMOUNTS).plus(own)
        if line.hours and key.kind != UNPAID:
            days[line.happened] = days.get(line.happened, Worked()) + Worked(
                own.hours, own.accrued_cents
            )
    return LedgerSums(MappingProxyType(amounts), MappingProxyType(days))
