"""Cells of rate tables: when a text of a CSV file may stand as a number or a day, and back.

What is written out and read in again must be the same characters. So each column has one way of
writing a number, and a text that is written in another way stays text.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

from estimator.money import rate_text
from estimator.rates.rows import EARLIEST, LATEST
from estimator.workbook.reading.shown_value import plain_text

DAY_COLUMNS = ("date", "valid_until")
NUMBER_COLUMNS = frozenset(
    {
        "rate", "low", "high", "number", "order_multiple", "default", "least", "most", "line",
        "waste", "minimum", "order", "percent", "sum", "density", "decimals", "week", "month",
        "delivery", "pick_up", "included_hours", "over_hour",
    }
)  # fmt: skip

_TWO_DECIMALS = frozenset(
    {"rate", "density", "waste", "sum", "week", "month", "delivery", "pick_up", "over_hour"}
)
_TWO_DECIMALS_UNLESS_WHOLE = frozenset({"low", "high"})
_PLAIN = re.compile(r"\d{1,12}(\.\d{1,9})?", re.ASCII)
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def number_text(column: str, digits: str) -> str:
    """Return a number as a column writes it.

    Examples
    --------
    >>> number_text("rate", "36.5"), number_text("low", "31"), number_text("least", "0.5")
    ('36.50', '31', '0.5')
    """
    if not _PLAIN.fullmatch(digits):
        return digits
    has_decimals = column in _TWO_DECIMALS or (
        column in _TWO_DECIMALS_UNLESS_WHOLE and "." in digits
    )
    return rate_text(Decimal(digits)) if has_decimals else digits


def is_plain_number(column: str, text: str) -> bool:
    """Whether a text is a number, in a column that has numbers."""
    return column in NUMBER_COLUMNS and _PLAIN.fullmatch(text) is not None


def number_of(column: str, text: str) -> float | None:
    """Return the number that a cell may hold for a text, or None if it has to stay text.

    Examples
    --------
    >>> number_of("rate", "36.00"), number_of("rate", "36.000"), number_of("waste", "length")
    (36.0, None, None)
    """
    if not is_plain_number(column, text):
        return None
    number = float(text)
    return number if number_text(column, plain_text(number)) == text else None


def day_of(text: str) -> date | None:
    """Return the day that a cell may hold for a text, or None if it is none from 1950 to 2199.

    Examples
    --------
    >>> day_of("2026-03-02"), day_of("2026-02-31")
    (datetime.date(2026, 3, 2), None)
    """
    if not _DAY.fullmatch(text):
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if EARLIEST <= day <= LATEST else None
