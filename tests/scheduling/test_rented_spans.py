"""A machine on rent: by the day, the week and four weeks, and whether it stays or goes back."""

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.rates.rents import Rent
from estimator.rates.rows import EARLIEST, Origin
from estimator.scheduling.rented_spans import MachineUse, cheapest_spans

DAY, SHIFT = Decimal(310), Decimal(8)


def rent(delivery=0, over_hour=0, week=1000, month=3000):
    return Rent(
        "loader", Decimal(week), Decimal(month), Decimal(delivery), Decimal(0), "", Decimal(8),
        Decimal(over_hour), EARLIEST, None, "invented", "", Origin("made", "rents.csv", 2),
    )  # fmt: skip


def use(first, last, days, machines=1, is_brought=False):
    day = date(2026, 4, first), date(2026, 4, last)
    return MachineUse(*day, machines, Decimal(days), is_brought)


def costs(spans):
    return [(len(one.uses), one.cents, one.words) for one in spans]


def test_a_working_week_is_a_week_not_five_days():
    """Five days are $1,550; a week is $1,000."""
    spans = cheapest_spans([use(6, 10, 5)], rent(), DAY, SHIFT)
    assert costs(spans) == [(1, 100_000, "1 week from 2026-04-06 to 2026-04-10, $1,000.00")]


def test_a_machine_that_is_needed_one_day_of_nine_is_rented_for_that_day():
    assert costs(cheapest_spans([use(6, 14, 1)], rent(), DAY, SHIFT)) == [
        (1, 31_000, "1 day by the day, $310.00")
    ]


def test_it_goes_back_between_two_uses_where_bringing_it_again_costs_less():
    """Sixteen days are $2,620 (two weeks and two days) + $420; apart, 2 x ($1,000 + $420)."""
    two = [use(6, 10, 5), use(15, 21, 5)]
    assert costs(cheapest_spans(two, rent(420), DAY, SHIFT)) == [
        (1, 142_000, "1 week from 2026-04-06 to 2026-04-10, $1,000.00, "
                     "delivery and pick-up $420.00"),
        (1, 142_000, "1 week from 2026-04-15 to 2026-04-21, $1,000.00, "
                     "delivery and pick-up $420.00"),
    ]  # fmt: skip


def test_it_stays_where_the_way_is_dearer_than_the_days_between_and_the_way_counts_once():
    """$2,620 + $700 = $3,320 against 2 x $1,700."""
    two = [use(6, 10, 5), use(15, 21, 5)]
    assert costs(cheapest_spans(two, rent(700), DAY, SHIFT)) == [
        (2, 332_000, "2 weeks + 2 days from 2026-04-06 to 2026-04-21, $2,620.00, "
                     "delivery and pick-up $700.00")
    ]  # fmt: skip


def test_two_that_work_at_once_are_two_machines_and_one_after_the_other_is_one():
    at_once = cheapest_spans([use(6, 12, 10, 2)], rent(100), DAY, SHIFT)
    assert costs(at_once) == [
        (1, 220_000, "2 machines for 1 week from 2026-04-06 to 2026-04-12, $2,000.00, "
                     "delivery and pick-up $200.00")
    ]  # fmt: skip
    in_turn = cheapest_spans([use(6, 8, 3), use(8, 12, 4)], rent(100), DAY, SHIFT)
    assert [one.cents for one in in_turn] == [110_000]


def test_a_machine_whose_way_is_paid_by_the_work_is_brought_once_and_only_others_pay_theirs():
    """It stays for the second use on the same way; of two at once, one is brought by the rent."""
    alone = cheapest_spans([use(6, 10, 5, is_brought=True), use(10, 12, 2)], rent(420), DAY, SHIFT)
    assert costs(alone) == [(2, 100_000, "1 week from 2026-04-06 to 2026-04-12, $1,000.00")]
    two = cheapest_spans([use(6, 10, 5, is_brought=True), use(7, 10, 4)], rent(420), DAY, SHIFT)
    assert sum(one.cents for one in two) == 242_000


def test_ten_hour_days_run_over_the_hours_of_a_week_and_four_of_them_do_not():
    """50 meter hours, of which a week includes 40: 10 at $30."""
    five = cheapest_spans([use(6, 10, 5)], rent(0, 30), DAY, Decimal(10))
    assert costs(five) == [
        (1, 130_000, "1 week from 2026-04-06 to 2026-04-10, $1,000.00, 10 over-hours $300.00")
    ]
    four = cheapest_spans([use(6, 9, 4)], rent(0, 30), DAY, Decimal(10))
    assert [one.cents for one in four] == [100_000]


def test_what_stays_for_years_is_rented_by_the_day():
    long = MachineUse(date(2026, 1, 1), date(2030, 1, 1), 1, Decimal(3))
    assert [one.cents for one in cheapest_spans([long, long], rent(), DAY, SHIFT)] == [93_000] * 2


@st.composite
def rows_of_uses(draw):
    start, uses = date(2026, 4, 6), []
    for _ in range(draw(st.integers(1, 5))):
        start += timedelta(draw(st.integers(1, 30)))
        finish = start + timedelta(draw(st.integers(0, 40)))
        uses.append(MachineUse(start, finish, 1, Decimal(draw(st.integers(1, 30)))))
        start = finish
    return uses


@settings(max_examples=25, deadline=None)
@given(rows_of_uses(), st.integers(0, 500), st.integers(300, 2000), st.integers(900, 6000))
def test_the_cheapest_rent_is_never_dearer_than_any_single_tier(uses, way, week, month):
    spans = cheapest_spans(uses, rent(way, 0, week, month), DAY, SHIFT)
    lengths = [(one.finish - one.start).days + 1 for one in uses]
    least = sum(one.cents for one in spans)
    assert least <= sum(int(31_000 * one.days) + 100 * way for one in uses)
    for price, days in ((week, 7), (month, 28)):
        assert least <= sum(100 * (-(-length // days) * price + way) for length in lengths)
    whole = (uses[-1].finish - uses[0].start).days + 1
    assert least <= 100 * (-(-whole // 28) * month + way)
    assert [one for span in spans for one in span.uses] == uses
