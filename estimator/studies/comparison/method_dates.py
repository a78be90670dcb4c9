"""When the work of each method is done, by the calendar and the schedule of the whole job."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from estimator.money import money_text
from estimator.quantity.units import counted
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.first_day import ItemStart


def date_sentences(comparison: Comparison, course: ChangedCourse | None) -> Iterator[str]:
    """Yield when each method is done, and the rest of work that is under way.

    Parameters
    ----------
    comparison : Comparison
        With the start of its item.
    course : ChangedCourse or None
        Of work that is under way.
    """
    start = comparison.start
    if start is None:
        return
    ends = "; ".join(
        f"{one.method.name}, by {start.finish(one.days)}" for one in comparison.possible
    )
    yield f"started the morning of {start.day}, as scheduled, each would be done: {ends}"
    by_dates = list(_by_dates(comparison))
    yield from by_dates
    if course is not None:
        yield from rest_sentences(comparison, course)
        by_dates += _rest_by_dates(course)
    if by_dates:
        yield "all else here counts machines by single days, at the prices of the pricing date"


def rest_sentences(comparison: Comparison, course: ChangedCourse) -> Iterator[str]:
    """Yield when each way does the rest of work that is under way, and what it adds by its dates.

    Parameters
    ----------
    comparison : Comparison
        Of the whole work; nothing is said where it has no start.
    course : ChangedCourse
        Of it.
    """
    if comparison.start is not None:
        yield _rest(comparison.start, course)
        yield from _rest_by_dates(course)


def _rest(start: ItemStart, course: ChangedCourse) -> str:
    """Return when each way does the rest."""
    done = course.now.pace.days
    ends = "; ".join(
        f"{way.method.name}, by {start.finish(done + way.days)}" for way in course.possible
    )
    return f"the rest, with {counted(str(done), 'day')} worked from that morning on: {ends}"


def _rest_by_dates(course: ChangedCourse) -> Iterator[str]:
    """Yield what the rents of the job make of the rest, where that is another sum than by days."""
    if not course.is_dated:
        return
    totals = "; ".join(f"{way.method.name} {money_text(way.by_dates)}" for way in course.possible)
    best = min(course.possible, key=lambda way: (way.by_dates, not way.is_under_way))
    yield (
        f"on these dates, with machines at the rent that they add to the job, the total with time "
        f"is: {totals}; then {best.method.name} is cheapest"
    )


def _by_dates(comparison: Comparison) -> Iterator[str]:
    """Yield what rents and prices by the dates of the job make of the methods."""
    changed = [
        f"{dated.method.name} {money_text(dated.in_all)}, {_more(dated.in_all - plain.in_all)}"
        for plain, dated in zip(comparison.results, comparison.by_dates, strict=False)
        if dated.in_all != plain.in_all and not plain.method.obstacle
    ]
    if changed:
        possible = [comparison.by_dates[place] for place in comparison.competing]
        best = min(possible, key=lambda one: one.in_all).method.name
        yield (
            f"by these dates, with rents and prices as the estimate has them, the total with time "
            f"is: {'; '.join(changed)}; then {best} is cheapest"
        )


def _more(amount: Decimal) -> str:
    return f"{money_text(abs(amount))} {'more' if amount > 0 else 'less'}"
