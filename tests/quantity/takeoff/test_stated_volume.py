import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.soil import CLAY, COMMON_EARTH, State
from estimator.quantity.takeoff.stated_volume import StatedVolume, together

states = st.sampled_from([State.BANK, State.LOOSE, State.COMPACTED])


def test_like_adds_to_like():
    heap = StatedVolume(30.0, State.LOOSE, CLAY) + StatedVolume(12.0, State.LOOSE, CLAY)
    assert (heap.volume_cy, heap.state, heap.soil) == (42.0, State.LOOSE, CLAY)


def test_loose_never_adds_to_bank():
    bank, loose = (StatedVolume(100.0, state, CLAY) for state in (State.BANK, State.LOOSE))
    told = "state: a volume bank and a volume loose do not add; first bring the second bank"
    with pytest.raises(GeometryFaulty, match=told):
        bank + loose
    with pytest.raises(GeometryFaulty, match="do not add"):
        bank - loose


def test_clay_never_adds_to_earth():
    with pytest.raises(GeometryFaulty, match="clay and common earth are different soils"):
        StatedVolume(1.0, State.BANK, CLAY) + StatedVolume(1.0, State.BANK, COMMON_EARTH)


def test_after_a_named_conversion_they_add():
    bank = StatedVolume(100.0, State.BANK, CLAY)
    loose = StatedVolume(143.0, State.LOOSE, CLAY)
    assert (bank + loose.in_state(State.BANK)).volume_cy == pytest.approx(200.0, rel=1e-15)


def test_what_lies_in_several_states_is_added_up_in_one():
    heap = StatedVolume(143.0, State.LOOSE, CLAY)
    assert together([heap, heap], State.BANK).volume_cy == pytest.approx(200.0, rel=1e-15)


def test_no_more_is_hauled_away_than_lies_there():
    heap = StatedVolume(10.0, State.LOOSE, CLAY)
    assert (heap - heap).volume_cy == 0.0
    with pytest.raises(GeometryFaulty, match="more is taken away than there is"):
        heap - StatedVolume(11.0, State.LOOSE, CLAY)


def test_heaps_are_taken_together():
    heaps = StatedVolume(np.array([100.0, 0.0]), State.BANK, COMMON_EARTH)
    np.testing.assert_array_equal(heaps.in_state(State.LOOSE).volume_cy, [125.0, 0.0])


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), float("inf")])
def test_no_earth_has_no_volume(wrong):
    with pytest.raises(GeometryFaulty, match="volume_cy: is"):
        StatedVolume(wrong, State.BANK, CLAY)


@given(st.floats(0, 1e6), st.floats(0, 1e6), states, states)
def test_converting_a_sum_is_the_sum_of_the_converted(first, second, had, wanted):
    one, other = (StatedVolume(volume, had, CLAY) for volume in (first, second))
    together = (one + other).in_state(wanted).volume_cy
    apart = (one.in_state(wanted) + other.in_state(wanted)).volume_cy
    assert together == pytest.approx(apart, rel=1e-12)
