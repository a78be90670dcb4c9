"""What the course of the cash says, in sentences that hold when it is worked out again."""

from __future__ import annotations

from datetime import date

from estimator.errors import how_many
from estimator.funding.cash_course import CashCourse, CashDay
from estimator.funding.loan_interest import half_commitment_interest
from estimator.money import cents_money

_MOST_CAUSES = 3
_COUNTED = ("equity that draws have counted",)


def largest_causes(day: CashDay) -> tuple[tuple[str, int], ...]:
    """Return the three largest sums that the owner's money waits for on a day [0.01 $].

    Parameters
    ----------
    day : CashDay
        Of a course.
    """
    causes = [(name, cents) for name, cents in day.causes.items() if name not in _COUNTED]
    ordered = sorted(causes, key=lambda one: -one[1])
    return tuple(one for one in ordered if one[1] > 0)[:_MOST_CAUSES]


def runs_out_sentence(course: CashCourse) -> str:
    """Return on which day the cash runs out and why, or that it does not.

    Parameters
    ----------
    course : CashCourse
        See `cash_course`.
    """
    plan, day = course.plan, course.runs_out
    own = f" and own cash of {cents_money(plan.own_cash_cents)}" if plan.own_cash_cents else ""
    has = f"the equity of {cents_money(plan.equity.required_cents)}{own}"
    if day is None:
        peak = course.peak
        return (
            f"The cash does not run out from {plan.as_of} to {course.days[-1].day}: the owner has "
            f"paid most on {peak.day}, {cents_money(peak.owner_cents)}, and that is no more than "
            f"{has}."
        )
    over = day.owner_cents - plan.equity.required_cents - plan.own_cash_cents
    verb = "has run out by" if day.day == plan.as_of else "runs out on"
    causes = "; ".join(f"{cents_money(cents)} {name}" for name, cents in largest_causes(day))
    return (
        f"The cash {verb} {day.day}: the owner has paid {cents_money(day.owner_cents)} by then, "
        f"{cents_money(over)} more than {has}. Largest causes: {causes}."
    )


def peak_sentence(course: CashCourse) -> str:
    """Return when the owner has paid most, and how much that is beyond the equity.

    Parameters
    ----------
    course : CashCourse
        See `cash_course`.
    """
    peak = course.peak
    beyond = max(peak.owner_cents - course.plan.equity.required_cents, 0)
    return (
        f"The owner has paid most on {peak.day}: {cents_money(peak.owner_cents)}, of which "
        f"{cents_money(beyond)} is beyond the equity."
    )


def half_commitment_sentence(course: CashCourse) -> str:
    """Return the interest of the whole loan beside what the disclosure rule supposes.

    Parameters
    ----------
    course : CashCourse
        See `cash_course`.
    """
    terms, last = course.plan.terms, course.days[-1]
    months = _months(terms.closed, terms.ends)
    first = min(terms.rates, key=lambda one: one.since)
    supposed = half_commitment_interest(terms.commitment_cents, first.rate_fraction, months)
    return (
        f"Interest by this forecast comes to {cents_money(last.interest_cents)} up to {last.day}; "
        "the disclosure rule, half of the commitment for "
        f"{how_many(months, 'month')} at the first rate, assumes {cents_money(supposed)} (12 CFR "
        "part 1026, appendix D)."
    )


def _months(start: date, end: date) -> int:
    """Return the whole months from a day to another, one begun counted whole."""
    months = (end.year - start.year) * 12 + end.month - start.month
    return max(months + (end.day > start.day), 1)


def left_out_sentences(course: CashCourse) -> tuple[str, ...]:
    """Return what the course does not know.

    Parameters
    ----------
    course : CashCourse
        See `cash_course`.
    """
    plan, last = course.plan, course.days[-1]
    sentences = [
        "No stored material is assumed; what is incurred is drawn with the next draw; interest "
        f"up to {plan.as_of.replace(day=1)} counts as settled."
    ]
    if plan.undated_cents:
        sentences.append(
            f"{cents_money(plan.undated_cents)} of what is to come has no date of its own and is "
            "spread evenly up to the last date of the rest."
        )
    open_end = last.requested.earned_cents - last.granted.earned_cents + last.short_cents
    if open_end > 0:
        sentences.append(f"{cents_money(open_end)} that was requested is not funded at the end.")
    if last.beyond_cents > 0:
        sentences.append(
            f"{cents_money(last.beyond_cents)} is more than its line has room for, or cannot be "
            "drawn: the owner pays it."
        )
    return tuple(sentences)
