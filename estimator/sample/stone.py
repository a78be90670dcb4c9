"""The stone of the sample: a ticket for each load, a bill a week; one bill charges a load more."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import count
from random import Random

from estimator.money import cents_text, whole_half_up
from estimator.sample.bills import bill_body, friday_of, payment
from estimator.sample.drafts import UnnumberedEntry, draft

STONE_CODES = ("30.020", "30.030", "30.040")
_QUARRY = "Ridge Road Quarry"
_ORDERED = "30.020"
_NET_PER_TON = Fraction("24.80")
_WITH_TAX = Fraction("1.07")
_WASTE = 1.06
_LOAD_TOO_MANY = Decimal("22.00")
_WRONG_WEEK = date(2026, 5, 29)
_LAST_BILL = date(2026, 6, 5)
_HUNDREDTHS_OF_A_TON = (2060, 2240)
_MINUTES = {"30.020": (14, 26), "30.030": (35, 55), "30.040": (14, 22)}


def stone_deliveries(
    tons: Mapping[str, Mapping[date, float]], dice: Random
) -> Iterator[UnnumberedEntry]:
    """Yield the tickets of the loads that the work takes, and the quarry's bills.

    Parameters
    ----------
    tons : mapping of str to mapping of date to float
        [ton] Placed of each code on each day.
    dice : Random
        Seeded by whoever calls.
    """
    tickets, weeks = count(5501), defaultdict[tuple[date, str], list[UnnumberedEntry]](list)
    for code, by_day in tons.items():
        here = 0.0
        for day, placed in by_day.items():
            here -= placed * _WASTE
            hour = 7
            while here < 0:
                ticket = _ticket(code, day, hour, next(tickets), dice)
                weeks[friday_of(day), code].append(ticket)
                here += float(ticket.body["quantity"])
                hour += 1
                yield ticket
    yield from _bills(weeks)


def _ticket(code: str, day: date, hour: int, number: int, dice: Random) -> UnnumberedEntry:
    tons = Decimal(dice.randint(*_HUNDREDTHS_OF_A_TON)) / 100
    minutes = dice.randint(*_MINUTES[code])
    start = dice.randint(0, 4)
    cents = whole_half_up(Fraction(tons) * _NET_PER_TON * _WITH_TAX * 100)
    return draft(
        "tickets", day, 16, f"@T-{number}", number=f"T-{number}", vendor=_QUARRY,
        truck=str(dice.randint(11, 17)), code=code, kind="material", quantity=f"{tons:.2f}",
        unit="ton", amount=cents_text(cents), came=f"{hour:02}:{start:02}",
        left=f"{hour:02}:{start + minutes:02}",
    )  # fmt: skip


def _bills(weeks: Mapping[tuple[date, str], list[UnnumberedEntry]]) -> Iterator[UnnumberedEntry]:
    """Yield a bill for the loads of a week and code; those of the last week are still to come."""
    checks = count(301)
    for number, ((day, code), own) in enumerate(sorted(weeks.items()), 1187):
        if day > _LAST_BILL:
            continue
        extra = _LOAD_TOO_MANY if (day, code) == (_WRONG_WEEK, _ORDERED) else Decimal(0)
        tons = sum((Decimal(one.body["quantity"]) for one in own), extra)
        cents = whole_half_up(Fraction(tons) * _NET_PER_TON * _WITH_TAX * 100)
        bill = bill_body(
            _QUARRY, f"Q-{number}", {(code, "material"): cents}, quantity=str(tons), unit="ton",
            loads=len(own) + (1 if extra else 0), tickets=[one.label for one in own],
            **({"order": "PO-1"} if code == _ORDERED else {}),
        )  # fmt: skip
        yield draft("costs", day, 20, f"@Q-{number}", **bill)
        yield from payment(f"@Q-{number}", day, bill, checks)
