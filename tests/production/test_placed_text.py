"""What was placed so far, as a builder writes it."""

import pytest

from estimator.errors import ProductionFaulty
from estimator.production.placed_text import read_placed
from estimator.quantity.units import unit

TON = unit("ton")


def test_days_are_written_one_by_one_or_as_a_sum_with_its_days():
    daily = read_placed("38 ton; 46 ton; 42 ton; 50 ton", TON)
    assert (daily.days, daily.placed, daily.has_spread) == (4, 176.0, True)
    total = read_placed("400 ton in 9 days", TON)
    assert (total.days, total.placed, total.has_spread) == (9, 400.0, False)
    assert read_placed("38 ton in 1 day", TON).days == 1


def test_other_units_of_the_kind_are_taken():
    assert read_placed("20,000 lb in 2 days", TON).per_day == pytest.approx(5.0)


def test_a_day_without_work_counts():
    assert read_placed("40 ton; 0 ton; 50 ton", TON).per_day == pytest.approx(30.0)


REMEDY = 'write the days with the sum, as in "400 ton in 9 days", or what each day placed'


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("400 ton", f"'400 ton' is one sum without its days: that gives no pace; {REMEDY}"),
        ("40 ton in 0 days", f"'40 ton in 0 days' leaves no time for the work; {REMEDY}"),
        ("40 ton in 0 hr", f"'0 hr' is not a whole number of days; {REMEDY}"),
        ("40 ton in 2.5 days", "'2.5 days' is not a whole number of days"),
        ("40 ton in 9 weeks", "'9 weeks' is not a whole number of days"),
        ("40 ft in 9 days", "placed: '40 ft' is a length, not a weight"),
        ("40 ton in 20000 days", "days: is above 10,000"),
        ("0 ton in 3 days", "placed: is zero"),
        ("", "has 0 days"),
        ("0 ton; 0 ton", "is zero on all days"),
        (
            "40 ton; 20 ton in 2 days",
            "placed on day 2: '20 ton in 2 days' is a sum over days among",
        ),
        ("1 ton;" * 10_001, "has more than 10,000 days"),
    ],
)
def test_what_tells_no_pace_is_refused_with_a_remedy(text, message):
    with pytest.raises(ProductionFaulty) as refusal:
        read_placed(text, TON)
    assert message in str(refusal.value)


def test_all_faulty_days_come_at_once():
    with pytest.raises(ProductionFaulty) as refusal:
        read_placed("38 ton; 46; 42 ton; x ton", TON)
    assert [one.where for one in refusal.value.faults] == ["placed on day 2", "placed on day 4"]
