"""What is left of a job as lines that are drawn: each with the range that is known of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from decimal import Decimal
from math import sqrt
from typing import Any, TypeVar

from estimator.money import apportion
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.production.student_t import student_t
from estimator.ranges.correlation import DEFAULT_CORRELATION, Correlation
from estimator.ranges.distributions import Distribution, Triangular
from estimator.ranges.events import Event
from estimator.ranges.item_range import ItemRange
from estimator.ranges.job_ranges import Line
from estimator.ranges.line_ranges import CERTAIN, LineRange
from estimator.rates.kinds import SALVAGE
from estimator.rates.rate_range import range_of
from estimator.scope.scope import Scope
from estimator.scope.stated_ranges import NOTHING_STATED, Spread
from estimator.tracking.books_by_day import DailyBooks
from estimator.tracking.budget import CONTINGENCY
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.job_track import Track
from estimator.tracking.status import CodeStatus
from estimator.tracking.weekly_costs import WeekOfWork, weeks_of_work

LEAST_WEEKS = 5
OWN_WEEKS = "own weeks"
STATED = "stated ranges"
NO_RANGE = "no range"
ORDERED = "ordered"

_PASSED = 0.4  # on both sides: P80 is passed one time in five on its own
_P80_OF_TRIANGLE = 1.0 - sqrt(_PASSED)  # of a reach of 1 to either side

Ends = TypeVar("Ends", bound=Distribution)


@dataclass(frozen=True)
class StatedRanges:
    """What a scope says about how sure it is.

    Parameters
    ----------
    spreads : mapping of str to Spread
        Of quantity and pace, by cost code.
    correlation : ByGroups, ByItems or ByMatrix
        How costs move together.
    events : tuple of Event
        What may turn up and cost money.
    """

    spreads: Mapping[str, Spread] = field(default_factory=dict)
    correlation: Correlation = DEFAULT_CORRELATION
    events: tuple[Event, ...] = ()


def ranges_stated(scope: Scope) -> StatedRanges:
    """Return what a scope says about how sure it is."""
    risk = scope.risk
    spreads = {one.code: one.spread.within(risk.usual) for one in scope.items}
    events = tuple(one for one in risk.events if one.costs_money)
    return StatedRanges(spreads, risk.correlation, events)


class RestLines:
    """The lines that are drawn, and on what each dollar of them rests."""

    def __init__(
        self, books: DailyBooks, report: Track, estimate: PrintedEstimate, stated: StatedRanges
    ) -> None:
        self.report = report
        self.stated = stated
        self.weeks = weeks_of_work(books, report.as_of, report.since)
        self.measured_again = {
            one.code
            for one in books.rows.progress
            if one.expected is not None and not one.is_inspector
        }
        self.rates = _stated_rates(estimate)
        self.shares = _shares_by_kind(estimate)
        self.basis: dict[str, int] = defaultdict(int)

    def begun(self) -> set[str]:
        """Return the phases in which something is in place or was spent."""
        codes = self.report.status.codes
        return {
            one.phase
            for one in codes
            if one.quantity or one.spent.incurred_cents or one.spent.paid_cents
        }

    def lines(self) -> tuple[Line, ...]:
        """Return what is incurred, then what is left of each code."""
        lines: list[Line] = []
        for total in self.report.status.by_phase():
            name = f"{total.code} incurred"
            lines.append(LineRange(name, total.spent.incurred_cents, phase=total.code))
        for code in self.report.status.codes:
            if code.code != CONTINGENCY:
                lines += self._lines_of(code)
        return tuple(lines)

    def _lines_of(self, code: CodeStatus) -> Iterator[Line]:
        ordered, left = self._left(code)
        if ordered:
            self.basis[ORDERED] += ordered
            yield LineRange(f"{code.code} ordered", ordered, phase=code.phase)
        parts = [self._part(code, kind, cents) for kind, cents in left.items() if cents > 0]
        if parts:
            largest = max(parts, key=lambda part: part.estimate_cents)
            quantity = self._quantity(code)
            yield ItemRange(code.code, quantity, tuple(parts), largest.kind, code.phase, code.code)

    def _left(self, code: CodeStatus) -> tuple[int, dict[str, int]]:
        """Return what is ordered, and what is left besides by kind [0.01 $]."""
        rest = self.report.rests.get(code.code)
        if rest is None:
            left = self.report.forecast_cents(code) - code.spent.incurred_cents
            ordered = min(max(code.committed_cents, 0), left)
            return ordered, self._by_kind(code, left - ordered)
        is_ordered = {kind: basis == "committed" for kind, basis in rest.basis_by_kind.items()}
        ordered = sum(cents for kind, cents in rest.cents_by_kind.items() if is_ordered[kind])
        others = {k: cents for k, cents in rest.cents_by_kind.items() if not is_ordered[k]}
        return ordered, others

    def _by_kind(self, code: CodeStatus, cents: int) -> dict[str, int]:
        """Return a sum spread over the kinds of a code like the accepted estimate."""
        shares = self.shares.get(code.code)
        if not shares:
            return {"": cents}
        return dict(zip(shares, apportion(cents, list(shares.values())), strict=True))

    def _part(self, code: CodeStatus, kind: str, cents: int) -> LineRange:
        name, weeks = f"{code.code} {kind}", self.weeks.get(code.code, ())
        left = float(max(code.expected - code.quantity, Decimal(0)))
        if len(weeks) >= LEAST_WEEKS and left:
            seen = spread_of_weeks(weeks, kind, left)
            if seen is not None:
                self.basis[OWN_WEEKS] += cents
                return LineRange(name, cents, rate=seen, kind=kind)
        rate = self.rates.get((code.code, kind), CERTAIN)
        pace = self._spread(code).pace if kind == LABOR else None
        part = LineRange(name, cents, rate=rate, production=pace or CERTAIN, kind=kind)
        is_certain = part.is_certain and self._quantity(code) is CERTAIN
        self.basis[NO_RANGE if is_certain else STATED] += cents
        return part

    def _spread(self, code: CodeStatus) -> Spread:
        return self.stated.spreads.get(code.code, NOTHING_STATED)

    def _quantity(self, code: CodeStatus) -> Distribution:
        """Return the range of the quantity that is left, as a factor on it."""
        stated = self._spread(code).quantity
        if stated is None or code.code in self.measured_again or code.unit == "%":
            return CERTAIN
        if not code.expected or code.code not in self.report.rests:
            return stated
        return _of_rest(stated, float(code.quantity / code.expected))


def _of_rest(whole: Ends, done: float) -> Ends:
    """Return the range of what is left, from that of the whole and the fraction in place."""
    ends: dict[str, Any] = {
        one.name: max(getattr(whole, one.name) - done, 0.0) / (1.0 - done) for one in fields(whole)
    }
    return replace(whole, **ends)


def spread_of_weeks(
    weeks: Sequence[WeekOfWork], kind: str, left: float
) -> Triangular | None:  # fmt: skip
    """Return how far the cost of what is left may come out differently, as a factor on it.

    Parameters
    ----------
    weeks : sequence of WeekOfWork
        Five at least.
    kind : str
        Of cost.
    left : float
        [unit] Still to be placed; above zero.

    Returns
    -------
    Triangular or None
        None where the kind has cost nothing in these weeks, or they differ so much that the range
        would reach below nothing.

    Notes
    -----
    See `forecast_range`.

    Examples
    --------
    >>> from datetime import date
    >>> day, dollars = date(2026, 5, 8), (480, 500, 520, 490, 510)
    >>> weeks = [WeekOfWork(day, 20.0, {"labor": 100 * one}) for one in dollars]
    >>> spread = spread_of_weeks(weeks, "labor", 100.0)
    >>> round(spread.low, 3), round(spread.high, 3)
    (0.949, 1.051)
    """
    pairs = [(one.quantity, one.cents_by_kind.get(kind, 0)) for one in weeks]
    placed, cents, count = sum(x for x, _ in pairs), sum(y for _, y in pairs), len(pairs)
    if cents <= 0:
        return None
    each = cents / placed
    variance = sum((y - each * x) ** 2 / x for x, y in pairs) / (count - 1)
    deviation = sqrt(variance * (1 / left + 1 / placed)) / each
    reach = student_t(_PASSED, count - 1) * deviation / _P80_OF_TRIANGLE
    return Triangular(1.0 - reach, 1.0, 1.0 + reach) if reach <= 1.0 else None


def _stated_rates(estimate: PrintedEstimate) -> dict[tuple[str, str], Triangular]:
    """Return the range of the rates of each code and kind, by their share of the cost."""
    rates = {one.code: range_of(one) for one in estimate.rates}
    sums: dict[tuple[str, str], list[float]] = defaultdict(lambda: [0.0, 0.0, 0.0])
    for line in estimate.lines:
        if line.is_paid and line.kind != SALVAGE and line.cents > 0:
            own = rates.get(line.resource)
            ends = (own.low / own.likely, own.high / own.likely) if own and own.likely else (1, 1)
            for place, end in enumerate((ends[0], 1, ends[1])):
                sums[line.item, line.kind][place] += line.cents * float(end)
    return {
        place: Triangular(low / likely, 1.0, high / likely)
        for place, (low, likely, high) in sums.items()
        if low < high
    }


def _shares_by_kind(estimate: PrintedEstimate) -> dict[str, dict[str, int]]:
    shares: dict[str, dict[str, int]] = defaultdict(dict)
    for line in estimate.lines:
        if line.is_paid and line.kind != SALVAGE and line.cents > 0:
            own = shares[line.item]
            own[line.kind] = own.get(line.kind, 0) + line.cents
    return shares
