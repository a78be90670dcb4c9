"""A limit of the pile outside, by hand and beside a yard that is played through."""

import pytest
import simpy

from estimator.errors import ProductionFaulty
from estimator.production.pile_limit import limited_pile
from estimator.production.stockpile import Stage, StagedWork

YARD = StagedWork(273.0, (Stage("trucks", 66.0), Stage("skid steer", 15.6)))


def test_trucks_held_to_sixty_tons_are_there_nine_and_a_half_hours_longer():
    """60 / 50.4 = 1.19 hr until it is full; then 273 - 78.57 at 15.6 an hour: 12.46 more."""
    pile = limited_pile(YARD, 60.0)
    assert pile.full_after_hr == pytest.approx(1.1905, abs=1e-4)
    assert pile.bringing_hr == pytest.approx(13.654, abs=1e-3)
    assert pile.held_back_hr == pytest.approx(13.654 - 273 / 66, abs=1e-3)


def test_the_work_ends_when_the_pile_is_used_up_whatever_its_limit():
    pile = limited_pile(YARD, 60.0)
    assert pile.bringing_hr + 60.0 / 15.6 == pytest.approx(YARD.hours)


@pytest.mark.parametrize("limit", [208.5, 1_000.0])
def test_room_for_the_largest_pile_holds_nobody_back(limit):
    pile = limited_pile(YARD, limit)
    assert (pile.full_after_hr, pile.held_back_hr) == (None, 0.0)


def test_those_who_place_faster_than_it_comes_never_see_it_full():
    fast = StagedWork(280.0, (Stage("trucks", 20.0), Stage("crew", 30.0, 40.0)))
    assert limited_pile(fast, 40.0).full_after_hr is None


def bringing_hr(quantity, limit, stock=0.0, load=0.1):
    """Return when the last load is tipped in a yard that is played through load by load."""
    env = simpy.Environment()
    pile = simpy.Container(env, capacity=limit, init=stock)
    ended = {}

    def bring():
        for _ in range(round((quantity - stock) / load)):
            yield env.timeout(load / 66.0)
            yield pile.put(load)
        ended["bringing"] = env.now

    def place():
        for _ in range(round(quantity * 10)):
            yield pile.get(0.1)
            yield env.timeout(0.1 / 15.6)

    env.process(bring())
    env.process(place())
    env.run()
    return ended["bringing"]


@pytest.mark.parametrize(("limit", "stock"), [(60.0, 0.0), (25.0, 10.0), (120.0, 40.0)])
def test_a_yard_played_through_ton_by_ton_has_the_same_hours(limit, stock):
    work = StagedWork(273.0, (YARD.stages[0], Stage("skid steer", 15.6, stock)))
    played = bringing_hr(273.0, limit, stock)
    assert limited_pile(work, limit).bringing_hr == pytest.approx(played, abs=0.02)


@pytest.mark.parametrize("limit", [36.0, 60.0, 120.0])
def test_in_whole_loads_the_last_is_later_by_no_more_than_the_first_takes_to_come(limit):
    """Fifteen loads of 18 tons: nothing is placed before the first is there, 18 / 66 hr."""
    said = limited_pile(StagedWork(270.0, YARD.stages), limit).bringing_hr
    assert said - 0.01 <= bringing_hr(270.0, limit, load=18.0) <= said + 18.0 / 66.0 + 0.01


def test_what_is_no_limit_of_a_pile_is_reported():
    with pytest.raises(ProductionFaulty, match="has 1 stages"):
        limited_pile(StagedWork(10.0, (Stage("trucks", 5.0),)), 3.0)
    heap = StagedWork(50.0, (Stage("trucks", 5.0), Stage("crew", 4.0, 20.0)))
    with pytest.raises(ProductionFaulty, match="limit: is less than what lies there already"):
        limited_pile(heap, 10.0)
