"""The bills and payments of the sample: one a vendor and week, paid two weeks later."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import count
from typing import Any, NamedTuple

from estimator.money import cents_text, whole_half_up
from estimator.sample.drafts import UnnumberedEntry, draft

LAST_PAYDAY = date(2026, 6, 12)
_TAX = Fraction(7, 100)
_FRIDAY = 4
_TERMS = timedelta(14)
_FIRST_CHECK = 201
_TAXED = ("material", "equipment", "consumable")
_VENDORS = {
    "material": "Canal Street Supply", "consumable": "Canal Street Supply",
    "equipment": "Mill Street Rental", "disposal": "Lock Nine Transfer Station",
    "haul": "Towpath Hauling", "subcontract": "Aqueduct Mechanical and Survey",
    "fee": "Fees of town and engineer",
}  # fmt: skip


class Purchase(NamedTuple):
    """Something bought for a code.

    Parameters
    ----------
    day : date
        In the week of the bill.
    code, kind : str
        What it is for.
    cents : int
        [0.01 $] With tax.
    """

    day: date
    code: str
    kind: str
    cents: int


def friday_of(day: date) -> date:
    """Return the Friday of a working day's week."""
    return day + timedelta(_FRIDAY - day.weekday())


def bills(purchases: Iterable[Purchase]) -> Iterator[UnnumberedEntry]:
    """Yield a bill for each vendor and week, and the payments that fall due.

    Parameters
    ----------
    purchases : iterable of Purchase
        In any order.
    """
    weeks: dict[tuple[date, str], dict[tuple[str, str], int]] = defaultdict(dict)
    for one in purchases:
        of_week = weeks[friday_of(one.day), _VENDORS[one.kind]]
        of_week[one.code, one.kind] = of_week.get((one.code, one.kind), 0) + one.cents
    checks = count(_FIRST_CHECK)
    for number, ((day, vendor), parts) in enumerate(sorted(weeks.items()), 1):
        label = f"@bill {number}"
        bill = bill_body(vendor, f"{vendor[0]}-{2100 + 7 * number}", parts)
        yield draft("costs", day, 20, label, **bill)
        yield from payment(label, day, bill, checks)


def bill_body(
    vendor: str, document: str, parts: Mapping[tuple[str, str], int], **more: Any
) -> dict[str, Any]:
    """Return a bill over places whose sums have the tax in them.

    Parameters
    ----------
    vendor, document : str
        Who bills, and the number of the bill.
    parts : mapping of (code, kind) to int
        [0.01 $]
    **more
        Further fields of the body.
    """
    is_taxed = all(kind in _TAXED for _, kind in parts)
    nets = {
        place: whole_half_up(cents / (1 + _TAX)) if is_taxed else cents
        for place, cents in parts.items()
    }
    splits = [
        {"code": code, "kind": kind, "amount": cents_text(cents)}
        for (code, kind), cents in nets.items()
    ]
    tax = whole_half_up(sum(nets.values()) * _TAX) if is_taxed else 0
    return {
        "vendor": vendor, "document": document, "net": cents_text(sum(nets.values())),
        "tax": cents_text(tax), "splits": splits, **more,
    }  # fmt: skip


def payment(
    label: str, billed: date, bill: Mapping[str, Any], checks: Iterator[int]
) -> Iterator[UnnumberedEntry]:
    """Yield the check that pays a bill, if it has fallen due by the end of the ten weeks."""
    day = billed + _TERMS
    if day <= LAST_PAYDAY:
        total = Decimal(bill["net"]) + Decimal(bill["tax"])
        yield draft(
            "payments", day, 21, cost=label, amount=f"{total:.2f}", means=f"check {next(checks)}"
        )
