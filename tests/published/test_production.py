"""Machines, trucks and waiting lines against field manuals, tables and textbook examples."""

from datetime import date

import numpy as np
import pytest

from estimator.production.bottleneck import balance, balanced_carriers
from estimator.production.closed_network import ClosedStation, network_means
from estimator.production.cycle import Load, Step, passes_that_fit, travel_minutes
from estimator.production.machine_output import (
    cyclic_output_per_hr,
    machines_to_keep_up,
    roller_output_cy_per_hr,
    trucks_by_field_manual,
)
from estimator.production.waiting_lines import queued_output
from estimator.production.working_calendar import WorkingCalendar, is_working_day
from estimator.production.working_system import Station, WorkingSystem
from estimator.quantity.rounding import whole_above
from tests.published.source import published

FM_5_434 = "US Army FM 5-434, Earthmoving Operations (2000)"
WORKSHEET_9 = "Source not recorded: a state reclamation-bond filing of 2016, worksheet 9"
TABLES = "Peck and Hazelwood, Finite Queueing Tables (1958)"


@published(
    source=FM_5_434,
    section="para 5-15, loader of 2.5 cy, cycle 0.475 min",
    status="second-hand",
    note="332 and 277 in print: 277 is 332 x 50/60 rounded up a second time; unrounded, 276.3",
)
def test_a_loader_moves_332_loose_yards_an_hour_and_276_in_fifty_minutes():
    whole = cyclic_output_per_hr(2.5, 0.475, fill_factor=1.05)
    assert whole == pytest.approx(331.58, abs=5e-3)
    fifty = cyclic_output_per_hr(2.5, 0.475, 50 / 60, fill_factor=1.05)
    assert fifty == pytest.approx(276.32, abs=5e-3)


@published(source=FM_5_434, section="para 3-28, minutes = feet / (88 x mph)", status="second-hand")
def test_800_feet_at_25_miles_an_hour_take_36_hundredths_of_a_minute():
    assert travel_minutes(800.0, 25.0) == pytest.approx(0.36, abs=5e-3)


TRUCKS = WorkingSystem(
    "trucks of 2 cy",
    42,
    Load(2.0, "cy"),
    (Step("load", 0.5, "loader"), Step("haul, dump, return", 20.0)),
    (Station("loader"),),
)


@published(source=FM_5_434, section="para 10-10, N = 1 + cycle / load", status="second-hand")
def test_a_field_manual_sends_42_trucks_for_240_yards_an_hour():
    assert trucks_by_field_manual(0.5, 20.5) == 42
    assert balance(TRUCKS).output_per_hr == pytest.approx(240.0)


@published(
    source=FM_5_434,
    section="para 10-10, the same trucks in deterministic balance",
    status="derived",
    note="41 keep the loader busy if nothing varies; the manual's 42nd waits ready",
)
def test_41_trucks_are_enough_if_nothing_varies():
    assert balanced_carriers(TRUCKS) == 41


@published(
    source=WORKSHEET_9,
    section="78 cy body, 16 cy bucket, cycle 2.0 + 1.6 + 2.8 + 2.0 min, efficiency 0.79",
    status="seen",
    note="prints 1,083.5; unrounded 1,083.43. The truck leaves with 4 buckets, 64 of its 78 cy",
)
def test_three_trucks_of_four_buckets_haul_1083_yards_an_hour():
    assert passes_that_fit(78.0, 16.0) == 4
    cycle = (
        Step("load", 2.8, "loader"),
        Step("haul", 2.0),
        Step("dump", 1.6),
        Step("return", 2.0),
    )
    trucks = WorkingSystem("trucks", 3, Load(64.0, "cy"), cycle, (Station("loader"),), 0.79)
    assert balance(trucks).output_per_hr == pytest.approx(1083.43, abs=5e-3)


