"""What was spent: billed, accrued, paid, open."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LedgerFaulty
from estimator.tracking.ledger_rows import split_by_amounts, split_cost
from estimator.tracking.ledger_sums import NO_AMOUNTS, LedgerSums, SumKey
from estimator.tracking.posting import reversal_of
from estimator.tracking.spent import Spent
from tests.tracking.rows import LATER, MONDAY, NOW, at, cost, payment, spent_of, ticket

STONE = ("20.010", "material")
LABOR = ("20.010", "labor")


def spent(costs=(), payments=(), tickets=(), as_of=LATER, known_on=NOW):
    return spent_of([*costs, *payments, *tickets], as_of, known_on)


def test_a_bill_is_incurred_when_it_is_dated_and_open_until_it_is_paid():
    bill = cost(1, (*STONE, 100_000, 7_000))
    assert spent([bill])[STONE] == Spent(billed_cents=107_000)
    part = spent([bill], [payment(2, 1, 50_000)])[STONE]
    assert (part.incurred_cents, part.paid_cents, part.open_cents) == (107_000, 50_000, 57_000)


def test_a_code_costs_what_is_billed_on_orders_and_beside_them():
    on_order = cost(1, (*STONE, 100_000, 7_000), order="7")
    beside = cost(2, (*STONE, 20_000, 0))
    assert spent([on_order, beside])[STONE] == Spent(billed_cents=127_000)


def test_a_payment_is_shared_by_the_splits_of_its_bill_to_the_cent():
    bill = cost(1, (*STONE, 100, 0), ("20.020", "material", 100, 0), (*LABOR, 100, 0))
    parts = spent([bill], [payment(2, 1, 100), payment(3, 1, 100)])
    assert [one.paid_cents for one in parts.values()] == [66, 67, 67]
    paid = spent([bill], [payment(2, 1, 100), payment(3, 1, 200)])
    assert [one.open_cents for one in paid.values()] == [0, 0, 0]


def test_a_ticket_is_accrued_until_its_bill_comes_and_nothing_counts_twice():
    loads = [ticket(1, 40_000), ticket(2, 41_000)]
    assert spent(tickets=loads)[STONE] == Spent(accrued_cents=81_000)
    bill = cost(3, (*STONE, 39_500, 0), tickets=(1,))
    assert spent([bill], tickets=loads)[STONE] == Spent(39_500, 41_000)


def test_a_bill_that_is_reversed_brings_its_accrual_back():
    loads = [ticket(1, 40_000)]
    bill = cost(2, (*STONE, 45_000, 0), tickets=(1,))
    back = cost(3, (*STONE, -45_000, 0), reverses=2)
    assert spent([bill, back], tickets=loads)[STONE] == Spent(0, 40_000)


def test_a_ticket_that_is_reversed_is_no_accrual():
    loads = [ticket(1, 40_000), ticket(2, 40_000, reverses=1)]
    assert spent(tickets=loads) == {}


def test_a_report_of_a_day_knows_nothing_that_was_entered_later():
    entered_late = cost(1, (*STONE, 500, 0), happened=MONDAY, entered=at(date(2026, 6, 1)))
    assert spent([entered_late], as_of=MONDAY, known_on=at(date(2026, 5, 31))) == {}
    assert spent([entered_late], as_of=MONDAY)[STONE].billed_cents == 500


DAYS = st.integers(0, 40).map(lambda days: MONDAY + timedelta(days))
BILLS = st.lists(st.tuples(DAYS, DAYS, st.integers(1, 10**7), st.integers(0, 10**6)), max_size=12)


@given(BILLS, BILLS)
def test_a_report_as_of_and_known_on_a_day_is_the_same_after_any_later_rows(first, later):
    as_of, known_on = MONDAY + timedelta(20), at(MONDAY + timedelta(40), 23)
    rows = [_bill(i, one) for i, one in enumerate(first, 1)]
    before = spent(rows, as_of=as_of, known_on=known_on)
    for i, one in enumerate(later, len(rows) + 1):
        rows.append(_bill(i, one, entered=known_on + timedelta(seconds=i)))
    assert spent(rows, as_of=as_of, known_on=known_on) == before


def _bill(row, drawn, entered=None):
    happened, entry_day, net, tax = drawn
    return cost(row, (*STONE, net, tax), happened=happened, entered=entered or at(entry_day))


@given(
    st.integers(-(10**9), 10**9), st.integers(-(10**8), 10**8),
    st.lists(st.integers(1, 100), min_size=1, max_size=6),
)  # fmt: skip
def test_splits_add_up_and_a_reversal_restores(net, tax, weights):
    shares = [(f"20.{i:03}", "material", weight) for i, weight in enumerate(weights)]
    splits = split_cost(net, tax, shares)
    assert sum(one.net_cents for one in splits) == net
    assert sum(one.tax_cents for one in splits) == tax
    bill = cost(1, *((s.code, s.kind, s.net_cents, s.tax_cents) for s in splits))
    taken = reversal_of(bill)
    back = cost(2, *((s.code, s.kind, s.net_cents, s.tax_cents) for s in taken), reverses=1)
    assert all(one == Spent() for one in spent([bill, back]).values())


def test_a_kind_that_comes_to_nothing_because_later_rows_are_left_out_is_no_kind_of_the_record():
    sums = LedgerSums({SumKey("20.010", "consumable", "PO-1", False): NO_AMOUNTS}, {})
    assert (sums.recurring_cents(), sums.billed_on_orders(), sums.spent()) == ({}, {}, {})


def test_a_bill_with_amounts_for_its_codes_shares_the_tax_by_them():
    """$7.50 of tax on $9.00 and $1.00; on two amounts of nothing it goes half and half."""
    parts = [("20.010", "material", 900), ("20.020", "haul", 100), ("20.030", "fee", 0)]
    assert [one.tax_cents for one in split_by_amounts(1_000, 750, parts)] == [675, 75, 0]
    nothing = [("20.010", "material", 0), ("20.020", "haul", 0)]
    assert [one.tax_cents for one in split_by_amounts(0, 8, nothing)] == [4, 4]
    credit = [("20.010", "material", -900), ("20.020", "haul", 0)]
    assert [one.tax_cents for one in split_by_amounts(-900, -9, credit)] == [-9, 0]
    for net, mixed in ((999, parts), (0, [("20.010", "material", 1), ("20.020", "haul", -1)])):
        with pytest.raises(LedgerFaulty):
            split_by_amounts(net, 0, mixed)
