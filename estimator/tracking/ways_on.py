"""What can be done: the rest of an item by another method or one more machine, if it costs less."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import date, timedelta

from estimator.assemblies.tables import Tables
from estimator.errors import GroundsillError
from estimator.money import cents_money, to_cents
from estimator.production.placed_so_far import pace_of_sum
from estimator.production.working_calendar import WorkingCalendar, next_working_day
from estimator.quantity.units import counted
from estimator.scope.methods.method import Method
from estimator.scope.scope import Item, Scope
from estimator.studies.comparison.changing_course import (
    ChangedCourse,
    WayOn,
    changed_course,
    with_one_more,
)
from estimator.studies.comparison.comparison import Comparison, compare
from estimator.tracking.attention import Attention
from estimator.tracking.job_record import PACE, JobRate
from estimator.tracking.job_track import Track
from estimator.tracking.status import CodeStatus

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def better_ways_on(
    report: Track,
    rates: Iterable[JobRate],
    scope: Scope,
    tables: Tables,
    on: date,
    calendar: WorkingCalendar | None = None,
) -> tuple[Attention, ...]:
    """Return the codes whose rest costs less by another method, or with one more machine.

    Parameters
    ----------
    report : Track
        See `track`.
    rates : iterable of JobRate
        See `job_rates`: hours per unit against the estimate's. A code without them is passed over.
    scope : Scope
        Of the accepted estimate, whose items list methods; one is enough if a system of machines
        does it, which may get one more.
    tables : Tables
        That it was priced with.
    on : date
        Its pricing date: both ways are at these rates.
    calendar : WorkingCalendar or None
        None for weekdays without public holidays of the United States.

    Notes
    -----
    The method that the item is priced by goes on at the hours per unit of the record, without what
    it cost to bring it here; any other is brought here and goes at the pace of its own plan. See
    `changed_course`. What is left is what the books expect, whatever the scope measured. An item
    whose methods cannot be compared, such as one whose rest is more than the scope's whole, says
    nothing.
    """
    items = {one.code: one for one in scope.items if _has_ways(one)}
    start = next_working_day(calendar or WorkingCalendar(), report.as_of + timedelta(1))
    codes = {one.code: one for one in report.status.codes}
    listed: list[Attention] = []
    for rate in rates:
        if rate.what == PACE and rate.table and rate.code in items and rate.learned.mean > 0:
            code, method = codes[rate.code], items[rate.code].method.name
            if code.quantity < code.expected:
                pace = rate.table / rate.learned.mean
                with suppress(GroundsillError):
                    compared = compare(scope, tables, on, code.code, least_methods=1)
                    listed += _better(code, *_ways(code, pace, compared, method), start)
    return tuple(listed)


def _has_ways(item: Item) -> bool:
    """Whether an item lists several methods, or one that one more machine may speed up."""
    return len(item.methods) > 1 or any(one.production for one in item.methods)


def _ways(
    code: CodeStatus, pace: float, compared: Comparison, method: str
) -> tuple[ChangedCourse, WayOn | None]:
    """Return the ways on, and that with one more carrier, at a pace as a factor on the plan's.

    All but the rest is placed.
    """
    place = compared.place(method)
    planned = compared.as_written[place]
    whole, days = float(planned.quantity[0]), float(planned.days[0])
    placed = pace_of_sum(whole - float(code.expected - code.quantity), 1)  # refused if not above 0
    observed = replace(placed, per_day=whole / days * pace)
    return (
        changed_course(compared, place, observed),
        with_one_more(compared, place, observed),
    )


def _better(
    code: CodeStatus, course: ChangedCourse, one_more: WayOn | None, start: date
) -> Iterator[Attention]:
    best, going_on = course.best, course.going_on
    how = f"by {best.method.name}"
    if one_more is not None and one_more.in_all < best.in_all:
        best, how = one_more, _with_one_more(one_more.method)
    saved = to_cents(going_on.in_all - best.in_all)
    if saved <= 0:
        return
    left = counted(f"{code.expected - code.quantity:,f}", code.unit)
    yield Attention(
        saved,
        code.code,
        f"{code.code} {code.name}: the {left} left cost {cents_money(saved)} less {how} from "
        f"{_WEEKDAYS[start.weekday()]} than going on at the hours so far "
        f"({cents_money(to_cents(best.in_all))} against {cents_money(to_cents(going_on.in_all))}, "
        "at the rates of the estimate, with the worth of their days)",
    )


def _with_one_more(method: Method) -> str:
    """Return in words that a method has one more carrier, with what it brings along."""
    production = method.production
    assert production is not None
    brought = [one.resource for one in production.brings or ()]
    brought += [one.resource for one in production.hired if one.number is None]
    along = ", ".join(one.replace("-", " ") for one in brought)
    return f"with one more {production.carrier}{f' ({along})' if along else ''} and its delivery"
