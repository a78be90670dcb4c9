"""What is refused before it is posted, and what is only noted."""

from datetime import date, time
from decimal import Decimal

import pytest

from estimator.errors import LedgerFaulty
from estimator.tracking.budget import BudgetCode
from estimator.tracking.hold_points import HoldPoint
from estimator.tracking.posting import check_cost, check_payment, paid_notes
from estimator.tracking.progress import InPlace
from estimator.tracking.site_checks import check_progress, check_ticket
from tests.tracking.rows import MONDAY, at, cost, payment, progress, ticket

CODES = ("20.010", "20.020", "site-overhead")
STONE = ("20.010", "material", 100_000, 7_000)
BACK = ("20.010", "material", -100_000, -7_000)
FILL = BudgetCode("20.010", "Stone fill", "20", Decimal(400), "ton", {"material": 1_460_000})
BY_CODE = {FILL.code: FILL}


def faults_of(one, known=(), today=MONDAY) -> list[str]:
    with pytest.raises(LedgerFaulty) as caught:
        check_cost(one, CODES, known, today)
    return [str(fault) for fault in caught.value.faults]


def test_all_faults_of_a_cost_come_together():
    wrong = cost(1, ("20.01", "stone", 0, 0), happened=date(2026, 5, 5), vendor=" ", unit="")
    assert faults_of(wrong) == [
        "happened: 2026-05-05 is in the future; today is 2026-05-04",
        "vendor: is missing; name who billed it",
        "splits: there is no cost code '20.01'; did you mean '20.010'?",
        "splits: 'stone' is not a kind of cost; use one of 'consumable', 'disposal', 'equipment', "
        "'fee', 'haul', 'interest', 'labor', 'material', 'subcontract'",
        "net: is zero; leave the row out",
    ]


def test_a_cost_has_a_split_and_each_place_once():
    assert faults_of(cost(1)) == [
        "splits: are missing; name at least one cost code and kind",
        "net: is zero; leave the row out",
    ]
    assert faults_of(cost(1, STONE, STONE)) == [
        "splits: 20.010 material is listed twice; put its shares together"
    ]


def test_salvage_is_sold_not_spent():
    assert "a sale is a receipt" in faults_of(cost(1, ("20.010", "salvage", 1, 0)))[0]


def test_a_negative_amount_is_a_credit_or_a_reversal():
    assert faults_of(cost(1, BACK)) == [
        "net: is negative, and the row is neither a vendor's credit nor a reversal; say which "
        "it is; money that came in is a receipt"
    ]
    assert check_cost(cost(1, BACK, is_credit=True), CODES, [], MONDAY) == []
    assert faults_of(cost(1, BACK, is_credit=True, document="")) == [
        "document: is missing; a vendor's credit has a number of its own"
    ]
    assert "above zero" in faults_of(cost(1, STONE, is_credit=True))[0]
    mixed = cost(1, STONE, ("20.020", "material", -5, 0))
    assert "mixes charges and credits" in faults_of(mixed)[0]


def test_a_credit_may_be_smaller_than_what_it_credits():
    credit = cost(2, ("20.010", "material", -9_000, 0), is_credit=True, document="CM-1")
    assert check_cost(credit, CODES, [cost(1, STONE)], MONDAY) == []


def test_the_same_document_is_refused_with_the_row_it_repeats_unless_that_was_reversed():
    first = cost(1, STONE, document="Q-17")
    again = cost(3, STONE, document="q-17")
    assert faults_of(again, [first]) == [
        "document: Quarry q-17 over $1,070.00 is row 1; reverse that row first if it is wrong"
    ]
    back = cost(2, BACK, document="Q-17", reverses=1)
    assert check_cost(again, CODES, [first, back], MONDAY) == []
    third = cost(4, STONE, document="Q-17")
    assert "is row 3" in faults_of(third, [first, back, again])[0]


def test_without_a_document_the_same_day_and_amount_is_only_noted():
    again = cost(2, STONE, document="")
    notes = check_cost(again, CODES, [cost(1, STONE, document="")], MONDAY)
    assert notes == ["row 1 has the same vendor, day and amount"]


def test_a_reversal_takes_back_a_whole_row_that_stands():
    first, back = cost(1, STONE), cost(2, BACK, reverses=1)
    assert check_cost(back, CODES, [first], MONDAY) == []
    part = cost(2, ("20.010", "material", -1, 0), reverses=1)
    assert "a reversal takes back all" in faults_of(part, [first])[0]
    assert faults_of(cost(3, BACK, reverses=1), [first, back]) == [
        "reverses: row 1 is reversed already"
    ]
    assert "is a reversal itself" in faults_of(cost(3, STONE, reverses=2), [first, back])[0]
    assert "no cost in row 9" in faults_of(cost(3, BACK, reverses=9), [first])[0]


