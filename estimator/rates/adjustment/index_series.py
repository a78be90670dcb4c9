"""A published index of prices: figures by month or quarter, checked when the series is made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from estimator.errors import Faults, TablesFaulty
from estimator.rates.exact_inputs import Exact, exact_inputs

MONTHLY, QUARTERLY = 1, 3


@exact_inputs(TablesFaulty, signed=("value",), value="fraction")
@dataclass(frozen=True)
class IndexPoint:
    """One figure of an index.

    Parameters
    ----------
    starts_on : date
        First day of the month or quarter that it holds for.
    value : Decimal
        Positive; without unit.
    where : str
        The row it stands in, for the person who has to mend it; may be empty.
    """

    starts_on: date
    value: Exact
    where: str = ""


@dataclass(frozen=True)
class IndexSeries:
    """A published index of prices, checked when it is made.

    Parameters
    ----------
    name : str
        What it is called.
    base : str
        What stands for 100: `1982-84 = 100`.
    months_each : int
        1 for a monthly index, 3 for a quarterly one.
    points : tuple of IndexPoint
        In rising order; there may be gaps.
    source : str
        Who publishes it, which edition.

    Raises
    ------
    TablesFaulty
        If there is no figure, or one is not a positive number, or two are of the same month or
        out of order, or a quarter starts in the wrong month; all of it at once.

    Examples
    --------
    >>> cpi = IndexSeries("CPI", "1982-84 = 100", QUARTERLY, (
    ...     IndexPoint(date(2000, 1, 1), "170.9"),
    ...     IndexPoint(date(2009, 7, 1), "216.385")), "statsmodels, macrodata")
    >>> cpi.period_text(date(2009, 9, 30))
    '2009Q3'
    """

    name: str
    base: str
    months_each: int
    points: tuple[IndexPoint, ...]
    source: str

    def __post_init__(self) -> None:
        faults = Faults()
        if self.months_each not in (MONTHLY, QUARTERLY):
            faults.add(f"index {self.name}", f"has figures every {self.months_each} months",
                       "an index is monthly (1) or quarterly (3)")  # fmt: skip
        if not self.points:
            faults.add(f"index {self.name}", "has no figure")
        for point in self.points:
            self._check_point(point, faults)
        for earlier, later in pairwise(self.points):
            self._check_order(earlier, later, faults)
        faults.raise_if_any(TablesFaulty)

    def _check_point(self, point: IndexPoint, faults: Faults) -> None:
        if point.value <= 0:
            faults.add(
                point.where,
                f"the figure of index {self.name} for {self.period_text(point.starts_on)} is "
                f"{point.value}, not a positive number",
                "leave the row out where nothing was published",
            )
        if point.starts_on != self._period_start(point.starts_on):
            faults.add(
                point.where,
                f"a figure of index {self.name} starts on {point.starts_on}",
                "it starts on the first day of a month, or of a quarter",
            )

    def _check_order(self, earlier: IndexPoint, later: IndexPoint, faults: Faults) -> None:
        period = self.period_text(later.starts_on)
        if later.starts_on == earlier.starts_on:
            faults.add(later.where, f"index {self.name} has two figures for {period}",
                       "keep one")  # fmt: skip
        elif later.starts_on < earlier.starts_on:
            faults.add(
                later.where,
                f"index {self.name} has {period} after {self.period_text(earlier.starts_on)}",
                "sort the rows by month",
            )

    def _period_start(self, day: date) -> date:
        month = day.month - (day.month - 1) % self.months_each
        return date(day.year, month, 1)

    def period_text(self, day: date) -> str:
        """Return the month or quarter of a day as printed: `2009-08` or `2009Q3`."""
        if self.months_each == QUARTERLY:
            return f"{day.year}Q{(day.month + 2) // 3}"
        return f"{day.year}-{day.month:02d}"
