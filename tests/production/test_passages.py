"""The way in and out as stations, by hand and beside sites that are played through."""

import pytest

from estimator.errors import ProductionFaulty
from estimator.production.bottleneck import balance
from estimator.production.cycle import FlowStep, Load, Step, TravelStep
from estimator.production.passages import WAYS, with_passage
from estimator.production.waiting_lines import queued_output
from estimator.production.working_system import Station, WorkingSystem
from tests.production.site_run import at_random, interval, play

LOADERS = WorkingSystem(
    "loaders",
    3,
    Load(0.7, "ton"),
    (Step("load", 2.0), Step("drive in", 1.0), Step("tip", 3.0), Step("drive out", 1.0)),
)


def through(way, system=LOADERS, room=2):
    return with_passage(system, way, "drive in", "drive out", room)


@pytest.mark.parametrize(
    ("way", "per_hr", "bottleneck", "waiting"),
    [
        ("one way", 18.0, "carriers", 16.5),  # 3 x 0.7 x 60 / 7
        ("no passing", 8.4, "lane", 8.3),  # 0.7 x 60 / 5: in, tip and out
        ("passing place", 10.5, "lane inside", 10.0),  # 0.7 x 60 / 4: half in, tip, half out
        ("turning inside", 18.0, "carriers", 14.6),  # lane 0.7 x 60 / 2, room 2 x 0.7 x 60 / 3
    ],
)
def test_where_machines_pass_decides_what_limits_them(way, per_hr, bottleneck, waiting):
    """The figures of docs/production.md."""
    assert queued_output(through(way)).output_per_hr == pytest.approx(waiting, abs=0.05)
    output = balance(through(way))
    assert (output.output_per_hr, output.bottlenecks) == (pytest.approx(per_hr), (bottleneck,))


def test_room_for_one_inside_limits_as_much_as_it_is_busy():
    output = balance(through("turning inside", room=1))
    assert output.output_per_hr == pytest.approx(14.0)  # 0.7 x 60 / 3
    assert output.bottlenecks == ("room inside",)


@pytest.mark.parametrize("way", WAYS)
def test_a_single_machine_never_waits_whatever_the_way(way):
    alone = WorkingSystem("loader", 1, LOADERS.load, LOADERS.cycle)
    assert balance(through(way, alone)).output_per_hr == pytest.approx(6.0)
    assert queued_output(through(way, alone)).output_per_hr == pytest.approx(6.0)


@pytest.mark.parametrize("way", WAYS)
def test_a_site_played_through_gives_the_output_and_waits_of_the_stations(way):
    system, minutes = through(way), 2_500.0
    batches = play(system, minutes, at_random(11))
    least, most = interval([batch.placed / minutes * 60.0 * 0.7 for batch in batches])
    output = queued_output(system).output_per_hr
    # Three steps in one stay vary less than one of their length: the formula is a little low.
    assert output < most
    assert output > least * 0.95


def test_what_works_inside_alone_needs_no_station_of_its_own():
    spread = FlowStep("tip", 14.0, "ton", "pit edge")
    system = WorkingSystem(
        "loaders", 3, LOADERS.load,
        (TravelStep("drive in", 100.0, 2.0), spread, TravelStep("drive out", 100.0, 2.0)),
        (Station("pit edge"),),
    )  # fmt: skip
    assert [one.name for one in through("no passing", system).stations] == ["lane"]
    assert [one.name for one in through("turning inside", system).stations] == ["pit edge", "lane"]


@pytest.mark.parametrize(
    ("way", "first", "last", "message"),
    [
        ("two way", "drive in", "drive out", "'two way' is not known"),
        ("no passing", "drive", "drive out", "no step 'drive'"),
        ("no passing", "drive out", "drive in", "does not come after 'drive out'"),
    ],
)
def test_each_fault_of_a_passage_is_reported(way, first, last, message):
    with pytest.raises(ProductionFaulty, match=message):
        with_passage(LOADERS, way, first, last)


def test_a_drive_that_holds_a_station_already_is_refused():
    cycle = (Step("drive in", 1.0, "lane"), Step("tip", 3.0), Step("drive out", 1.0))
    system = WorkingSystem("loaders", 3, LOADERS.load, cycle, (Station("lane"),))
    with pytest.raises(ProductionFaulty) as refusal:
        through("no passing", system)
    messages = " ".join(str(one) for one in refusal.value.faults)
    assert "step 'drive in': needs a station already" in messages
    assert "station 'lane': is what the passage calls its own" in messages