@published(
    source=WORKSHEET_9,
    section="trucks = cycle / loading time = 8.4 / 2.8",
    status="seen",
    note="exactly 3; binary floats give a hair more and a fourth truck",
)
def test_the_loader_of_the_worksheet_keeps_three_trucks():
    cycle = (Step("load", 2.8, "loader"), Step("haul, dump, return", 5.6))
    trucks = WorkingSystem("trucks", 1, Load(64.0, "cy"), cycle, (Station("loader"),))
    assert balanced_carriers(trucks) == 3
    assert machines_to_keep_up(8.4, 2.8) == 3
    assert whole_above(np.array([8.4 / 2.8])).tolist() == [3.0]


@published(
    source=FM_5_434,
    section="ch. 11, roller of 5 ft at 6 mph, lifts of 6 in, 5 passes, efficiency 0.83",
    status="second-hand",
    note="487 with the printed 16.3; the factor is 5280 / (12 x 27) = 16.296, which gives 486.9",
)
def test_a_roller_leaves_487_compacted_yards_an_hour():
    output = roller_output_cy_per_hr(5.0, 6.0, 6.0, 5, 0.83)
    assert output == pytest.approx(486.93, abs=5e-3)
    assert round(output) == 487


@published(
    source=FM_5_434,
    section="ch. 11, 1,500 loose cy/hr x 0.87 / 487 = 2.68",
    status="second-hand",
)
def test_three_rollers_keep_up_with_1500_loose_yards_an_hour():
    assert 1500.0 * 0.87 / roller_output_cy_per_hr(5.0, 6.0, 6.0, 5, 0.83) == pytest.approx(
        2.68, abs=5e-3
    )
    assert machines_to_keep_up(1500.0 * 0.87, 487.0) == 3


@published(
    source=TABLES,
    section="population 5, one and two channels",
    status="seen",
    note="F to three decimals: what waiting leaves of the machines' time",
)
@pytest.mark.parametrize(
    ("factor", "hands", "efficiency"),
    [
        (0.050, 1, 0.989), (0.060, 1, 0.983), (0.070, 1, 0.977), (0.080, 1, 0.969),
        (0.090, 1, 0.960), (0.100, 1, 0.950), (0.080, 2, 0.998), (0.090, 2, 0.998),
        (0.100, 2, 0.997),
    ],
)  # fmt: skip
def test_five_sources_wait_as_the_tables_say(factor, hands, efficiency):
    (waiting,) = network_means(5, [ClosedStation(factor, hands)], 1.0 - factor).waiting
    assert 1.0 - waiting / 5 == pytest.approx(efficiency, abs=5.1e-4)


@published(
    source=TABLES,
    section="population 5, one channel",
    status="seen",
    note="D to three decimals: an arrival sees a system of four, and waits where one is served",
)
@pytest.mark.parametrize(
    ("factor", "waits"),
    [(0.050, 0.198), (0.060, 0.237), (0.070, 0.275), (0.080, 0.313), (0.090, 0.350),
     (0.100, 0.386)],
)  # fmt: skip
def test_an_arrival_finds_the_hand_busy_as_the_tables_say(factor, waits):
    seen = network_means(4, [ClosedStation(factor)], 1.0 - factor)
    assert seen.present[0] - seen.waiting[0] == pytest.approx(waits, abs=5.1e-4)


@published(
    source=TABLES,
    section="population 5, as five trucks and a loader in a working system",
    status="derived",
    note="output of the tables: N F (1 - X) trucks on the road, each back after U",
)
def test_five_trucks_at_a_loader_put_out_what_the_tables_say():
    cycle = (Step("load", 1.0, "loader"), Step("haul, dump, return", 9.0))
    trucks = WorkingSystem("trucks", 5, Load(1.0, "cy"), cycle, (Station("loader"),))
    # 5 x 0.950 x 0.9 = 4.275 on the road, 0.475 loads a minute
    assert queued_output(trucks).output_per_hr == pytest.approx(60 * 0.475, rel=6e-4)


