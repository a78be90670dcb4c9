"""The outlook: how sure the forecast is, when the rest is done, and what would cost less."""

from __future__ import annotations

from dataclasses import dataclass, replace

from estimator.assemblies.tables import Tables
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.production.working_calendar import WorkingCalendar
from estimator.ranges.latin_hypercube import DEFAULT_ITERATIONS, DEFAULT_SEED
from estimator.scope.scope import Scope
from estimator.tracking.attention import Attention
from estimator.tracking.books_by_day import DailyBooks
from estimator.tracking.dates_done import FinishDate, all_done, finish_dates
from estimator.tracking.delivered_loads import Delivered, deliveries
from estimator.tracking.forecast_ranges import ForecastRange, forecast_range
from estimator.tracking.job_record import pace_rates
from estimator.tracking.job_track import Track
from estimator.tracking.rest_lines import StatedRanges, ranges_stated
from estimator.tracking.to_decide import open_allowances, waiting_changes
from estimator.tracking.unit_hours import HoursOfCode, hours_of_codes
from estimator.tracking.ways_on import better_ways_on


@dataclass(frozen=True)
class AcceptedScope:
    """What the accepted estimate was priced from.

    Parameters
    ----------
    estimate : PrintedEstimate
        As it was stored.
    scope : Scope or None
        None where this version of the program cannot read it.
    tables : Tables or None
        That it was priced with.
    """

    estimate: PrintedEstimate
    scope: Scope | None
    tables: Tables | None


@dataclass(frozen=True)
class CostAndDates:
    """What the job comes to, and when it is done.

    Parameters
    ----------
    cost : ForecastRange
        P50 and P80 of the cost at completion.
    finishes : tuple of FinishDate
        Of each code of which something is left.
    all_done : str
        When the job is done, in a sentence.
    """

    cost: ForecastRange
    finishes: tuple[FinishDate, ...]
    all_done: str


@dataclass(frozen=True)
class Outlook(CostAndDates):
    """Where the job is going: cost and dates, and what to do about them.

    Parameters
    ----------
    cost, finishes, all_done : ForecastRange, tuple of FinishDate, str
        See `CostAndDates`.
    better_ways : tuple of Attention
        Rests that cost less by another method of the item.
    to_decide : tuple of Attention
        Changes that wait, and allowances to reconcile.
    hours : tuple of HoursOfCode
        Hours per unit in place against the estimate, of codes on which some were logged.
    delivered : tuple of Delivered
        Loads, their quantity and the time of their trucks.
    """

    better_ways: tuple[Attention, ...]
    to_decide: tuple[Attention, ...] = ()
    hours: tuple[HoursOfCode, ...] = ()
    delivered: tuple[Delivered, ...] = ()


def outlook(
    books: DailyBooks,
    report: Track,
    accepted: AcceptedScope,
    seed: int = DEFAULT_SEED,
    iterations: int = DEFAULT_ITERATIONS,
    calendar: WorkingCalendar | None = None,
) -> Outlook:
    """Return where the job is going.

    Parameters
    ----------
    books : DailyBooks
        See `daily_books`, of the day of the report.
    report : Track
        What they say: see `track`.
    accepted : AcceptedScope
        Where ranges, methods and planned work stand.
    seed, iterations : int
        As of `JobRanges`.
    calendar : WorkingCalendar or None
        None for weekdays without public holidays of the United States.
    """
    ahead = cost_and_dates(books, report, accepted, seed, iterations, calendar)
    ways: tuple[Attention, ...] = ()
    if accepted.scope is not None and accepted.tables is not None:
        on = accepted.estimate.on
        rates = pace_rates(books, accepted.estimate)
        ways = better_ways_on(report, rates, accepted.scope, accepted.tables, on, calendar)
    decide = (
        *waiting_changes(books.rows.changes),
        *open_allowances(report.status, accepted.estimate),
    )
    hours = hours_of_codes(report.status.codes, books.hours, accepted.estimate)
    came = deliveries(books.rows.tickets)
    return Outlook(ahead.cost, ahead.finishes, ahead.all_done, ways, decide, hours, came)


def cost_and_dates(
    books: DailyBooks,
    report: Track,
    accepted: AcceptedScope,
    seed: int = DEFAULT_SEED,
    iterations: int = DEFAULT_ITERATIONS,
    calendar: WorkingCalendar | None = None,
) -> CostAndDates:
    """Return what a job comes to and when it is done, without looking for better ways.

    Parameters
    ----------
    books, report, accepted : DailyBooks, Track, AcceptedScope
        See `outlook`.
    seed, iterations : int
        As of `JobRanges`.
    calendar : WorkingCalendar or None
        See `outlook`.
    """
    stated = StatedRanges() if accepted.scope is None else ranges_stated(accepted.scope)
    cost = forecast_range(books, report, accepted.estimate, stated, seed, iterations)
    if accepted.scope is None:
        unread = "The scope cannot be read by this version: what it states of ranges is left out."
        cost = replace(cost, statements=(*cost.statements, unread))
    finishes = finish_dates(books, report, calendar)
    names = {one.code: one.name for one in report.status.codes}
    return CostAndDates(cost, finishes, all_done(finishes, names))


def with_outlook(report: Track, ahead: Outlook) -> Track:
    """Return a report whose list of attention has what would cost less and what to decide.

    Parameters
    ----------
    report : Track
        Where the job stands.
    ahead : Outlook
        Where it is going.
    """
    listed = sorted(
        [*report.attention, *ahead.better_ways, *ahead.to_decide], key=lambda one: -one.cents
    )
    return replace(report, attention=tuple(listed))
