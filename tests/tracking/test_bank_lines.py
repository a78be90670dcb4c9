"""Lines of a statement: what each would become, and which bills are open to be paid."""

from datetime import date, timedelta

import pytest

from estimator.errors import LedgerFaulty
from estimator.tracking.bank_lines import (
    BankLine,
    MoneyLogged,
    OpenBill,
    bank_proposals,
    check_line_days,
    money_logged,
    open_bills,
)
from estimator.tracking.bank_terms import BankRule
from estimator.tracking.ledger_rows import Receipt
from tests.tracking.rows import MONDAY, at, cost, payment

STONE = ("20.010", "material")
QUARRY = OpenBill(1, "Ridge Road Quarry", "Q-1", MONDAY, 50_000)


def line(cents, days=3, description="CHECK 204", number=1):
    return BankLine(number, MONDAY + timedelta(days), cents, description, "", f"m{number}")


def rule(words, row=9, **more):
    return BankRule(row, MONDAY, at(MONDAY), words, **more)


def proposed(lines, bills=(), rules=(), known=(), logged=()):
    """Return what each line would become, why, and by which rows."""
    return [
        (one.what, one.why, [bill.row for bill in one.bills])
        for one in bank_proposals(lines, bills, rules, known, logged)
    ]


def test_a_bill_is_open_for_what_is_not_paid_and_no_longer_once_it_is_reversed_or_paid():
    costs = [
        cost(1, (*STONE, 10_000, 700)),
        cost(2, (*STONE, 5_000, 0)),
        cost(3, (*STONE, 9_000, 0)),
        cost(4, (*STONE, -9_000, 0), reverses=3),
        cost(5, (*STONE, 1, 0)),
    ]
    assert [(one.row, one.cents) for one in open_bills(costs, {1: 4_000, 2: 5_000})] == [
        (1, 6_700),
        (5, 1),
    ]


def test_money_logged_by_hand_is_what_stands_and_comes_from_no_statement():
    payments = [
        payment(1, 9, 400),
        payment(2, 9, 500, bank_line="checking m7"),
        payment(3, 9, 600),
        payment(4, 9, -600, reverses=3),
    ]
    sale = Receipt(5, MONDAY, at(MONDAY), "Yard", "iron", 250)
    assert money_logged(payments, [sale]) == [
        MoneyLogged(1, MONDAY, -400),
        MoneyLogged(5, MONDAY, 250),
    ]


def test_a_line_is_of_today_or_of_ten_years_before_at_most():
    today = date(2026, 5, 4)
    check_line_days([BankLine(1, one, 5, "", "", "") for one in (today, date(2016, 5, 5))], today)
    lines = [BankLine(n, day, 5, "", "", "") for n, day in
             enumerate((date(2026, 5, 5), date(2016, 4, 20)), start=1)]  # fmt: skip
    with pytest.raises(LedgerFaulty) as refused:
        check_line_days(lines, today)
    assert [(one.where, one.what) for one in refused.value.faults] == [
        ("line 1", "2026-05-05 is in the future"),
        ("line 2", "2016-04-20 is over 10 years ago"),
    ]


@pytest.mark.parametrize(
    ("days", "why"),
    [
        (-6, None),
        (-5, "$500.00 is open, 5 days before it; no vendor is named"),
        (-1, "$500.00 is open, 1 day before it; no vendor is named"),
        (0, "$500.00 is open, on its day; no vendor is named"),
        (1, "$500.00 is open, 1 day after it; no vendor is named"),
        (60, "$500.00 is open, 60 days after it; no vendor is named"),
        (61, None),
    ],
)
def test_a_line_may_pay_a_bill_from_five_days_before_to_sixty_after_it(days, why):
    nothing = ("needs a code", "no open bill is for that amount, and no rule fits", [])
    expected = nothing if why is None else ("payment", why, [1])
    assert proposed([line(-50_000, days)], [QUARRY]) == [expected]


def test_half_of_the_words_of_a_vendor_name_it_among_bills_of_one_amount():
    """`Ridge Road Quarry` has three words; two are more than half, one is not."""
    other = OpenBill(2, "Canal Lumber", "L-2", MONDAY, 50_000)
    (named,) = proposed([line(-50_000, description="RIDGE ROAD 17")], [QUARRY, other])
    assert named == ("payment", "$500.00 is open, 3 days after it", [1])
    (half,) = proposed([line(-50_000, description="lumber")], [QUARRY, other])
    assert half == ("payment", "$500.00 is open, 3 days after it", [2])
    (one_word,) = proposed([line(-50_000, description="QUARRY")], [QUARRY, other])
    assert one_word == ("needs a choice", "several bills are open at that", [1, 2])


