"""What is open besides money: holds, orders, stock, points, workweeks and rents, in sentences."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from itertools import chain

from estimator.tracking.books import Books
from estimator.tracking.closed_weeks import unclosed_sentences
from estimator.tracking.commitments import (
    OrderStand,
    over_billing_sentences,
    unknown_order_sentences,
)
from estimator.tracking.hold_points import hold_sentence, open_holds
from estimator.tracking.machines_on_rent import call_off_sentence, next_call_off, running_rents
from estimator.tracking.measured_points import point_courses
from estimator.tracking.own_stock import over_use_sentences, stock
from estimator.tracking.payroll_week import Worked
from estimator.tracking.progress import measured_last

_CALL_OFF_DAYS = 7


def open_matters(
    known: Books,
    orders: Mapping[str, OrderStand],
    billed_on: Mapping[str, int],
    open_hours: Mapping[date, Worked],
    as_of: date,
) -> list[tuple[str, str]]:
    """Return what needs attention besides money, with the cost code where it has one.

    Parameters
    ----------
    known : Books
        What is known on the day.
    orders : mapping of str to OrderStand
        See `order_stands`.
    billed_on : mapping of str to int
        [0.01 $] See `LedgerSums.billed_on_orders`.
    open_hours : mapping of date to Worked
        See `LedgerSums`.
    as_of : date
        The last day that counts.
    """
    stands = {one.code: one for one in measured_last(known.progress)}
    holds = [
        (hold.code, hold_sentence(hold, stands.get(hold.code)))
        for hold in open_holds(known.holds, known.results)
    ]
    limits = (one.sentence for one in point_courses(known.points, known.readings))
    others = chain(
        over_billing_sentences(orders),
        unknown_order_sentences(orders, billed_on),
        over_use_sentences(stock(known.stock)),
        filter(None, limits),
        unclosed_sentences(open_hours, known.payroll, as_of),
    )
    return [*holds, *(("", sentence) for sentence in others), *_call_offs(known, as_of)]


def _call_offs(known: Books, as_of: date) -> list[tuple[str, str]]:
    """Return the machines whose rent steps up within a week."""
    sentences = []
    for rent in running_rents(known.rents, known.called_off):
        step = next_call_off(rent, as_of)
        if step is not None and step.last_day <= as_of + timedelta(_CALL_OFF_DAYS):
            sentences.append((rent.code, call_off_sentence(rent, step)))
    return sentences
