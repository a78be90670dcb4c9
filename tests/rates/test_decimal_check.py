from decimal import Decimal

import pytest

from estimator.errors import EquipmentFaulty, LaborFaulty
from estimator.rates.decimal_check import check_decimals


def test_good_numbers_pass_and_zero_is_one_of_them():
    check_decimals(LaborFaulty, wage_per_hr=Decimal(0), hours=Decimal("0.25"))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (24.5, "is no decimal number"),
        (24, "is no decimal number"),
        (None, "is no decimal number"),
        (Decimal("NaN"), "is not a finite number"),
        (Decimal("-0.01"), "is negative"),
        (Decimal(0), "is zero"),
        (Decimal("1.01"), "is above 1"),
    ],
)
def test_each_wrong_number_is_told_with_its_name(wrong, said):
    with pytest.raises(EquipmentFaulty, match=f"share: {said}"):
        check_decimals(EquipmentFaulty, positive=("share",), fractions=("share",), share=wrong)


def test_an_absurd_sum_is_refused():
    with pytest.raises(LaborFaulty, match="wages: is too large"):
        check_decimals(LaborFaulty, wages=Decimal("1e12"))


def test_all_faults_are_told_in_one_answer():
    with pytest.raises(LaborFaulty) as caught:
        check_decimals(LaborFaulty, wage=Decimal(-1), hours=Decimal("Infinity"))
    assert [one.where for one in caught.value.faults] == ["wage", "hours"]
