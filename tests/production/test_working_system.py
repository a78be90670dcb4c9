"""Working systems: bottlenecks, waiting lines and what is said of a system that cannot be."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.bottleneck import balance, balanced_carriers
from estimator.production.cycle import FlowStep, Load, Step
from estimator.production.pace_range import production_range, time_for
from estimator.production.waiting_lines import queued_output
from estimator.production.working_system import Station, WorkingSystem, slowed_at, with_carriers
from tests.production.four_ways import (
    BARROWS,
    CONVEYOR_TRUCK,
    FILL_CY,
    FOUR_WAYS,
    PUMPED_FILL,
    SKID_STEER,
    STONE_TON,
)

minutes = st.floats(0.1, 120.0)


@st.composite
def systems(draw):
    names = ["loader", "ramp", "opening"][: draw(st.integers(0, 3))]
    stations = tuple(
        Station(name, draw(st.integers(1, 4)), draw(st.sampled_from([0.0, 0.3, 0.8])))
        for name in names
    )
    steps = [Step(f"at {name}", draw(minutes), name) for name in names]
    return WorkingSystem(
        name="any",
        carriers=draw(st.integers(1, 30)),
        load=Load(draw(st.floats(0.1, 30.0)), "cy"),
        cycle=(*steps, Step("travel", draw(minutes))),
        stations=stations,
        efficiency=draw(st.floats(0.1, 1.0)),
    )


def test_one_machine_that_never_waits_puts_out_a_load_a_cycle():
    found = production_range(SKID_STEER)
    assert found.at_best.output_per_hr == pytest.approx(15.9503, abs=1e-4)
    assert found.with_waiting.output_per_hr == pytest.approx(15.9503, abs=1e-4)
    assert found.at_best.bottlenecks == ("carriers",)
    assert found.idle_share("pit edge") == pytest.approx((0.68099, 0.68099), abs=1e-5)


def test_a_truck_that_takes_its_belt_away_blocks_the_opening_while_it_stands_there():
    found = balance(CONVEYOR_TRUCK)
    capacities = {part.name: part.capacity_per_hr for part in found.parts}
    assert capacities["opening"] == pytest.approx(18.0 * 50.0 / 44.0)  # 15 + 24 + 5 minutes
    assert capacities["stone yard"] == pytest.approx(75.0)  # half of 18 tons in 6 minutes
    assert found.output_per_hr == pytest.approx(16.3636, abs=1e-4)
    assert found.bottlenecks == ("carriers",)
    assert balance(with_carriers(CONVEYOR_TRUCK, 3)).bottlenecks == ("opening",)


def test_trucks_stand_while_the_pump_empties_them():
    found = production_range(PUMPED_FILL)
    assert found.at_best.bottlenecks == ("pump",)
    assert found.per_shift == pytest.approx((144.144, 105.425), abs=1e-3)
    assert time_for(FILL_CY, found).loads == 25


def test_hands_at_a_chute_are_held_up_by_their_shovels():
    found = production_range(BARROWS)
    assert found.at_best.bottlenecks == ("stone pile",)
    assert found.at_best.output_per_hr == pytest.approx(9000.0)
    assert time_for(STONE_TON * 2000.0, found).at_best.hours == pytest.approx(60.6667, abs=1e-4)


def test_days_are_counted_with_their_parts():
    time = time_for(STONE_TON, production_range(CONVEYOR_TRUCK))
    assert time.at_best.days == pytest.approx(2.0854, abs=1e-4)
    assert (time.at_best.whole_days, time.at_best.full_days) == (3, 2)
    assert time.at_best.last_day_hr == pytest.approx(0.6833, abs=1e-4)


def test_balanced_parts_are_all_bottlenecks_and_none_is_idle():
    cycle = (Step("load", 2.8, "loader"), Step("haul, dump, return", 5.6))
    trucks = WorkingSystem("three", 3, Load(64.0, "cy"), cycle, (Station("loader"),))
    found = balance(trucks)
    assert found.bottlenecks == ("carriers", "loader")
    assert found.idle_share("loader") == pytest.approx(0.0, abs=1e-9)
    assert balanced_carriers(trucks) == 3


def test_pounds_and_tons_mix_in_one_system():
    in_pounds = replace(
        CONVEYOR_TRUCK,
        cycle=tuple(
            FlowStep("throw", 90_000.0, "lb", "opening") if one.name == "throw" else one
            for one in CONVEYOR_TRUCK.cycle
        ),
    )
    assert queued_output(in_pounds).output_per_hr == pytest.approx(13.43975, abs=1e-5)


def test_a_station_at_half_speed_takes_twice_as_long_at_each_of_its_steps():
    slow = slowed_at(CONVEYOR_TRUCK, "opening", 0.5)
    assert slow.minutes_at("opening") == pytest.approx(88.0)
    assert slow.minutes_at("stone yard") == pytest.approx(6.0)


@given(systems())
def test_waiting_lines_never_put_out_more_than_the_balance(system):
    best = balance(system).output_per_hr
    assert 0.0 < queued_output(system).output_per_hr <= best * (1 + 1e-9)


@given(systems())
def test_one_more_carrier_never_puts_out_less(system):
    more = with_carriers(system, system.carriers + 1)
    assert balance(more).output_per_hr >= balance(system).output_per_hr * (1 - 1e-9)
    assert queued_output(more).output_per_hr >= queued_output(system).output_per_hr * (1 - 1e-9)


@given(systems())
def test_littles_law_holds_at_each_station_and_for_all_carriers(system):
    queued = queued_output(system)
    everywhere = sum(line.present for line in queued.lines) + queued.under_way
    assert everywhere == pytest.approx(system.carriers)
    for line in queued.lines:
        there = line.wait_minutes + system.minutes_at(line.station)
        assert line.present == pytest.approx(system.carriers * there / queued.cycle_minutes)
    assert queued.cycle_minutes == pytest.approx(system.cycle_minutes + queued.wait_minutes)


@given(systems(), st.floats(0.01, 1.0))
def test_output_is_proportional_to_the_efficiency_of_the_hour(system, efficiency):
    whole, part = replace(system, efficiency=1.0), replace(system, efficiency=efficiency)
    for output in (balance, queued_output):
        expected = efficiency * output(whole).output_per_hr
        assert output(part).output_per_hr == pytest.approx(expected)


@given(systems())
def test_the_order_of_steps_and_stations_does_not_matter(system):
    turned = replace(system, cycle=system.cycle[::-1], stations=system.stations[::-1])
    assert set(balance(turned).bottlenecks) == set(balance(system).bottlenecks)
    expected = queued_output(system).output_per_hr
    assert queued_output(turned).output_per_hr == pytest.approx(expected)


@given(systems())
def test_no_share_of_idle_time_leaves_zero_to_one(system):
    found = production_range(system)
    for part in found.at_best.parts:
        at_best, with_waiting = found.idle_share(part.name)
        assert 0.0 <= at_best <= with_waiting + 1e-9
        assert with_waiting < 1.0


@pytest.mark.parametrize("system", FOUR_WAYS, ids=lambda one: one.name)
def test_the_same_system_gives_the_same_floats(system):
    assert production_range(system) == production_range(replace(system))


def test_every_fault_of_a_system_is_reported_at_once_with_its_place():
    with pytest.raises(ProductionFaulty) as refusal:
        WorkingSystem(
            "stone",
            0,
            Load(18.0, "ton"),
            (FlowStep("throw", 20.0, "cy", "openning"), Step("haul", 30.0)),
            (Station("opening"), Station("opening"), Station("")),
            efficiency=1.2,
            shift_hr=25.0,
        )
    assert str(refusal.value).splitlines() == [
        "'stone', carriers: is below 1; enter a count from 1 to 500",
        "'stone', efficiency: is above 1; enter 25 % as 0.25",
        "'stone', shift_hr: is above 24; enter the working hours of one day",
        "'stone', step 'throw': counts cy but the load is in ton; "
        "give both in one unit, by the density of the material",
        "'stone', step 'throw': needs the unknown station 'openning'; did you mean 'opening'?",
        "'stone', station 'opening': is used by no step; name it in a step, or leave it out",
        "'stone', station 'opening': is listed twice; one station with two places is another thing",
        "'stone', station: has no name; steps find it by its name",
    ]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"carriers": 501}, "carriers: is above 500"),
        ({"carriers": 2.5}, "carriers: is not a whole number"),
        ({"carriers": True}, "carriers: is not a whole number"),
        ({"cycle": ()}, "has no steps: nothing limits the output"),
        ({"cycle": (Step("s", 1.0),) * 51}, "has more than 50 steps"),
        ({"efficiency": 0.0}, "efficiency: is zero: nothing gets done"),
        ({"efficiency": math.nan}, "efficiency: is not a finite number"),
        ({"efficiency": -0.1}, "efficiency: is negative"),
        ({"shift_hr": 0.0}, "shift_hr: is zero"),
        ({"shift_hr": math.inf}, "shift_hr: is not a finite number"),
    ],
)
def test_a_system_that_cannot_work_is_refused(change, told):
    with pytest.raises(ProductionFaulty, match=told):
        replace(SKID_STEER, **change)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"places": 0}, "station 'plant', places: is below 1"),
        ({"places": 10_000}, "station 'plant', places: is above 500"),
        ({"taken_by_others": 1.0}, "nothing is left for these carriers"),
        ({"taken_by_others": 1.1}, "taken_by_others: is above 1"),
        ({"taken_by_others": -0.1}, "taken_by_others: is negative"),
        ({"taken_by_others": math.nan}, "taken_by_others: is not a finite number"),
    ],
)
def test_a_station_that_serves_nobody_is_refused(change, told):
    with pytest.raises(ProductionFaulty, match=told):
        replace(Station("plant"), **change)


def test_a_system_without_stations_has_no_number_of_carriers_that_is_enough():
    cart = WorkingSystem("cart", 1, Load(1.0, "ton"), (Step("round", 6.0),))
    with pytest.raises(ProductionFaulty, match="nothing limits it but its carriers"):
        balanced_carriers(cart)


def test_a_loader_that_a_thousand_trucks_would_not_keep_busy_is_refused():
    cycle = (Step("load", 0.1, "loader"), Step("haul", 1000.0))
    trucks = WorkingSystem("far", 1, Load(1.0, "ton"), cycle, (Station("loader"),))
    with pytest.raises(ProductionFaulty, match="would need more than 500 carriers"):
        balanced_carriers(trucks)


def test_unknown_parts_and_stations_are_reported_with_the_known_ones():
    with pytest.raises(ProductionFaulty, match="no part 'pump'; use one of 'carriers', 'pit edge'"):
        balance(SKID_STEER).idle_share("pump")
    with pytest.raises(ProductionFaulty, match="no station 'pit'; use 'pit edge'"):
        slowed_at(SKID_STEER, "pit", 0.5)
    with pytest.raises(ProductionFaulty, match="speed_factor: is zero"):
        slowed_at(SKID_STEER, "pit edge", 0.0)
