"""Exact numbers at the door of labor and machines: one rule for text, decimals, whole numbers."""

from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import EquipmentFaulty, LaborFaulty, ScopeFaulty, TablesFaulty
from estimator.rates.adjustment.escalation import adjusted_rate
from estimator.rates.adjustment.index_series import IndexPoint
from estimator.rates.exact_inputs import exact_inputs
from estimator.rates.labor.labor_burden import PayrollInsurance
from estimator.rates.labor.overtime import overtime_on_bonus, weekly_salary
from estimator.rates.machines.rental_rates import RentalRates, RentalTier


@exact_inputs(LaborFaulty, wages="$", hours="hr", leave="hr")
def taken(wages, hours=Decimal(8), leave=None):
    return wages, hours, leave


@exact_inputs(EquipmentFaulty, positive=("share",), fractions=("share",), share="fraction")
def share_of(share):
    return share


@pytest.mark.parametrize(
    ("written", "number"),
    [
        (Decimal("0.25"), "0.25"),
        (0, "0"),
        (40, "40"),
        ("$1,200.50", "1200.5"),
        ("1200.50 $", "1200.5"),
    ],
)
def test_text_decimals_and_whole_numbers_are_the_same_exact_number(written, number):
    wages, _, _ = taken(written)
    assert isinstance(wages, Decimal)
    assert wages == Decimal(number)


@pytest.mark.parametrize(("written", "hours"), [("90 min", "1.5"), ("1 hr 30 min", "1.5")])
def test_any_unit_of_the_kind_is_taken(written, hours):
    assert taken(100, written)[1] == Decimal(hours)


def test_a_measure_that_no_decimal_holds_keeps_34_digits():
    assert str(taken(100, "20 min")[1]) == "0.3333333333333333333333333333333333"


def test_what_may_be_left_out_may_be_none_and_what_may_not_may_not():
    assert taken(100, leave=None) == (Decimal(100), Decimal(8), None)
    with pytest.raises(LaborFaulty, match="hours: is not an exact number"):
        taken(100, None)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (24.5, "is not an exact number; write Decimal"),
        (True, "is not an exact number"),
        (None, "is not an exact number"),
        (Decimal("NaN"), "is not a finite number"),
        (Decimal("-0.01"), "is negative"),
        (-1, "is negative"),
        (Decimal(0), "is zero"),
        (Decimal("1.01"), "is above 1"),
        ("3 ft", "'3 ft' is a length, not a count or proportion"),
    ],
)
def test_each_wrong_number_is_reported_with_its_name(wrong, said):
    with pytest.raises(EquipmentFaulty, match=f"share: {said}"):
        share_of(wrong)


def test_the_largest_number_and_the_whole_share_are_taken():
    assert taken(Decimal("1000000000"))[0] == 1_000_000_000
    assert share_of(Decimal(1)) == share_of(1) == 1


@pytest.mark.parametrize("sum_of_money", [Decimal("1e12"), Decimal("1000000000.01")])
def test_an_absurd_sum_is_refused(sum_of_money):
    with pytest.raises(LaborFaulty, match="wages: is too large"):
        taken(sum_of_money)


def test_all_faults_are_reported_in_one_answer():
    with pytest.raises(LaborFaulty) as caught:
        taken(Decimal(-1), "12")
    assert [str(one) for one in caught.value.faults] == [
        "wages: is negative; enter it without the minus sign",
        "hours: '12' has no unit; write '12 hr'",
    ]


def test_each_number_of_a_list_is_taken_by_the_same_rule():
    assert adjusted_rate("$36", ["1.034", Decimal("0.97")]) == Decimal("36.1073")
    assert adjusted_rate(36, ("110 %",)) == Decimal("39.6000")
    with pytest.raises(ScopeFaulty) as refusal:
        adjusted_rate(Decimal(36), [1.034, Decimal(-1)])
    assert [str(one) for one in refusal.value.faults] == [
        "factors 1: is not an exact number; write Decimal('12.50'), never a binary float",
        "factors 2: is negative; enter it without the minus sign",
    ]


def test_the_hours_of_each_week_of_a_bonus_have_their_place():
    assert overtime_on_bonus("$100", ["2400 min", 50]) == Decimal("5.00")
    with pytest.raises(LaborFaulty, match="week_hours 2: is negative"):
        overtime_on_bonus(100, [40, -50])


def test_a_premium_and_a_figure_of_an_index_are_exact_numbers():
    assert PayrollInsurance("roofers", 9).premium("$1,104") == Decimal("99.36")
    assert IndexPoint(date(2026, 1, 1), "104.5").value == Decimal("104.5")
    with pytest.raises(LaborFaulty, match="pay: is not an exact number"):
        PayrollInsurance("roofers", 9).premium(1104.0)
    with pytest.raises(TablesFaulty, match="value: is not an exact number"):
        IndexPoint(date(2026, 1, 1), 104.5)


@pytest.mark.parametrize("periods", [12, "12", Decimal(12)])
def test_a_count_is_a_whole_number_however_it_is_written(periods):
    assert weekly_salary(1040, periods) == 240


@pytest.mark.parametrize(
    ("periods", "what"),
    [
        ("12 ft", "not a count"),
        ("2.5", "not a whole number"),
        (12.0, "is not an exact number"),
        (-12, "is negative"),
    ],
)
def test_what_is_no_count_is_refused_in_words(periods, what):
    with pytest.raises(LaborFaulty, match=f"periods_per_year: .*{what}"):
        weekly_salary(1040, periods)


def test_the_days_of_a_rental_are_counts():
    rates = RentalRates(day="100 $/day", minimum_days="2", days_in_week=Decimal(7))
    assert (rates.minimum_days, rates.days_in_week) == (2, 7)
    with pytest.raises(EquipmentFaulty, match=r"days: is not a whole number"):
        RentalTier("$100", Decimal("1.5"), 8)


@pytest.mark.parametrize("absurd", [Decimal("1E+999999"), Decimal("-1E+999999")])
def test_an_absurd_count_is_refused_before_its_million_digits_are_written_out(absurd):
    with pytest.raises(LaborFaulty, match=r"periods_per_year: is (too large|negative)"):
        weekly_salary(1040, absurd)