def test_a_cost_before_the_work_starts_is_accepted_with_a_note():
    notes = check_cost(cost(1, STONE), CODES, [], MONDAY, work_starts=date(2026, 6, 1))
    assert notes == ["2026-05-04 is before the work starts on 2026-06-01"]


def test_a_quantity_has_a_unit_and_is_not_zero():
    faulty = cost(1, STONE, quantity=Decimal(0), unit="")
    assert faults_of(faulty) == [
        "unit: is missing; a quantity has a unit",
        "quantity: is zero; leave it out",
    ]


def test_no_more_is_paid_than_a_cost_comes_to():
    bill = cost(1, STONE)
    check_payment(payment(2, 1, 107_000), bill, [], MONDAY)
    with pytest.raises(LedgerFaulty, match=r"\$1,070.01 paid on a cost of \$1,070.00"):
        check_payment(payment(3, 1, 7_001), bill, [payment(2, 1, 100_000)], MONDAY)
    with pytest.raises(LedgerFaulty, match="there is no cost in row 1"):
        check_payment(payment(2, 1, 5), None, [], MONDAY)


def test_a_bounced_payment_is_taken_back_for_what_it_was():
    bill, paid = cost(1, STONE), payment(2, 1, 50_000)
    check_payment(payment(3, 1, -50_000, reverses=2), bill, [paid], MONDAY)
    with pytest.raises(LedgerFaulty, match="no payment of that amount"):
        check_payment(payment(3, 1, -40_000, reverses=2), bill, [paid], MONDAY)
    with pytest.raises(LedgerFaulty, match="would make -"):
        check_payment(payment(3, 1, -50_001), bill, [paid], MONDAY)


def test_nothing_is_paid_on_a_bill_that_is_reversed_and_what_was_paid_may_come_back():
    bill, back = cost(1, STONE), cost(3, BACK, reverses=1)
    paid = payment(2, 1, 50_000)
    with pytest.raises(LedgerFaulty, match="row 1 is reversed by row 3; nothing is paid on it"):
        check_payment(payment(4, 1, 5), bill, [paid], MONDAY, reversed_by=3)
    with pytest.raises(LedgerFaulty, match="row 3 takes back row 1; nothing is paid on it"):
        check_payment(payment(4, 3, -5), back, [], MONDAY)
    check_payment(payment(4, 1, -20_000), bill, [paid], MONDAY, reversed_by=3)
    assert paid_notes(bill, [paid]) == [
        "$500.00 is paid on row 1: take that back as well, or move it"
    ]
    assert paid_notes(bill, [paid, payment(4, 1, -50_000)]) == []


def test_a_unit_that_there_is_not_is_refused_with_the_nearest():
    """Tons and tuns would be added up apart, and nothing would be learned of either."""
    assert faults_of(cost(1, STONE, quantity=Decimal(4), unit="tonnes of stone")) == [
        "unit: unknown unit 'tonnes of stone'; docs/units.md lists the units"
    ]
    with pytest.raises(LedgerFaulty, match="unit: unknown unit"):
        check_ticket(ticket(1, 5, unit="tonnes of stone"), BY_CODE, [], MONDAY)


def test_a_refund_is_paid_on_a_credit():
    credit = cost(1, BACK, is_credit=True)
    check_payment(payment(2, 1, -107_000), credit, [], MONDAY)
    with pytest.raises(LedgerFaulty):
        check_payment(payment(2, 1, 5), credit, [], MONDAY)


def test_a_ticket_does_not_leave_before_it_comes_and_has_its_number_once():
    with pytest.raises(LedgerFaulty, match="left at 09:10, before it came at 09:25"):
        check_ticket(ticket(1, 5, came=time(9, 25), left=time(9, 10)), BY_CODE, [], MONDAY)
    here = {"came": time(9, 25), "left": time(9, 50)}
    with pytest.raises(LedgerFaulty, match="26 min is more than the 25 it was here"):
        check_ticket(ticket(1, 5, waited_minutes=26, **here), BY_CODE, [], MONDAY)
    check_ticket(ticket(1, 5, waited_minutes=25, **here), BY_CODE, [], MONDAY)
    with pytest.raises(LedgerFaulty, match="ticket T-1 of Quarry is row 1"):
        check_ticket(ticket(2, 5, number="T-1"), BY_CODE, [ticket(1, 5)], MONDAY)
    with pytest.raises(LedgerFaulty, match="quantity: is not above zero"):
        check_ticket(ticket(1, 5, quantity=Decimal(0)), BY_CODE, [], MONDAY)


def test_going_back_needs_a_reason():
    before = InPlace(Decimal(120), None, False, MONDAY)
    back = progress(2, "20.010", "112")
    with pytest.raises(LedgerFaulty, match="from 120 tons on 2026-05-04 to 112 tons; give the re"):
        check_progress(back, FILL, before, [], MONDAY)
    assert check_progress(progress(2, "20.010", "120"), FILL, before, [], MONDAY) == []
    explained = progress(2, "20.010", "112", reason="8 ton were for the yard")
    assert check_progress(explained, FILL, before, [], MONDAY) == []


