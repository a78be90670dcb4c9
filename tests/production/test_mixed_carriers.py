"""Two kinds of carrier at the same stations, beside one kind and sites that are played through."""

from dataclasses import replace

import pytest

from estimator.errors import ProductionFaulty
from estimator.production.bottleneck import balance
from estimator.production.cycle import Load, Step
from estimator.production.mixed_carriers import mixed_off_by, mixed_output
from estimator.production.waiting_lines import queued_output
from estimator.production.working_system import Station, WorkingSystem, with_carriers
from tests.production.four_ways import CONVEYOR_TRUCK
from tests.production.site_run import at_random, play_together


def kind(name, carriers, size, loading, hauling, opening=6.0, **station):
    return WorkingSystem(
        name, carriers, Load(size, "ton"),
        (Step("load", loading, "loader"), Step("haul", hauling), Step("tip", opening, "opening"),
         Step("return", hauling)),
        (Station("loader", **station), Station("opening")),
    )  # fmt: skip


TANDEM, SINGLE = kind("tandem", 3, 18.0, 9.0, 15.0), kind("single axle", 2, 8.0, 4.0, 10.0, 3.0)


def test_two_names_for_one_kind_bring_what_the_kind_brings():
    five = with_carriers(TANDEM, 5)
    both = mixed_output([TANDEM, replace(TANDEM, name="the others", carriers=2)])
    assert both.at_best_per_hr == pytest.approx(balance(five).output_per_hr)
    assert both.with_waiting_per_hr == pytest.approx(queued_output(five).output_per_hr)
    assert both.kinds[0].wait_minutes == pytest.approx(queued_output(five).wait_minutes)


def test_a_station_that_half_works_for_others_is_as_for_one_kind():
    alone = mixed_output([CONVEYOR_TRUCK])
    assert alone.at_best_per_hr == pytest.approx(balance(CONVEYOR_TRUCK).output_per_hr)
    assert alone.with_waiting_per_hr == pytest.approx(queued_output(CONVEYOR_TRUCK).output_per_hr)


def test_carriers_that_never_meet_bring_what_each_brings_alone():
    free = [replace(one, stations=(), cycle=(Step("round", 30.0),)) for one in (TANDEM, SINGLE)]
    both = mixed_output(free)
    assert both.at_best_per_hr == pytest.approx(3 * 18.0 * 2 + 2 * 8.0 * 2)
    assert both.with_waiting_per_hr == pytest.approx(both.at_best_per_hr)


@pytest.mark.parametrize(
    "systems",
    [
        (TANDEM, SINGLE),
        (with_carriers(TANDEM, 6), with_carriers(SINGLE, 4)),
        (kind("tandem", 4, 18.0, 9.0, 12.0, places=2),
         kind("single axle", 3, 8.0, 5.0, 8.0, 3.0, places=2)),
    ],
    ids=["few", "many", "two loaders"],
)  # fmt: skip
def test_a_site_played_through_lies_within_four_percent_of_the_formula(systems):
    """The site runs for 52,500 minutes with times at random, and with times that never vary."""
    both = mixed_output(systems)
    at_random_times = placed_per_hr(systems, at_random(3))
    expected = [one.with_waiting_per_hr for one in both.kinds]
    assert at_random_times == pytest.approx(expected, rel=0.04)
    assert sum(placed_per_hr(systems)) <= both.at_best_per_hr * 1.001


def placed_per_hr(systems, *spread):
    played = play_together(systems, 2_500.0, *spread)
    return [
        system.per_hr(sum(batch.placed for batch in batches) / 50_000.0)
        for system, batches in zip(systems, played, strict=True)
    ]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        # a loader of a minute beside a truck that stands there for half an hour
        (kind("machine", 1, 0.7, 1.0, 0.6, 0.5), kind("truck", 1, 18.0, 20.0, 30.0, 4.0)),
        (kind("machine", 3, 0.7, 1.5, 1.0, 0.5), kind("truck", 2, 18.0, 12.0, 20.0, 5.0)),
    ],
)
def test_kinds_that_stand_for_very_different_times_stay_within_what_is_said(first, second):
    """Whoever goes round in a minute meets the same truck once, not once for each round."""
    systems = (first, second)
    said = mixed_output(systems).with_waiting_per_hr
    high, low = mixed_off_by(systems)
    true = sum(placed_per_hr(systems, at_random(5)))
    assert said * (1 - high) <= true <= said * (1 + low)


def test_kinds_that_hold_every_station_equally_long_are_exact_and_others_are_not():
    same = replace(TANDEM, name="the others", carriers=2)
    assert mixed_off_by([TANDEM, same]) == (0.0, 0.0)
    assert mixed_off_by([TANDEM, SINGLE]) == (0.08, 0.22)
    eight = kind("eight to one", 2, 8.0, 72.0, 10.0)
    assert mixed_off_by([TANDEM, eight]) == (0.08, 0.32)
    apart = [kind("a", 1, 1.0, 1.0, 5.0, places=2), kind("b", 1, 1.0, 20.0, 5.0, places=2)]
    assert mixed_off_by(apart) == (0.08, 1.0)


def test_what_is_full_at_best_is_named():
    """Three tandems and two single axles take 0.90 of a loader; six tandems more than all of it."""
    assert mixed_output([TANDEM, SINGLE]).full == ("tandem", "single axle")
    slow = kind("single axle", 4, 8.0, 5.0, 10.0, 3.0)
    assert mixed_output([with_carriers(TANDEM, 6), slow]).full == ("loader",)


def test_each_fault_of_a_mixture_is_reported_together():
    other = replace(SINGLE, name="tandem", load=Load(8.0, "cy"), stations=(
        Station("loader", places=2), Station("opening")))  # fmt: skip
    with pytest.raises(ProductionFaulty) as refusal:
        mixed_output([TANDEM, other])
    messages = " ".join(str(one) for one in refusal.value.faults)
    assert "kind 'tandem': is listed twice" in messages
    assert "has another unit or other hours" in messages
    assert "station 'loader': is not the same for all kinds" in messages
    with pytest.raises(ProductionFaulty, match="are 0; enter 1 to 2 kinds of carrier"):
        mixed_output([])
