import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.salvage import recovered_boards, usable_board_lf
from tests.quantity.shapes import fractions, no_dimensions


def test_sound_boards_are_trimmed_and_split_ones_lost():
    floor = recovered_boards(80.0, 10.0, 0.25, 1.5)
    assert (floor.taken_lf, floor.damaged_lf) == (800.0, 200.0)
    assert (floor.trimmed_lf, floor.usable_lf) == (90.0, 510.0)


def test_short_boards_lose_more_of_themselves():
    assert usable_board_lf(100.0, 16.0, 0.0, 2.0) / 1600 == 0.875
    assert usable_board_lf(200.0, 8.0, 0.0, 2.0) / 1600 == 0.75


def test_a_rotten_floor_gives_nothing():
    assert usable_board_lf(80.0, 10.0, 1.0, 1.0) == 0.0
    assert usable_board_lf(80.0, 10.0, 0.0, 10.0) == 0.0
    assert usable_board_lf(0.0, 10.0, 0.0, 1.0) == 0.0


def test_more_trimmed_off_than_there_is_was_meant_in_inches():
    with pytest.raises(GeometryFaulty, match="trimmed_ft: is more than a board is long"):
        recovered_boards(80.0, 10.0, 0.25, 12.0)


def test_floors_are_taken_together():
    floors = recovered_boards([80.0, 0.0], 10.0, 0.25, 1.5)
    np.testing.assert_array_equal(floors.usable_lf, [510.0, 0.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: recovered_boards(x, 10, 0, 0),
        lambda x: recovered_boards(1, x, 0, 0),
        lambda x: usable_board_lf(1, 10, x, 0),
    ],
)
def test_what_is_no_dimension_saves_no_board(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(0, 1e4), st.floats(1, 30), fractions, fractions)
def test_nothing_of_the_floor_gets_lost_in_the_count(boards, length, damaged, trim):
    floor = recovered_boards(boards, length, damaged, length * trim)
    parts = floor.damaged_lf + floor.trimmed_lf + floor.usable_lf
    assert parts == pytest.approx(floor.taken_lf, rel=1e-9, abs=1e-9)
    assert min(floor.damaged_lf, floor.trimmed_lf, floor.usable_lf) >= 0