@published(
    source="Source not recorded: operations management text, limited-population example",
    section="five printers, 20 hours of use, 2 hours of service, one and two technicians",
    status="seen",
    note="the text enters the table at X = 0.090 for 2/22 = 0.0909; its print holds for both",
)
@pytest.mark.parametrize(("hands", "running"), [(1, 4.36), (2, 4.54)])
def test_five_printers_leave_four_and_a_third_working(hands, running):
    means = network_means(5, [ClosedStation(2.0, hands)], 20.0)
    assert means.under_way == pytest.approx(running, abs=5e-3)


@published(
    source="Winston, Operations Research: Applications and Algorithms (edition not recorded)",
    section="machine repair: five patrol cars, 30 days between breakdowns, 3 days, two workers",
    status="from memory",
    note="prints 0.774 idle, from a rounded 0.619 of no car in the shop; exact 0.7732",
)
def test_five_patrol_cars_keep_four_and_a_half_on_the_road():
    means = network_means(5, [ClosedStation(3.0, places=2)], 30.0)
    assert means.under_way == pytest.approx(4.5352, abs=5e-5)
    served = means.present[0] - means.waiting[0]
    assert 1.0 - served / 2 == pytest.approx(0.7732, abs=5e-5)


@published(
    source="Anderson, Sweeney, Williams, An Introduction to Management Science (edition not "
    "recorded)",
    section="finite calling population: six machines, 20 hours between breakdowns, 2 hours",
    status="from memory",
    note="the inputs were read in a copy; the printed results are recalled",
)
def test_six_machines_wait_a_third_of_one_on_average():
    means = network_means(6, [ClosedStation(2.0)], 20.0)
    (stopped,), (waiting,) = means.present, means.waiting
    assert 1.0 - (stopped - waiting) == pytest.approx(0.4845, abs=5e-5)
    assert waiting == pytest.approx(0.3297, abs=5e-5)
    assert stopped == pytest.approx(0.8451, abs=6e-5)


@published(
    source="Lazowska, Zahorjan, Graham, Sevcik, Quantitative System Performance (1984)",
    section="ch. 6, exact mean value analysis of three stations with think time 15, 1 to 3 users",
    status="from memory",
    note="demands 0.605, 2.1, 1.35: the recursion carried out by hand",
)
@pytest.mark.parametrize(("users", "rate"), [(1, 0.0525), (2, 0.1031), (3, 0.1515)])
def test_three_users_and_three_stations_follow_mean_value_analysis(users, rate):
    stations = [ClosedStation(0.605), ClosedStation(2.1), ClosedStation(1.35)]
    found = network_means(users, stations, 15.0)
    assert found.cycles_per_minute == pytest.approx(rate, abs=5e-5)


@published(
    source="Little, A proof for the queuing formula L = lambda W, Operations Research 9 (1961)",
    section="number in line = arrivals in a minute x wait",
    status="derived",
)
def test_trucks_in_line_are_loads_a_minute_times_their_wait():
    queued = queued_output(TRUCKS)
    loads_a_minute = queued.output_per_hr / 60.0 / 2.0
    assert queued.lines[0].waiting == pytest.approx(loads_a_minute * queued.lines[0].wait_minutes)
    assert queued.lines[0].present + queued.under_way == pytest.approx(42.0)


@published(
    source="5 U.S.C. 6103, legal public holidays",
    section="(a) and (b): a holiday on Saturday is kept on Friday, on Sunday on Monday",
    status="from memory",
    note="read through the holidays package, whose days this project did not make",
)
@pytest.mark.parametrize(
    "kept",
    [
        date(2026, 1, 1),
        date(2026, 1, 19),
        date(2026, 5, 25),
        date(2026, 6, 19),
        date(2026, 7, 3),
        date(2026, 9, 7),
        date(2026, 11, 26),
        date(2026, 12, 25),
        date(2027, 7, 5),
    ],
)
def test_nobody_works_on_a_federal_holiday(kept):
    assert not is_working_day(WorkingCalendar(), kept)
