import pytest

from estimator.errors import LaborFaulty
from estimator.production.labor_time import labor_numbers, man_hours


def test_man_hours_go_by_the_size_of_the_tables_unit():
    assert man_hours(2500.0, 33.0, unit_size=1000.0) == 82.5


def test_a_delay_factor_lengthens_the_work():
    assert man_hours(1000.0, 33.0, unit_size=1000.0, delay_factor=1.5) == 49.5


def test_no_work_takes_no_time():
    assert man_hours(0.0, 33.0) == 0.0


def test_one_bad_share_of_many_is_refused():
    with pytest.raises(LaborFaulty, match="share: is above 1"):
        labor_numbers(share=[0.5, 1.5], fractions=("share",))


@pytest.mark.parametrize(
    "make",
    [
        lambda: man_hours(-1.0, 33.0),
        lambda: man_hours(100.0, 0.0),
        lambda: man_hours(100.0, 33.0, unit_size=0.0),
        lambda: labor_numbers(hours="many"),
    ],
)
def test_work_that_cannot_be_is_refused(make):
    with pytest.raises(LaborFaulty):
        make()