def test_a_percent_is_compared_with_a_quantity_by_what_it_is_of():
    """Of 400 ton: 120 ton are 30 %, and a hold lets 40 ton, 10 %, be placed."""
    before = InPlace(Decimal(120), None, False, MONDAY)
    with pytest.raises(LedgerFaulty, match="from 120 tons on 2026-05-04 to 29 %; give the reason"):
        check_progress(progress(2, "20.010", "29", is_percent=True), FILL, before, [], MONDAY)
    assert (
        check_progress(progress(2, "20.010", "30", is_percent=True), FILL, before, [], MONDAY) == []
    )
    half = InPlace(Decimal(50), None, True, MONDAY)
    with pytest.raises(LedgerFaulty, match="from 50 % on 2026-05-04 to 199 tons; give the reason"):
        check_progress(progress(2, "20.010", "199"), FILL, half, [], MONDAY)
    hold = HoldPoint(1, MONDAY, at(MONDAY), "20.010", "lift 1", "95 %", "engineer", Decimal(40))
    with pytest.raises(LedgerFaulty, match="lift 1 is open"):
        check_progress(progress(1, "20.010", "11", is_percent=True), FILL, None, [hold], MONDAY)
    assert (
        check_progress(progress(1, "20.010", "10", is_percent=True), FILL, None, [hold], MONDAY)
        == []
    )


def test_progress_past_an_open_hold_is_refused_or_goes_on_with_a_visible_reason():
    test = HoldPoint(
        1, MONDAY, at(MONDAY), "20.010", "density of lift 1", "95 %", "engineer", Decimal(40)
    )
    with pytest.raises(LedgerFaulty, match="density of lift 1 is open: it needs 95 %"):
        check_progress(progress(1, "20.010", "41"), FILL, None, [test], MONDAY)
    going_on = progress(1, "20.010", "41", reason="engineer agreed by phone")
    assert check_progress(going_on, FILL, None, [test], MONDAY) == [
        "past the open hold point density of lift 1: engineer agreed by phone"
    ]
    assert check_progress(progress(1, "20.010", "40"), FILL, None, [test], MONDAY) == []


def test_the_inspectors_figure_is_held_by_nothing():
    test = HoldPoint(1, MONDAY, at(MONDAY), "20.010", "density of lift 1", "95 %", "engineer")
    seen = progress(1, "20.010", "60", is_inspector=True)
    assert check_progress(seen, FILL, None, [test], MONDAY) == []


def test_figures_below_zero_or_above_100_percent_are_refused():
    with pytest.raises(LedgerFaulty, match="above 100 %"):
        check_progress(progress(1, "20.010", "101", is_percent=True), FILL, None, [], MONDAY)
    with pytest.raises(LedgerFaulty, match="below zero"):
        check_progress(progress(1, "20.010", "-1"), FILL, None, [], MONDAY)
    putty = BudgetCode("05.030", "Putty", "05", Decimal(3800), "$", {"fee": 380_000})
    with pytest.raises(LedgerFaulty, match=r"05\.030 is a sum of money; give a percent"):
        check_progress(progress(1, "05.030", "950"), putty, None, [], MONDAY)
    before, less = (
        InPlace(Decimal(950), None, False, MONDAY),
        progress(2, "05.030", "20", is_percent=True),
    )
    with pytest.raises(LedgerFaulty, match=r"goes back from 25\.0 % on 2026-05-04 to 20 %"):
        check_progress(less, putty, before, [], MONDAY)
    half = progress(1, "05.030", "50", is_percent=True)
    assert check_progress(half, putty, None, [], MONDAY) == []
    contingency = BudgetCode("contingency", "Contingency", "", Decimal(0), "", {"markup": 1})
    drawn = progress(1, "contingency", "20", is_percent=True)
    with pytest.raises(LedgerFaulty, match="the contingency is no work; a change draws on it"):
        check_progress(drawn, contingency, None, [], MONDAY)
    with pytest.raises(LedgerFaulty, match="no cost code '99'"):
        check_progress(progress(1, "99", "1"), None, None, [], MONDAY)
    with pytest.raises(LedgerFaulty, match="expected: is not above zero"):
        check_progress(progress(1, "20.010", "1", expected=Decimal(0)), FILL, None, [], MONDAY)


def test_a_bill_without_tax_or_with_a_split_of_nothing_is_no_mix_of_signs():
    bill = cost(1, ("20.010", "material", 100, 0), ("20.010", "labor", 0, 0))
    assert check_cost(bill, CODES, [], MONDAY) == []
    credit = cost(1, ("20.010", "material", -100, 0), is_credit=True)
    assert check_cost(credit, CODES, [], MONDAY) == []
