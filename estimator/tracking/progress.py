"""Progress: how much of the work is in place, as measured, and how much there will be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from types import MappingProxyType

from estimator.money import exact_arithmetic, rounded
from estimator.tracking.ledger_rows import as_known

MONEY = "$"
"""Unit of a code whose quantity is a sum of money, such as an allowance: a crew sees percents."""
IN_PLACE, EXPECTED, INSPECTOR = FIGURES = ("in place", "expected", "inspector")
"""What a measurement states, as lists of the books look it up."""


@dataclass(frozen=True)
class Progress:
    """What was measured of one cost code on a day.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of measuring; when it was entered [UTC].
    code : str
        Cost code.
    in_place : Decimal
        [unit of the code] In place *to date*; of a code that nobody can measure, [%].
    expected : Decimal or None
        [unit of the code] Final quantity as measured again on that day.
    is_percent : bool
        True where `in_place` is a percent of the whole.
    is_inspector : bool
        True of the figure of the lender's inspector, which stands beside ours.
    unit : str
        As it was written down: that of the code, or %; empty where nobody wrote it.
    reason : str
        Why it went back, or went on past an open hold point; else empty.
    """

    row: int
    happened: date
    entered: datetime
    code: str
    in_place: Decimal
    expected: Decimal | None = None
    is_percent: bool = False
    is_inspector: bool = False
    unit: str = ""
    reason: str = ""

    @property
    def figure(self) -> str:
        """Which figure it is: `inspector`, `expected` (with a final quantity) or `in place`."""
        if self.is_inspector:
            return INSPECTOR
        return IN_PLACE if self.expected is None else EXPECTED


@dataclass(frozen=True)
class InPlace:
    """Where a code stands: what counts of all that was measured.

    Parameters
    ----------
    quantity : Decimal
        [unit of the code, or %] In place to date.
    expected : Decimal or None
        [unit of the code] Final quantity as measured last; None while the budget's holds.
    is_percent : bool
        True where the quantity is a percent.
    measured_on : date
        The day of the figure in place.
    """

    quantity: Decimal
    expected: Decimal | None
    is_percent: bool
    measured_on: date


@exact_arithmetic
def percent_of_sum(amount: Decimal, whole: Decimal) -> Decimal:
    """Return a part of a sum of money in percent of it, rounded to a tenth.

    Parameters
    ----------
    amount, whole : Decimal
        [$] The part; the sum, not zero.

    Examples
    --------
    >>> percent_of_sum(Decimal(950), Decimal(3_800))
    Decimal('25.0')
    """
    return rounded(amount * 100 / whole, 1)


def measured_last(rows: Iterable[Progress]) -> list[Progress]:
    """Return what was measured last of each code, by us.

    Parameters
    ----------
    rows : iterable of Progress
        As known: see `as_known`. The latest day counts; of one day, the row that was entered last.
    """
    own = sorted(
        (one for one in rows if not one.is_inspector), key=lambda row: (row.happened, row.row)
    )
    return list({one.code: one for one in own}.values())


def in_place(
    rows: Iterable[Progress], as_of: date, known_on: datetime, by_inspector: bool = False
) -> Mapping[str, InPlace]:
    """Return where each code stands on a day, of what was entered by a time.

    Parameters
    ----------
    rows : iterable of Progress
        All of the project.
    as_of, known_on : date, datetime
        Measured by; entered by [UTC].
    by_inspector : bool
        True for the figures of the lender's inspector, False for our own.

    Notes
    -----
    The latest day counts; of one day, the row that was entered last.
    """
    known = [one for one in as_known(rows, as_of, known_on) if one.is_inspector is by_inspector]
    stands: dict[str, InPlace] = {}
    for one in sorted(known, key=lambda row: (row.happened, row.row)):
        before = stands.get(one.code)
        expected = one.expected
        if expected is None and before is not None:
            expected = before.expected
        stands[one.code] = InPlace(one.in_place, expected, one.is_percent, one.happened)
    return MappingProxyType(stands)
