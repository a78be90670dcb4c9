"""Commitments: what is ordered or subcontracted, what was billed on it, and what is left."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from types import MappingProxyType

from estimator.money import cents_money
from estimator.tracking.spent import Place


@dataclass(frozen=True)
class Commitment:
    """A purchase order or a subcontract, or what changed one.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day it was signed; when it was entered [UTC].
    number, vendor : str
        Number of the order, and who has it; a change of the order has the same number.
    code, kind : str
        What it is for.
    cents : int
        [0.01 $] Before tax; negative where a change takes something off.
    """

    row: int
    happened: date
    entered: datetime
    number: str
    vendor: str
    code: str
    kind: str
    cents: int


@dataclass(frozen=True)
class OrderStand:
    """Where a commitment stands.

    Parameters
    ----------
    vendor : str
        Who has the order.
    place : tuple of str
        Cost code and kind.
    committed_cents, billed_cents : int
        [0.01 $] Before tax.
    """

    vendor: str
    place: Place
    committed_cents: int
    billed_cents: int

    @property
    def left_cents(self) -> int:
        """What may still be billed; nothing once it is over-billed [0.01 $]."""
        return max(self.committed_cents - self.billed_cents, 0)

    @property
    def over_billed_cents(self) -> int:
        """By how much the bills are over the commitment [0.01 $]."""
        return max(self.billed_cents - self.committed_cents, 0)


def order_stands(
    commitments: Iterable[Commitment], billed_on: Mapping[str, int]
) -> Mapping[str, OrderStand]:
    """Return where each order stands, by its number.

    Parameters
    ----------
    commitments : iterable of Commitment
        As known: see `as_known`.
    billed_on : mapping of str to int
        [0.01 $] By order, before tax: see `LedgerSums.billed_on_orders`. A bill names its order; a
        credit takes off what it credits.
    """
    stands: dict[str, OrderStand] = {}
    for order in commitments:
        before = stands.get(order.number)
        committed = order.cents + (before.committed_cents if before else 0)
        place = before.place if before else (order.code, order.kind)
        stands[order.number] = OrderStand(
            order.vendor, place, committed, billed_on.get(order.number, 0)
        )
    return MappingProxyType(stands)


def left_by_place(stands: Iterable[OrderStand]) -> Mapping[Place, int]:
    """Return what is still to be billed on each cost code and kind [0.01 $]."""
    left: dict[Place, int] = defaultdict(int)
    for stand in stands:
        left[stand.place] += stand.left_cents
    return MappingProxyType(left)


def unknown_order_sentences(
    stands: Mapping[str, OrderStand], billed_on: Mapping[str, int]
) -> list[str]:
    """Return a sentence for each order that bills name and that nobody logged.

    Examples
    --------
    >>> unknown_order_sentences({}, {"PO-9": 10_000})
    ["order PO-9: $100.00 is billed on it, and no such order is logged; 'groundsill log order'"]
    """
    return [
        f"order {number}: {cents_money(cents)} is billed on it, and no such order is logged; "
        "'groundsill log order'"
        for number, cents in billed_on.items()
        if number not in stands
    ]


def over_billing_sentences(stands: Mapping[str, OrderStand]) -> list[str]:
    """Return a sentence for each order that was billed over what it is for.

    Examples
    --------
    >>> over_billing_sentences({"7": OrderStand("Roofer", ("50.010", "subcontract"), 500, 650)})
    ['order 7 (Roofer): $6.50 is billed on $5.00; $1.50 over']
    """
    return [
        f"order {number} ({one.vendor}): {cents_money(one.billed_cents)} is billed on "
        f"{cents_money(one.committed_cents)}; {cents_money(one.over_billed_cents)} over"
        for number, one in stands.items()
        if one.over_billed_cents
    ]
