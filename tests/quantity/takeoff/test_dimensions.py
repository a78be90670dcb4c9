from decimal import Decimal

import numpy as np
import pytest

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.dimensions import dimensions, whole_count
from tests.quantity.shapes import no_dimensions


@pytest.mark.parametrize("wrong", [*no_dimensions, 0.0, 1e-12, None, [[1], [1, 2]]])
def test_what_is_no_dimension_is_refused_by_its_name(wrong):
    with pytest.raises(GeometryFaulty, match=r"^depth_ft: is ") as refusal:
        dimensions(depth_ft=wrong)
    assert len(refusal.value.faults) == 1


@pytest.mark.parametrize(
    "wrong",
    [
        True, np.True_, [True, 2], [np.True_, 2], np.array([True, False]),
        np.array([True, 2], object), b"3",
        np.datetime64("2026-04-06"), np.timedelta64(3, "D"), 10**400, Decimal("sNaN"),
    ],
)  # fmt: skip
def test_what_python_or_numpy_would_add_up_as_a_number_is_none(wrong):
    with pytest.raises(GeometryFaulty, match=r"^depth_ft: is (not a number|too large)"):
        dimensions(depth_ft=wrong)


@pytest.mark.parametrize("kind", [str, object])
def test_an_array_of_texts_is_refused_though_numpy_reads_them_and_a_list_is_taken(kind):
    with pytest.raises(GeometryFaulty, match="depth_ft: is not a number"):
        dimensions(depth_ft=np.array(["3"], kind))
    assert dimensions(depth_ft=["30 in", Decimal(3)])[0].tolist() == [2.5, 3.0]


def test_all_faults_are_reported_at_once():
    with pytest.raises(GeometryFaulty) as refusal:
        dimensions(length_ft=-1, width_ft=0, depth_ft=float("nan"))
    assert [fault.where for fault in refusal.value.faults] == ["length_ft", "width_ft", "depth_ft"]


def test_one_bad_value_in_a_list_is_found():
    with pytest.raises(GeometryFaulty, match="depth_ft: is negative"):
        dimensions(depth_ft=[1, 2, -3])


def test_zero_passes_only_where_it_is_allowed():
    assert dimensions(depth_ft=0, may_be_zero=("depth_ft",)) == (0.0,)
    with pytest.raises(GeometryFaulty, match="length_ft: is zero"):
        dimensions(depth_ft=0, length_ft=0, may_be_zero=("depth_ft",))


def test_lists_that_do_not_fit_together_are_refused():
    with pytest.raises(GeometryFaulty, match="length_ft, width_ft: have different numbers"):
        dimensions(length_ft=[1, 2], width_ft=[1, 2, 3])


def test_numbers_come_back_as_numbers_and_lists_as_arrays():
    number, array = dimensions(length_ft=3, width_ft=[1, 2])
    assert type(number) is float
    assert array.dtype == np.float64


def test_nobody_can_change_the_callers_array():
    given = np.array([1.0, 2.0])
    (taken,) = dimensions(length_ft=given)
    with pytest.raises(ValueError, match="read-only"):
        taken[0] = 99.0
    given[0] = 3.0
    assert given[0] == 3.0


def test_a_share_is_at_most_the_whole():
    assert dimensions(waste=[0.0, 1.0], fractions=("waste",))[0].tolist() == [0.0, 1.0]
    with pytest.raises(GeometryFaulty, match=r"waste: is above 1; enter 25 % as 0\.25"):
        dimensions(waste=25.0, fractions=("waste",))


def test_a_list_of_nothing_is_nothing():
    assert dimensions(length_ft=[])[0].size == 0


def test_lists_and_numbers_fit_together_where_they_broadcast():
    across, along = dimensions(width_ft=[[1.0], [2.0]], length_ft=[1.0, 2.0, 3.0])
    assert (across * along).shape == (2, 3)


@pytest.mark.parametrize(("quotient", "whole"), [(8.4 / 2.8, 3.0), (0.0, 0.0), (2.001, 3.0)])
def test_a_hair_above_a_whole_number_buys_nothing_more(quotient, whole):
    assert whole_count(quotient) == whole
