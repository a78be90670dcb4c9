"""Closed networks of queues beside mean value analysis, and at the ends of their range."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.closed_network import ClosedStation, network_means


def machine_repair(machines, ratio, hands):
    """Return the mean numbers that wait and that run, by p(n) = r^n N! / ((N-n)! c(1) ... c(n))."""
    chances = [1.0]
    for stopped in range(1, machines + 1):
        chances.append(chances[-1] * ratio * (machines - stopped + 1) / min(stopped, hands))
    states = [(max(n - hands, 0), machines - n, one) for n, one in enumerate(chances)]
    whole = sum(chances)
    return (sum(state[k] * state[2] for state in states) / whole for k in (0, 1))


def mean_value_analysis(carriers, times, travel):
    """Return throughput and numbers present, by the textbook recursion for one place each."""
    present, rate = [0.0] * len(times), 0.0
    for number in range(1, carriers + 1):
        stays = [time * (1.0 + there) for time, there in zip(times, present, strict=True)]
        rate = number / (travel + sum(stays))
        present = [rate * stay for stay in stays]
    return rate, present


@given(
    st.integers(1, 60),
    st.lists(st.floats(0.1, 50.0), min_size=1, max_size=5),
    st.sampled_from([0.0, 0.5, 20.0, 500.0]),
)
def test_stations_of_one_place_give_what_mean_value_analysis_gives(carriers, times, travel):
    means = network_means(carriers, [ClosedStation(time) for time in times], travel)
    rate, present = mean_value_analysis(carriers, times, travel)
    assert means.cycles_per_minute == pytest.approx(rate, rel=1e-9)
    assert means.present == pytest.approx(present, rel=1e-7)


@given(
    st.integers(1, 60), st.floats(0.1, 50.0), st.sampled_from([0.5, 20.0, 500.0]), st.integers(1, 9)
)
def test_one_station_with_travel_is_the_machine_repair_case(carriers, minutes, travel, places):
    means = network_means(carriers, [ClosedStation(minutes, places)], travel)
    waiting, running = machine_repair(carriers, minutes / travel, places)
    assert means.waiting[0] == pytest.approx(waiting, rel=1e-7, abs=1e-9)
    assert means.under_way == pytest.approx(running)


def test_places_for_all_leave_nobody_waiting():
    means = network_means(4, [ClosedStation(6.0, places=4)], 18.0)
    assert means.cycles_per_minute == pytest.approx(4 / 24)
    assert means.waiting[0] == pytest.approx(0.0, abs=1e-12)


def test_others_at_one_place_are_as_if_it_were_so_much_slower():
    shared = network_means(7, [ClosedStation(2.0, taken_by_others=0.4)], 10.0)
    slower = network_means(7, [ClosedStation(2.0 / 0.6)], 10.0)
    assert shared.cycles_per_minute == pytest.approx(slower.cycles_per_minute)


def test_others_at_three_places_are_summed_over_all_their_numbers():
    # 0.24452904294778 and 4.554709570522: summed term by term over 3,000 of the others
    means = network_means(7, [ClosedStation(6.0, 3, 0.5)], 10.0)
    assert means.cycles_per_minute == pytest.approx(0.24452904294778, rel=1e-12)
    assert means.present[0] == pytest.approx(4.554709570522, rel=1e-12)


def test_five_hundred_carriers_keep_the_slowest_station_busy():
    stations = [ClosedStation(0.3, 3, 0.4), ClosedStation(2.1), ClosedStation(1.35, 500, 0.9)]
    means = network_means(500, stations, 150.0)
    assert means.cycles_per_minute == pytest.approx(1 / 2.1)
    assert sum(means.present) + means.under_way == pytest.approx(500.0)


@pytest.mark.parametrize("carriers", [0, -1, 501, 2.0])
def test_absurd_numbers_of_carriers_are_refused(carriers):
    with pytest.raises(ProductionFaulty, match="carriers: is "):
        network_means(carriers, [ClosedStation(1.0)], 1.0)


def test_a_network_in_which_nothing_takes_time_is_refused():
    with pytest.raises(ProductionFaulty, match="nothing in the cycle takes time"):
        network_means(3, [], 0.0)
