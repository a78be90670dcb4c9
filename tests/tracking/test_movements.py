"""What entries move adds up to the sums of the ledger, as of any day and known on any time."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.tracking.ledger_lines import lines_of
from estimator.tracking.ledger_movements import all_movements, movements, sums_of_movements
from estimator.tracking.ledger_rows import PayrollPart, as_known
from estimator.tracking.ledger_sums import Amounts, SumKey, sums_of
from estimator.tracking.posting import reversal_of
from estimator.tracking.tickets import standing
from tests.tracking.rows import MONDAY, at, cost, payment, ticket
from tests.tracking.test_closed_weeks import hours

STONE = ("20.010", "material")
KEY = SumKey(*STONE, "", False)
TUESDAY = MONDAY + timedelta(1)


def moved(row, *related):
    return [(one.of_row, one.day, one.amounts) for one in movements(row, related)]


def test_a_bill_moves_the_accrual_of_its_ticket_down_from_its_own_day_on():
    load = ticket(1, 40_000)
    bill = cost(2, (*STONE, 39_500, 500), tickets=(1,), happened=TUESDAY)
    assert moved(load) == [(1, MONDAY, Amounts(accrued_cents=40_000))]
    assert moved(bill, load) == [
        (2, TUESDAY, Amounts(billed_cents=40_000, net_cents=39_500)),
        (1, TUESDAY, Amounts(accrued_cents=-40_000)),
    ]


def test_a_reversal_moves_the_accrual_up_again_unless_the_ticket_was_taken_back_too():
    load = ticket(1, 40_000)
    bill = cost(2, (*STONE, 40_000, 0), tickets=(1,))
    back = replace(bill, row=3, splits=reversal_of(bill), reverses=2, happened=TUESDAY)
    gone = ticket(4, -40_000, reverses=1)
    billed = Amounts(billed_cents=-40_000, net_cents=-40_000)
    assert moved(back, load, bill) == [
        (3, TUESDAY, billed),
        (1, TUESDAY, Amounts(accrued_cents=40_000)),
    ]
    assert moved(back, load, bill, gone) == [(3, TUESDAY, billed)]


def test_a_payment_before_the_bill_counts_from_the_day_of_the_bill():
    bill = cost(1, (*STONE, 40_000, 0), happened=TUESDAY)
    assert moved(payment(2, 1, 15_000), bill) == [(1, TUESDAY, Amounts(paid_cents=15_000))]


def test_a_payment_after_its_bill_moves_what_is_paid_on_the_lines_of_the_bill():
    bill = cost(1, (*STONE, 40_000, 0))
    first, second = payment(2, 1, 15_000), payment(3, 1, 25_000)
    assert moved(first, bill) == [(1, MONDAY, Amounts(paid_cents=15_000))]
    assert moved(second, bill, first) == [(1, MONDAY, Amounts(paid_cents=25_000))]


WHATS = ("cost", "ticket", "hours", "bill", "payment", "reverse", "close", "unticket")
STEPS = st.lists(
    st.tuples(
        st.sampled_from(WHATS),
        st.integers(0, 6),
        st.integers(1, 10**6),
        st.integers(0, 5),
    ),
    max_size=14,
)


def ledger(steps):
    """Return the rows of a ledger in which all that is posted may be posted."""
    costs, payments, tickets, worked = [], [], [], []
    for row, (what, day, cents, which) in enumerate(steps, start=1):
        happened = MONDAY + timedelta(day)
        when = {"happened": happened, "entered": at(MONDAY) + timedelta(hours=row)}
        live = [one for one in costs if one.row in set(standing(costs))]
        covered = {n for one in live for n in (*one.tickets, *(one.payroll or NONE).hours)}
        open_loads = [n for n in standing(tickets) if n not in covered]
        open_hours = [one.row for one in worked if one.row not in covered and not one.is_unpaid]
        splits = ((*STONE, cents, 7), ("20.020", "haul", cents // 3 + 1, 0))
        if what == "ticket":
            tickets.append(ticket(row, cents, **when))
        elif what == "hours":
            one = hours(row, "40.010", str(which + 1))
            worked.append(replace(one, is_unpaid=which == 0, **when))
        elif what == "bill" and open_loads:
            named = tuple(open_loads[: which + 1])
            costs.append(cost(row, *splits, tickets=named, order=f"PO-{which % 2}", **when))
        elif what == "close" and open_hours:
            part = PayrollPart(tuple(open_hours[: which + 1]), 1, 1, 1, 1)
            costs.append(cost(row, ("40.010", "labor", cents, 0), payroll=part, **when))
        elif what == "payment" and costs:
            payments.append(payment(row, costs[which % len(costs)].row, cents, **when))
        elif what == "reverse" and live:
            one = live[which % len(live)]
            back = replace(one, row=row, splits=reversal_of(one), reverses=one.row, **when)
            costs.append(back)
        elif what == "unticket" and standing(tickets):
            one = next(t for t in tickets if t.row == standing(tickets)[0])
            back = {"row": row, "reverses": one.row, "cents": -one.cents}
            tickets.append(replace(one, quantity=-one.quantity, **back, **when))
        else:
            costs.append(cost(row, *splits, is_once=which == 1, **when))
    return [*costs, *payments, *tickets, *worked]


NONE = PayrollPart((), 0, 0, 0, 0)


@settings(max_examples=60)
@given(STEPS, st.integers(0, 6), st.integers(0, 14))
def test_the_sums_of_all_movements_are_the_plain_sums_as_of_and_known_on_any_day(steps, day, known):
    rows = ledger(steps)
    as_of, known_on = MONDAY + timedelta(day), at(MONDAY) + timedelta(hours=known)
    entered = {one.row for one in rows if one.entered <= known_on}
    by_then = (one for one in all_movements(rows) if one.row in entered and one.day <= as_of)
    kept = sums_of_movements(by_then)
    plain = sums_of(lines_of(as_known(rows, as_of, known_on)))
    assert kept.something() == plain.something()


def test_hours_that_are_closed_leave_nothing_open_on_their_day():
    worked = hours(1, "40.010", "8")
    part = PayrollPart((1,), 16_000, 0, 0, 0)
    closing = cost(2, ("40.010", "labor", 16_000, 0), payroll=part, happened=TUESDAY)
    (open_again,) = sums_of_movements(all_movements([worked, closing])).open_hours.values()
    assert (open_again.hours, open_again.cents) == (Decimal(0), 0)


def test_what_comes_to_nothing_is_left_out_of_the_sums():
    bill = cost(1, ("20.010", "material", 100, 0))
    back = cost(2, ("20.020", "material", 70, 0)), cost(3, ("20.020", "material", -70, 0))
    kept = sums_of(lines_of([bill, *back])).something()
    assert {key.code for key in kept.amounts} == {"20.010"}
    assert kept == sums_of(lines_of([bill])).something()