def test_a_vendor_with_bills_of_other_amounts_is_left_to_be_decided():
    (proposal,) = proposed([line(-20_000, description="Ridge Road Quarry")], [QUARRY])
    why = "Ridge Road Quarry has a bill open at another amount"
    assert proposal == ("needs a choice", why, [1])


def test_a_rule_says_whose_a_line_is():
    rules = [rule("ridge", vendor="RIDGE ROAD QUARRY", code="20.010", kind="material"),
             rule("groceries", 10), rule("fuel", 11, vendor="Depot", code="30.010")]  # fmt: skip
    lines = [
        line(-50_000, description="RIDGE 0042"),
        line(-1_200, description="Groceries", number=2),
        line(-3_300, description="fuel dock", number=3),
    ]
    assert proposed(lines, [QUARRY], rules) == [
        ("payment", "$500.00 is open, 3 days after it", [1]),
        ("left out", "groceries is not for this job", []),
        ("cost", "fuel is Depot", []),
    ]


def test_of_two_rules_the_longer_counts_and_of_the_same_words_the_latest():
    rules = [rule("fuel", vendor="Depot", code="1"), rule("fuel dock", 10, vendor="Dock", code="1"),
             rule("Fuel Dock", 11, vendor="Harbor", code="1")]  # fmt: skip
    assert proposed([line(-3_300, description="FUEL   DOCK 7")], (), rules) == [
        ("cost", "Fuel Dock is Harbor", [])
    ]


def test_what_came_in_is_a_receipt_what_moved_nothing_is_left_out_and_what_is_known_stays():
    lines = [line(1, number=1), line(0, number=2), line(-50_000, number=3)]
    assert proposed(lines, [QUARRY], known={"m3"}) == [
        ("receipt", "money that came in", []),
        ("left out", "nothing moved", []),
        ("known", "the books have it", []),
    ]


def test_a_bill_or_a_row_logged_by_hand_is_proposed_for_one_line_only():
    lines = [line(-50_000, number=1), line(-50_000, number=2), line(-50_000, number=3)]
    logged = [MoneyLogged(7, MONDAY, -50_000), MoneyLogged(8, MONDAY - timedelta(2), -50_000)]
    assert [one[0] for one in proposed(lines, [QUARRY], logged=logged)] == [
        "logged by hand", "logged by hand", "payment",
    ]  # fmt: skip
    assert proposed(lines[:1], [], logged=logged)[0][1] == (
        f"row 7 of {MONDAY} is of the same amount"
    )


@pytest.mark.parametrize(("days", "what"), [(-1, "payment"), (0, "logged by hand"),
                                            (30, "logged by hand"), (31, "payment")])  # fmt: skip
def test_money_logged_by_hand_clears_within_thirty_days(days, what):
    logged = [MoneyLogged(7, MONDAY, -50_000)]
    assert proposed([line(-50_000, days)], [QUARRY], logged=logged)[0][0] == what


def test_of_many_bills_to_choose_from_twenty_are_listed():
    bills = [OpenBill(n, QUARRY.vendor, f"Q-{n}", MONDAY, 40_000 + n) for n in range(25)]
    ((what, why, rows),) = proposed([line(-50_000, description="ridge road 44")], bills)
    assert (what, rows) == ("needs a choice", list(range(20)))
    assert why == (
        "Ridge Road Quarry has a bill open at another amount; the first 20 of 25 are listed"
    )


def test_the_lines_of_a_year_pay_each_bill_once_and_name_its_vendor():
    """1,000 bills of 100 vendors, ten amounts each: the vendor tells them apart."""
    bills = [OpenBill(n, f"Yard{n % 100}", "", MONDAY, 100 + n // 100) for n in range(1_000)]
    lines = [line(-one.cents, 0, f"yard{one.row % 100} oh", one.row) for one in bills]
    came = proposed(lines, bills)
    assert {what for what, _, _ in came} == {"payment"}
    assert [rows for _, _, rows in came] == [[one.row] for one in bills]
