"""Commitments: what is ordered or subcontracted, what was billed on it, and what is left."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from estimator.money import cents_money, whole_half_up
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
    retainage_fraction : Decimal or None
        Of each bill, before tax: held back until the work is accepted. None as stated before.
    """

    row: int
    happened: date
    entered: datetime
    number: str
    vendor: str
    code: str
    kind: str
    cents: int
    retainage_fraction: Decimal | None = None


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
    open_cents : int
        [0.01 $] Billed with tax and not paid.
    retainage_fraction : Decimal
        As stated last.
    """

    vendor: str
    place: Place
    committed_cents: int
    billed_cents: int
    open_cents: int = 0
    retainage_fraction: Decimal = Decimal(0)

    @property
    def retainage_cents(self) -> int:
        """What is held back: its share of the bills, as far as they are not paid [0.01 $].

        Examples
        --------
        A tenth of $9,000.00 is held; $500.00 of it was paid out, so $400.00 are open:

        >>> OrderStand("Roofer", ("50.010", "subcontract"), 2_000_000, 900_000, 90_000,
        ...     Decimal("0.1")).retainage_cents
        90000
        >>> OrderStand("Roofer", ("50.010", "subcontract"), 2_000_000, 900_000, 40_000,
        ...     Decimal("0.1")).retainage_cents
        40000
        """
        held = whole_half_up(Fraction(self.retainage_fraction) * self.billed_cents)
        return max(min(held, self.open_cents), 0)

    @property
    def left_cents(self) -> int:
        """What may still be billed; nothing once it is over-billed [0.01 $]."""
        return max(self.committed_cents - self.billed_cents, 0)

    @property
    def over_billed_cents(self) -> int:
        """By how much the bills are over the commitment [0.01 $]."""
        return max(self.billed_cents - self.committed_cents, 0)


def order_stands(
    commitments: Iterable[Commitment],
    billed_on: Mapping[str, int],
    open_on: Mapping[str, int] = MappingProxyType({}),
) -> Mapping[str, OrderStand]:
    """Return where each order stands, by its number.

    Parameters
    ----------
    commitments : iterable of Commitment
        As known: see `as_known`.
    billed_on : mapping of str to int
        [0.01 $] By order, before tax: see `LedgerSums.billed_on_orders`. A bill names its order; a
        credit takes off what it credits.
    open_on : mapping of str to int
        [0.01 $] By order, with tax: see `LedgerSums.open_on_orders`.
    """
    stands: dict[str, OrderStand] = {}
    for order in commitments:
        before = stands.get(order.number)
        committed = order.cents + (before.committed_cents if before else 0)
        place = before.place if before else (order.code, order.kind)
        held = before.retainage_fraction if before else Decimal(0)
        if order.retainage_fraction is not None:
            held = order.retainage_fraction
        billed, open_cents = billed_on.get(order.number, 0), open_on.get(order.number, 0)
        stands[order.number] = OrderStand(order.vendor, place, committed, billed, open_cents, held)
    return MappingProxyType(stands)


def still_to_come(
    stands: Iterable[OrderStand],
    accrued_cents: Mapping[Place, int] = MappingProxyType({}),
    taxed: Mapping[str, Fraction] = MappingProxyType({}),
) -> Mapping[Place, int]:
    """Return what orders will still add to the cost of each code and kind, with tax [0.01 $].

    A ticket or a rent names no order. What has accrued on the code and kind of an order is taken
    as delivered on it: it is incurred already, and its bill adds nothing more.

    Parameters
    ----------
    stands : iterable of OrderStand
        See `order_stands`.
    accrued_cents : mapping of (code, kind) to int
        [0.01 $] Delivered or on rent, and not billed: see `KnownBooks.delivered_cents`.
    taxed : mapping of str to Fraction
        What bills of a kind come to with tax, of each dollar before it: see `LedgerSums.taxed`. A
        kind without bills is taken as untaxed.

    Examples
    --------
    Stone for $8,000.00 is ordered; tickets for $2,675.00 with tax are here, no bill is:

    >>> order = OrderStand("Quarry", ("30.020", "material"), 800_000, 0)
    >>> stone = {("30.020", "material"): 267_500}
    >>> dict(still_to_come([order], stone, {"material": Fraction(107, 100)}))
    {('30.020', 'material'): 588500}
    """
    left: dict[Place, int] = defaultdict(int)
    for stand in stands:
        left[stand.place] += stand.left_cents
    with_tax = {
        place: whole_half_up(taxed.get(place[1], Fraction(1)) * own) for place, own in left.items()
    }
    return MappingProxyType(
        {place: max(own - accrued_cents.get(place, 0), 0) for place, own in with_tax.items()}
    )


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
