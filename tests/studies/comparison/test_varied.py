"""What can be varied is found by the name that a person gives it."""

import pytest

from estimator.errors import MethodsFaulty
from estimator.studies.comparison.varied import Sort, all_varied, varied_named
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, sample_choice
from tests.scope.methods.test_two_kinds import SINGLE


@pytest.mark.parametrize(
    ("name", "sort", "base", "methods"),
    [
        ("depth", Sort.INPUT, 4.125, (0, 1, 2, 3, 4)),
        ("Truck  Turnaround", Sort.TURNAROUND, 95.0, (2,)),
        ("throw rate", Sort.STEP, 100.0, (2,)),
        ("wheel in distance", Sort.STEP, 240.0, (1,)),
        ("scoop time", Sort.STEP, 1.0, (1,)),
        ("laborer", Sort.RATE, 36.0, (0, 1, 2, 3, 4)),
        ("day worth", Sort.DAY_WORTH, 310.0, (0, 1, 2, 3, 4)),
        ("skid: mobilization", Sort.MOBILIZATION, 1900.0, (1,)),
        ("by hand: waste", Sort.INPUT, 0.03, (4,)),
        ("conveyor: haul time", Sort.STEP, 27.0, (2,)),
    ],
)
def test_a_name_points_to_its_value(name, sort, base, methods):
    found = varied_named(sample_choice("30.020"), name)
    assert (found.sort, found.methods) == (sort, methods)
    assert found.base == pytest.approx(base)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("waste", "has a different value in each method; write"),
        ("turnaround", "did you mean 'truck turnaround'"),
        ("", "nothing that can be varied is called ''"),
        ("nobody: depth", "'nobody' is not a method"),
        ("skid: truck turnaround", "nothing that can be varied"),
        ("production_rate", "nothing that can be varied"),
        ("quantity", "nothing that can be varied"),
    ],
)
def test_a_name_that_points_to_nothing_or_to_several_is_refused(name, told):
    with pytest.raises(MethodsFaulty, match=told):
        varied_named(sample_choice("30.020"), name)


def test_names_of_all_that_can_vary_differ():
    for item in ("30.020", "20.010"):
        names = [one.name for one in all_varied(sample_choice(item))]
        assert len(names) == len(set(names))


def test_each_name_points_back_to_what_it_names():
    comparison = pit_choice(DIG, THROW, BY_HAND)
    for one in all_varied(comparison):
        assert varied_named(comparison, one.name).target == one.target


def test_the_usual_range_is_half_to_double_within_what_a_value_can_be():
    comparison = sample_choice("20.010")
    assert varied_named(comparison, "recovery").usual_range == (0.35, 0.95)
    assert varied_named(comparison, "sold_share").usual_range == (0.0, 1.0)


def test_more_of_one_kind_of_carrier_can_be_tried_than_of_two_that_meet():
    alone = varied_named(pit_choice(THROW, BY_HAND), "carriers")
    two = pit_choice(THROW | {"production": THROW["production"] | {"beside": SINGLE}}, BY_HAND)
    assert (alone.most, varied_named(two, "carriers").most) == (500.0, 60.0)
