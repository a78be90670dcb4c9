"""A figure walks back to its rows, and they add up to it."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.assemblies.markups import Markup, MarkupAmount
from estimator.errors import LedgerFaulty
from estimator.pricing.cost_line import CostLine
from estimator.rates.rows import Origin
from estimator.tracking.books import Books
from estimator.tracking.budget import Change, ChangePart
from estimator.tracking.closed_weeks import week_costs
from estimator.tracking.job_track import track
from estimator.tracking.traced_rows import trace
from tests.tracking.rows import LATER, MONDAY, NOW, at, cost, payment, progress, ticket
from tests.tracking.test_closed_weeks import SUNDAY, hours, settings
from tests.tracking.test_rent_accruals import LIFT
from tests.tracking.test_status import BUDGET


def traced(books, code="20.010", lines=(), as_of=LATER):
    return trace(books, track(books, BUDGET, as_of, NOW), code, lines)


def test_each_row_says_what_it_is_whose_and_what_it_adds():
    worked = [hours(5, "20.010", "8"), hours(6, "20.010", "2", day=1)]
    (pay,) = week_costs(SUNDAY, worked[:1], [], settings(), 7, at(SUNDAY))
    books = Books(
        tickets=[ticket(1, 40_000), ticket(2, 41_000)],
        costs=[cost(3, ("20.010", "material", 40_000, 2_800), ("20.020", "haul", 500, 0),
                    tickets=(1,)), pay],
        payments=[payment(4, 3, 43_300)],
        hours=worked,
        rents=[replace(LIFT, row=8)],
    )  # fmt: skip
    rows = traced(books, as_of=MONDAY + timedelta(6)).rows
    assert [(one.row, one.entry, one.party, one.document, one.place[1]) for one in rows] == [
        (1, "ticket", "Quarry", "T-1", "material"),
        (2, "ticket", "Quarry", "T-2", "material"),
        (3, "bill", "Quarry", "Q-3", "material"),
        (5, "hours", "AB", "", "labor"),
        (6, "hours", "AB", "", "labor"),
        (7, "payroll", "AB", "", "labor"),
        (8, "rent", "Yard", "", "equipment"),
    ]
    assert [one.spent.billed_cents for one in rows] == [0, 0, 42_800, 0, 0, 16_000, 0]
    assert [one.spent.accrued_cents for one in rows] == [0, 41_000, 0, 0, 4_000, 0, 104_000]
    assert [one.spent.paid_cents for one in rows] == [0, 0, 42_800, 0, 0, 0, 0]
    assert (rows[2].covers, rows[2].payments, rows[5].covers) == ((1,), (4,), (5,))


CENTS = st.integers(1, 10**6)
BILLS = st.lists(st.tuples(CENTS, CENTS, st.integers(0, 10**6), st.booleans()), max_size=8)


@given(BILLS, st.lists(CENTS, max_size=4))
def test_the_rows_add_up_to_what_the_report_says(bills, tickets):
    costs, payments = [], []
    for number, (ours, other, paid, covers) in enumerate(bills, 1):
        split = ("20.010", "material", ours, 0), ("20.020", "haul", other, 0)
        of = (100,) if covers and number == 1 else ()
        costs.append(cost(number, *split, tickets=of))
        if paid:
            payments.append(payment(50 + number, number, min(paid, ours + other)))
    books = Books(
        costs=costs, payments=payments,
        tickets=[ticket(100 + n, cents) for n, cents in enumerate(tickets)],
    )  # fmt: skip
    back = traced(books)
    spent = back.status.spent
    assert sum(one.spent.billed_cents for one in back.rows) == spent.billed_cents
    assert sum(one.spent.accrued_cents for one in back.rows) == spent.accrued_cents
    assert sum(one.spent.paid_cents for one in back.rows) == spent.paid_cents


def test_the_budget_walks_back_to_lines_spread_markups_and_changes():
    """Of $14,600.00 the lines are $14,000.00; the tax that is spread over them is the rest."""
    line = CostLine(
        "20", "20.010", 1, "stone", "stone", "Stone", "material", "ton", 2, 0, 0, 0, 0, 0, "", "",
        is_paid=True, cents=1_400_000,
    )  # fmt: skip
    change = Change(
        9, MONDAY, at(MONDAY), "soft ground", (ChangePart("20.010", {"material": 500}),)
    )
    books = Books(changes=[change], progress=[progress(10, "20.010", "12")])
    back = traced(books, lines=[line, line._replace(line=2, is_paid=False, cents=9)])
    assert back.status.baseline_cents == 1_460_000
    assert (back.lines_cents, back.spread_cents) == (1_400_000, 60_000)
    assert [(one.reason, cents) for one, cents in back.changes] == [("soft ground", 500)]
    assert [one.in_place for one in back.measured] == [Decimal(12)]


def test_a_code_that_is_not_there_is_refused():
    with pytest.raises(LedgerFaulty, match=r"there is no cost code '20\.01'"):
        traced(Books(), "20.01")


def test_a_markup_says_what_it_was_taken_on_and_a_code_which_markups_it_bears():
    overhead = Markup(
        "site-overhead", "Site overhead", 2, Decimal(6), None, ("all",), "made up",
        Origin("shipped", "markups.csv", 3),
    )  # fmt: skip
    tax = replace(overhead, code="tax", name="Sales tax", percent=Decimal(7), on=("material",))
    both = (MarkupAmount(tax, 1_000_000, 70_000), MarkupAmount(overhead, 1_783_333, 107_000))
    report = track(Books(), BUDGET, LATER, NOW)
    said = {
        code: trace(Books(), report, code, [], both).markups
        for code in ("20.010", "site-overhead", "contingency")
    }
    assert said == {
        "20.010": (
            "Sales tax: 7 % of $10,000.00 (material), $700.00 in all; shipped markups.csv row 3: "
            "made up",
        ),
        "site-overhead": (
            "Site overhead: 6 % of $17,833.33 (all), $1,070.00 in all; shipped markups.csv row 3: "
            "made up",
        ),
        "contingency": (),
    }
