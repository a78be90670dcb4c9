"""The formulas beside sites that are played through event by event."""

from dataclasses import replace

import pytest

from estimator.production.bottleneck import balance
from estimator.production.closed_network import ClosedStation, network_means
from estimator.production.cycle import Load, Step
from estimator.production.waiting_lines import queued_output
from estimator.production.working_system import Station, WorkingSystem, with_carriers
from tests.production.four_ways import CONVEYOR_TRUCK
from tests.production.site_run import at_random, interval, play

LOADER = WorkingSystem(
    "five trucks, one loader",
    5,
    Load(1.0, "cy"),
    (Step("load", 5.0, "loader"), Step("haul, dump, return", 20.0)),
    (Station("loader"),),
)
IN_SEQUENCE = WorkingSystem(
    "loader, ramp and two openings in a row",
    6,
    Load(1.0, "cy"),
    (
        Step("load", 4.0, "loader"),
        Step("up the ramp", 2.0, "ramp"),
        Step("haul", 5.0),
        Step("place", 9.0, "openings"),
        Step("return", 5.0),
    ),
    (Station("loader"), Station("ramp"), Station("openings", places=2)),
)
BUSY_PLANT = replace(
    LOADER,
    name="a plant with two chutes that half works for others",
    stations=(Station("loader", places=2, taken_by_others=0.5),),
)


@pytest.mark.parametrize("system", [LOADER, IN_SEQUENCE, BUSY_PLANT], ids=lambda one: one.name)
def test_random_times_give_the_output_and_the_waits_of_the_formulas(system):
    minutes = 2500.0
    batches = play(system, minutes, at_random(19))
    queued = queued_output(system)
    least, most = interval([batch.placed / minutes for batch in batches])
    assert least < queued.output_per_hr / 60.0 < most
    assert (most - least) / most < 0.1
    least, most = interval([batch.waited / minutes for batch in batches])
    assert least < sum(line.waiting for line in queued.lines) < most


def test_a_loader_played_through_serves_what_the_machine_repair_formula_says():
    minutes = 2500.0
    batches = play(LOADER, minutes, at_random(7))
    least, most = interval([batch.placed / minutes * 5.0 for batch in batches])
    means = network_means(5, [ClosedStation(5.0)], 20.0)
    assert least < means.present[0] - means.waiting[0] < most


@pytest.mark.parametrize("carriers", [1, 2, 3, 4, 6])
def test_times_that_never_vary_give_the_balance(carriers):
    system = with_carriers(IN_SEQUENCE, carriers)
    (batch,) = play(system, 9_000.0, batches=1)
    output = batch.placed / 9_000.0 * 60.0
    assert output == pytest.approx(balance(system).output_per_hr, rel=1e-3)
    assert output >= queued_output(system).output_per_hr


def test_an_opening_used_in_several_steps_still_ends_between_the_two_formulas():
    # Long enough that the whole interval, 99.9 % sure, fits between the two.
    minutes = 20_000.0
    batches = play(CONVEYOR_TRUCK, minutes, at_random(5))
    least, most = interval([CONVEYOR_TRUCK.per_hr(batch.placed / minutes) for batch in batches])
    assert queued_output(CONVEYOR_TRUCK).output_per_hr < least
    assert most < balance(CONVEYOR_TRUCK).output_per_hr
