"""When the work of each method is done, by the calendar and the schedule of the whole job."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from estimator.money import money_text
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison


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
    yield f"from the morning of {start.day}, the day that the schedule has it begin: {ends}"
    yield from _by_dates(comparison)
    if course is not None:
        done = course.now.pace.days
        ends = "; ".join(
            f"{way.method.name}, by {start.finish(done + way.days)}"
            for way in course.ways
            if not way.method.obstacle
        )
        yield f"the rest, with {done} days worked from that morning on: {ends}"


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
        yield "all else here is by single days of machines, at the prices of the day"


def _more(amount: Decimal) -> str:
    return f"{money_text(abs(amount))} {'more' if amount > 0 else 'less'}"
