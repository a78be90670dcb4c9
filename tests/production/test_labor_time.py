import pytest

from estimator.errors import LaborFaulty
from estimator.production.labor_time import labor_numbers


def test_one_bad_share_of_many_is_refused():
    with pytest.raises(LaborFaulty, match="share: is above 1"):
        labor_numbers(share=[0.5, 1.5], fractions=("share",))


def test_what_is_no_number_is_refused():
    with pytest.raises(LaborFaulty):
        labor_numbers(hours="many")
