"""Movements of the library as rows of the database, and what was added up as the library has it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from itertools import groupby
from operator import attrgetter
from typing import Any

from estimator.money import fixed_point, from_fixed_point
from estimator.tracking.ledger_lines import MoneyRow
from estimator.tracking.ledger_movements import Movement, sums_of_movements
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.ledger_sums import Amounts, SumKey
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.tickets import Ticket

_HOUR_DECIMALS = 6

MONEY_ROWS: Mapping[str, type[MoneyRow]] = {
    "costs": Cost, "payments": Payment, "tickets": Ticket, "hours": HoursRow,
}  # fmt: skip

Row = dict[str, Any]


def movement_rows(
    of_project: Row, moved: Iterable[Movement], entered: Mapping[int, datetime]
) -> list[Row]:
    """Return movements as rows of `ledger_movements`.

    Parameters
    ----------
    of_project : dict
        Account and project.
    moved : iterable of Movement
        Those of one entry one after the other.
    entered : mapping of int to datetime
        [UTC] When each entry was entered, by its number.
    """
    return [
        {
            **of_project, "number": number, "entered_at": entered[number], "position": position,
            "of_number": one.of_row, "day": one.day, "worked_on": one.worked_on,
            **_key(one.key), **_amounts(one.amounts),
        }
        for number, own in groupby(moved, key=attrgetter("row"))
        for position, one in enumerate(own, start=1)
    ]  # fmt: skip


def sum_rows(of_project: Row, moved: Iterable[Movement]) -> tuple[list[Row], list[Row]]:
    """Return movements added up, as rows of `ledger_sums` and of `open_hours`."""
    sums = sums_of_movements(moved)
    amounts = [of_project | _key(key) | _amounts(own) for key, own in sums.amounts.items()]
    hours = [
        of_project | {"worked_on": day, "accrued_cents": own.cents, "hours": _micro(own.hours)}
        for day, own in sums.open_hours.items()
    ]
    return amounts, hours


def _key(key: SumKey) -> Row:
    return {
        "code": key.code, "kind": key.kind, "order_number": key.order, "is_once": key.is_once,
    }  # fmt: skip


def _amounts(own: Amounts) -> Row:
    return own._asdict() | {"hours": _micro(own.hours)}


def _micro(hours: Decimal) -> int:
    return fixed_point(hours, _HOUR_DECIMALS) if hours else 0


def hours_of(micro: Any) -> Decimal:
    """Return hours [hr] from the whole millionths that are stored."""
    return from_fixed_point(int(micro or 0), _HOUR_DECIMALS)
