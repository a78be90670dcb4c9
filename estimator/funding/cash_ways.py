"""What brings the owner's peak of cash down: each way worked out whole, and compared in dollars."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from estimator.funding.cash_course import CashCourse, cash_course
from estimator.funding.cash_plan import MONTHLY, TWICE_A_MONTH, CashPlan

LATER_DAYS = 30
_MOST_TRIED = 5


@dataclass(frozen=True)
class CashWay:
    """A way to pay less before the lender does.

    Parameters
    ----------
    words : str
        What is done.
    peak_cents : int
        [0.01 $] What the owner has paid at the most, with it.
    peak_day : date
        When.
    saved_cents : int
        [0.01 $] By how much that is less; negative where it is more.
    """

    words: str
    peak_cents: int
    peak_day: date
    saved_cents: int


def cash_ways(course: CashCourse) -> tuple[CashWay, ...]:
    """Return what an earlier draw, a later phase and the terms of a vendor would do, best first.

    Parameters
    ----------
    course : CashCourse
        As planned.

    Notes
    -----
    Of the five phases that have not begun, and of the five codes, with most to come, the one that
    brings the peak down most is named.
    """
    tried = [*_draws(course), *_best(_phases(course)), *_best(_vendors(course))]
    return tuple(sorted(tried, key=lambda one: -one.saved_cents))


def _draws(course: CashCourse) -> Iterator[CashWay]:
    if course.plan.draw_days == MONTHLY:
        twice = replace(course.plan, draw_days=TWICE_A_MONTH)
        yield _way(course, twice, "Ask for a draw twice a month, through the 15th as well")


def _phases(course: CashCourse) -> Iterator[CashWay]:
    plan, rest = course.plan, Counter[str]()
    begun = set()
    for one in plan.costs:
        phase = one.code.partition(".")[0]
        if one.is_incurred or (one.start - plan.as_of).days <= 1:
            begun.add(phase)
        elif "." in one.code:
            rest[phase] += one.cents
    for phase in begun:
        del rest[phase]
    for phase, _ in rest.most_common(_MOST_TRIED):
        words = f"Do phase {phase} {LATER_DAYS} days later"
        yield _way(course, plan.phase_later(phase, LATER_DAYS), words)


def _vendors(course: CashCourse) -> Iterator[CashWay]:
    plan, rest = course.plan, Counter[str]()
    for one in plan.costs:
        if not one.is_incurred:
            rest[one.code] += one.cents
    for code, _ in rest.most_common(_MOST_TRIED):
        words = f"Pay for {code} {LATER_DAYS} days after the cost is incurred"
        yield _way(course, plan.paying_later(code, LATER_DAYS), words)


def _best(ways: Iterator[CashWay]) -> list[CashWay]:
    listed = sorted(ways, key=lambda one: -one.saved_cents)
    return listed[:1]


def _way(course: CashCourse, plan: CashPlan, words: str) -> CashWay:
    peak = cash_course(plan).peak
    saved = course.peak.owner_cents - peak.owner_cents
    return CashWay(words, peak.owner_cents, peak.day, saved)
