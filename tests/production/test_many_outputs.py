"""Many outputs at once are what each would be by itself."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.closed_network import ClosedStation, cycle_rates, network_means
from estimator.production.lifts import Lift, time_in_lifts
from estimator.production.many_outputs import many_outputs, minutes_by_place
from estimator.production.pace_range import production_range
from tests.production.four_ways import CONVEYOR_TRUCK, FOUR_WAYS

MINUTES = st.floats(0.1, 500.0)


@pytest.mark.parametrize("system", FOUR_WAYS, ids=lambda system: system.name)
def test_a_single_set_of_times_gives_the_range_of_the_system(system):
    found, alone = many_outputs([system], [minutes_by_place(system)]), production_range(system)
    assert found.at_best_per_hr == pytest.approx(alone.at_best.output_per_hr, rel=1e-12)
    assert found.with_waiting_per_hr == pytest.approx(alone.with_waiting.output_per_hr, rel=1e-9)


@given(st.lists(MINUTES, min_size=1, max_size=6), st.integers(1, 9), st.floats(0.0, 300.0))
def test_cycle_rates_are_those_of_one_network_after_the_other(minutes, carriers, travel):
    station = ClosedStation(1.0, places=2, taken_by_others=0.25)
    together = cycle_rates(carriers, [station], [np.array(minutes)], np.array(travel))
    for one, rate in zip(minutes, together, strict=True):
        alone = network_means(carriers, [ClosedStation(one, 2, 0.25)], travel)
        assert rate == pytest.approx(alone.cycles_per_minute, rel=1e-9)


def test_a_large_fleet_is_worked_out_in_portions():
    minutes = np.linspace(1.0, 5.0, 4_000)
    rates = cycle_rates(400, [ClosedStation(1.0)], [minutes], np.array(60.0))
    assert rates[[0, -1]] == pytest.approx([1.0, 0.2], rel=1e-6)


def test_lifts_slow_the_output_as_they_lengthen_the_time():
    lifts = (Lift("lower", 0.8), Lift("under the joists", 0.2, 0.5))
    found = many_outputs([CONVEYOR_TRUCK], [minutes_by_place(CONVEYOR_TRUCK)], "opening", lifts)
    time = time_in_lifts(273.0, CONVEYOR_TRUCK, "opening", lifts)
    assert 273.0 / found.with_waiting_per_hr == pytest.approx(time.with_waiting.hours)
    assert 273.0 / found.at_best_per_hr == pytest.approx(time.at_best.hours)


def test_times_of_two_axes_give_a_map():
    times = minutes_by_place(CONVEYOR_TRUCK)
    times["opening"] = np.array([[30.0], [44.0]])
    times[""] = np.array([30.0, 60.0, 90.0])
    assert many_outputs([CONVEYOR_TRUCK], [times]).with_waiting_per_hr.shape == (2, 3)


@pytest.mark.parametrize("place", ["opening", "stone yard"])
def test_a_station_that_takes_no_time_is_refused(place):
    times = minutes_by_place(CONVEYOR_TRUCK) | {place: np.array([5.0, 0.0])}
    with pytest.raises(ProductionFaulty, match="nothing limits"):
        many_outputs([CONVEYOR_TRUCK], [times])
