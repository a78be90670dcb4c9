"""Balance and course of the cash as JSON: sums as decimal texts, days as dates."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from estimator.funding.cash_course import CashCourse, CashDay
from estimator.funding.cash_sentences import (
    half_commitment_sentence,
    largest_causes,
    left_out_sentences,
    peak_sentence,
    runs_out_sentence,
)
from estimator.funding.cash_ways import CashWay
from estimator.funding.loan_balance import SOURCE, USE, LoanBalance
from estimator.money import cents_text


def balance_fields(balance: LoanBalance) -> dict[str, Any]:
    """Return a balance as `docs/draws.md` describes it.

    Parameters
    ----------
    balance : LoanBalance
        At P50 and P80.
    """
    return {
        "as_of": balance.as_of.isoformat(),
        "lines": [
            {"side": one.side, "name": one.name} | _both((one.p50_cents, one.p80_cents))
            for one in balance.lines
        ],
        "sources": _both(balance.sums(SOURCE)),
        "uses": _both(balance.sums(USE)),
        "surplus": _both(balance.surplus_cents),
        "sentence": balance.sentence,
    }


def _both(cents: tuple[int, int]) -> dict[str, str]:
    return {"P50": cents_text(cents[0]), "P80": cents_text(cents[1])}


def cash_fields(course: CashCourse, ways: tuple[CashWay, ...]) -> dict[str, Any]:
    """Return the course of the cash as `docs/draws.md` describes it.

    Parameters
    ----------
    course : CashCourse
        By a plan.
    ways : tuple of CashWay
        What would bring its peak down.
    """
    peak, out = course.peak, course.runs_out
    ends = [course.days[0], *course.month_ends]
    return {
        "as_of": course.plan.as_of.isoformat(),
        "through": course.days[-1].day.isoformat(),
        "runs_out": None if out is None else out.day.isoformat(),
        "causes": [
            {"cause": name, "amount": cents_text(cents)}
            for name, cents in ([] if out is None else largest_causes(out))
        ],
        "peak": {"day": peak.day.isoformat(), "paid": cents_text(peak.owner_cents)},
        "interest_to_come": cents_text(course.interest_to_come_cents),
        "fees_to_come": cents_text(course.fees_to_come_cents),
        "months": [_month(*pair) for pair in pairwise(ends)],
        "ways": [
            {
                "way": one.words,
                "peak": cents_text(one.peak_cents),
                "peak_day": one.peak_day.isoformat(),
                "saved": cents_text(one.saved_cents),
            }
            for one in ways
        ],
        "sentences": [
            runs_out_sentence(course),
            peak_sentence(course),
            half_commitment_sentence(course),
            *left_out_sentences(course),
        ],
    }


def _month(before: CashDay, end: CashDay) -> dict[str, str]:
    """Return what a month moved, and where it ends."""
    moved = {
        "paid": end.paid_cents - before.paid_cents,
        "lent": end.balance_cents - before.balance_cents,
        "equity": end.equity_cents - before.equity_cents,
        "received": end.received_cents - before.received_cents,
        "interest": end.interest_cents - before.interest_cents,
        "fees": end.fees_cents - before.fees_cents,
        "balance": end.balance_cents,
        "owner_paid": end.owner_cents,
    }
    return {"end": end.day.isoformat()} | {key: cents_text(own) for key, own in moved.items()}
