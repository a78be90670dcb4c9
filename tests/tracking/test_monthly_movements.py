"""What each month added is the difference of two states, so that the months add up."""

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.tracking.books import Books, known_books
from estimator.tracking.job_track import track
from estimator.tracking.monthly_movements import month_ends, movements_by_month
from estimator.tracking.planned_dates import PlannedDates
from tests.tracking.rows import MONDAY, NOW, at, cost, payment, progress
from tests.tracking.test_status import BUDGET

STONE = ("20.010", "material")


def moved(books, first, as_of):
    ends = month_ends(first, as_of)
    return movements_by_month([known_books(books, end, NOW) for end in ends], BUDGET)


DAYS = st.integers(0, 200).map(lambda days: MONDAY + timedelta(days))


def test_a_month_is_the_state_at_its_end_less_that_of_the_month_before():
    """$100.00 on May 4, $33.33 on June 2 of which $10.00 is paid in July; nothing else moves."""
    books = Books(
        costs=[
            cost(1, (*STONE, 10_000, 0)),
            cost(2, (*STONE, 3_333, 0), happened=date(2026, 6, 2)),
        ],
        payments=[payment(3, 2, 1_000, happened=date(2026, 7, 1))],
    )
    months = moved(books, MONDAY, date(2026, 7, 15))
    assert [(one.first, one.last, one.incurred_cents, one.paid_cents) for one in months] == [
        (date(2026, 5, 1), date(2026, 5, 31), 10_000, 0),
        (date(2026, 6, 1), date(2026, 6, 30), 3_333, 0),
        (date(2026, 7, 1), date(2026, 7, 15), 0, 1_000),
    ]


@settings(max_examples=15)
@given(
    st.lists(st.tuples(DAYS, st.integers(1, 10**7), DAYS), max_size=6),
    st.lists(st.tuples(DAYS, st.integers(1, 399)), max_size=4), DAYS, DAYS,
)  # fmt: skip
def test_the_months_add_up_to_the_state_to_the_cent(bills, measured, start, as_of):
    costs, payments = [], []
    for row, (happened, cents, paid_on) in enumerate(bills, 1):
        costs.append(cost(row, (*STONE, cents, cents // 14), happened=happened))
        payments.append(payment(100 + row, row, cents // 3, happened=paid_on))
    books = Books(
        costs=costs, payments=payments,
        progress=[
            progress(200 + row, "20.010", str(Decimal(tons) / 7), happened=day)
            for row, (day, tons) in enumerate(measured)
        ],
        plans=[PlannedDates(300, MONDAY, at(MONDAY), "20", start, start + timedelta(100))],
    )  # fmt: skip
    months = moved(books, MONDAY, as_of)
    whole = track(books, BUDGET, as_of, NOW).status.whole()
    assert sum(one.incurred_cents for one in months) == whole.spent.incurred_cents
    assert sum(one.paid_cents for one in months) == whole.spent.paid_cents
    assert sum(one.earned_cents for one in months) == whole.performance.earned_cents
    assert sum(one.planned_cents for one in months) == whole.performance.planned_cents
