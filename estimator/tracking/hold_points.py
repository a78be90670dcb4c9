"""Hold points: what must have happened before work goes on, who decides, and what came."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from estimator.tracking.progress import Progress


@dataclass(frozen=True)
class HoldPoint:
    """A test, a notice, an approval or a strength that work waits for.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day it was set; when it was entered [UTC].
    code : str
        Cost code of the work that waits.
    name : str
        What it is: `compaction test of lift 2`.
    needs : str
        What has to come: `95 % of standard density`.
    decides : str
        Who decides: `engineer`, `preservation office`.
    allowed : Decimal
        [unit of the code] How much may be in place before it is passed; zero for none.
    notice_days : int
        [day] How long before the work whoever decides is called; zero for no call.
    """

    row: int
    happened: date
    entered: datetime
    code: str
    name: str
    needs: str
    decides: str
    allowed: Decimal = Decimal(0)
    notice_days: int = 0

    @property
    def decider(self) -> str:
        """Who decides, with one article whether or not it was written: `the engineer`."""
        has_article = self.decides.lower().startswith("the ")
        return self.decides if has_article else f"the {self.decides}"


@dataclass(frozen=True)
class HoldResult:
    """The result of a hold point.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of the result; when it was entered [UTC].
    code, name : str
        Of the hold point.
    is_passed : bool
        False of a test that failed.
    note : str
        The result in words: a number, who signed.
    """

    row: int
    happened: date
    entered: datetime
    code: str
    name: str
    is_passed: bool
    note: str = ""


def open_holds(holds: Iterable[HoldPoint], results: Iterable[HoldResult]) -> list[HoldPoint]:
    """Return the hold points that are not passed, in their order; set again, as set last.

    Parameters
    ----------
    holds : iterable of HoldPoint
        All of the project.
    results : iterable of HoldResult
        As known: see `as_known`. The latest counts: a test that failed again opens the hold.
    """
    passed: dict[tuple[str, str], bool] = {}
    for one in sorted(results, key=lambda result: (result.happened, result.row)):
        passed[one.code, one.name] = one.is_passed
    last_set = {(one.code, one.name): one for one in holds}
    return [hold for place, hold in last_set.items() if not passed.get(place)]


def hold_sentence(hold: HoldPoint, measured: Progress | None) -> str:
    """Return what is said of an open hold point; with the reason for which work went past it.

    Parameters
    ----------
    hold : HoldPoint
        An open one.
    measured : Progress or None
        What was measured last of its code, by us.

    Examples
    --------
    >>> day, noon = date(2026, 5, 4), datetime(2026, 5, 4, 12)
    >>> test = HoldPoint(1, day, noon, "20.030", "density 1", "95 %", "engineer", Decimal(40))
    >>> hold_sentence(test, None)
    '20.030: density 1 is open; it needs 95 %, and the engineer decides'
    >>> hold_sentence(test, Progress(2, day, noon, "20.030", Decimal(41), reason="dry run"))
    '20.030: density 1 is open; it needs 95 %, and the engineer decides; work went past it: dry run'
    """
    sentence = (
        f"{hold.code}: {hold.name} is open; it needs {hold.needs}, and {hold.decider} decides"
    )
    is_past = measured is not None and measured.reason and measured.in_place > hold.allowed
    return f"{sentence}; work went past it: {measured.reason}" if measured and is_past else sentence


def holding(holds: Iterable[HoldPoint], code: str, in_place: Decimal) -> list[HoldPoint]:
    """Return the open holds that so much of a code in place would go past.

    Examples
    --------
    >>> day, noon = date(2026, 5, 4), datetime(2026, 5, 4, 12)
    >>> test = HoldPoint(1, day, noon, "20.030", "density 1", "95 %", "engineer", Decimal(40))
    >>> [one.name for one in holding([test], "20.030", Decimal(41))]
    ['density 1']
    >>> holding([test], "20.030", Decimal(40))
    []
    """
    return [hold for hold in holds if hold.code == code and in_place > hold.allowed]
