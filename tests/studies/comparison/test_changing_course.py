"""Part done one way, the rest another: what is left is priced from here."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.errors import MethodsFaulty
from estimator.money import money_text
from estimator.production.placed_so_far import observed_pace, pace_of_sum
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.method_prices import Changes, method_prices
from estimator.studies.comparison.on_hand import on_hand
from estimator.studies.comparison.rest_of_work import rest_of
from estimator.studies.comparison.sentences import (
    course_sentence,
    held_back_sentences,
    on_hand_sentences,
    pace_sentence,
)
from tests.factories import SPRING, scope_of
from tests.scope.methods.choices import (
    BY_HAND,
    DIG,
    PIT,
    PUMP,
    THROW,
    pit_choice,
    sample_choice,
    shipped,
)


def test_the_rest_costs_what_a_pit_of_its_size_costs():
    comparison = pit_choice(DIG, THROW, BY_HAND)
    # 100.8 ton in all; 25.2 placed leave three quarters: 30 of the 40 ft
    found = changed_course(comparison, 0, observed_pace([25.2]))
    rest = {**PIT, "length": "30 ft"}
    one = {"code": "010", "name": "Rest", "assembly": "stone-fill-skid-steer", "inputs": rest,
           "methods": [DIG, THROW, BY_HAND]}  # fmt: skip
    alone = compare(scope_of(shipped(), {"30": [one]}), shipped(), SPRING, "30.010")
    assert found.now.remaining == pytest.approx(75.6)
    assert found.ways[1].in_all == alone.results[1].in_all
    # carried in, a load of 22 tons less is bought: 18.04 tons of those that came are left. $572,
    # 7 % tax, 6 % overhead, 1.2 % of both sums, 12 % of the first three: to a cent of rounding
    assert alone.results[2].in_all - found.ways[2].in_all == Decimal("731.21")


@pytest.mark.parametrize(
    ("placed", "rest_loads"), [(3.0, 4), (16.9, 4), (25.2, 3), (50.0, 2), (88.0, 0)]
)
def test_loads_that_came_and_loads_of_the_rest_are_the_loads_of_the_whole(placed, rest_loads):
    """100.8 tons with 3 % waste are 103.82, in loads of 22 tons five.

    For 3, 16.9, 25.2, 50 and 88 tons placed (3.09, 17.41, 25.96, 51.5, 90.64 with waste) one, one,
    two, three and five have come.
    """
    prepared = pit_choice(DIG, BY_HAND).prepared[0]
    left = {one.code: one.quantity for one in on_hand(prepared, "length", placed / 100.8)}
    rest = {"length": prepared.inputs["length"] * (1 - placed / 100.8)}
    paid = method_prices(prepared, Changes(inputs=rest, on_hand=left)).cents_by_kind["material"]
    assert paid[0] == rest_loads * 22 * 26_00


def test_what_one_line_leaves_of_what_is_on_hand_serves_the_next():
    """Of 150 tons the first line takes 103.82; the second buys 57.64 in three loads of 22 tons."""
    prepared = pit_choice(DIG, BY_HAND).prepared[0]
    twice = [one for one in prepared.lines if one.rate.code == "crushed-stone-4"] * 2
    changes = Changes(on_hand={"crushed-stone-4": 150.0})
    paid = method_prices(replace(prepared, lines=tuple(twice)), changes).cents_by_kind["material"]
    assert paid[0] == 3 * 22 * 26_00


def test_what_is_on_hand_serves_every_method_that_uses_it():
    """25.2 tons placed took 25.96 of the 44 that came: 18.04 are left.

    The rest takes 77.87 tons, four loads, or three with what is left: 22 tons at $26 are $572 less,
    before markups. Thrown in, the stone comes from the yard under a code of its own.
    """
    comparison = pit_choice(DIG, THROW, BY_HAND)
    course = changed_course(comparison, 0, observed_pace([25.2]))
    (stone,) = course.on_hand
    assert (stone.code, stone.unit) == ("crushed-stone-4", "ton")
    assert stone.quantity == pytest.approx(18.044)
    assert on_hand_sentences(course) == (
        "Crushed stone, No. 4, delivered: 18.04 tons of what was ordered for the work so far, in "
        "whole loads, left over and not bought again.",
    )


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(0.5, 60.0), min_size=1, max_size=9), st.sampled_from([0, 1, 2]))
def test_what_is_said_of_the_rest_holds_when_it_is_priced_at_the_end(log, under_way):
    """Placed, ordered and left make up the whole; the way that is named is the least of all."""
    comparison = pit_choice(DIG, THROW, BY_HAND)
    prepared, whole = comparison.prepared[under_way], comparison.results[under_way]
    if sum(log) > 100.0:
        log = [one * 90.0 / sum(log) for one in log]
    course = changed_course(comparison, under_way, observed_pace(log))
    share = sum(log) / whole.quantity
    done, rest = (
        {"length": prepared.inputs["length"] * part}
        for part in (share, course.now.remaining / whole.quantity)
    )
    left = {one.code: one.quantity for one in course.on_hand}
    so_far = method_prices(prepared, Changes(inputs=done))
    to_come = method_prices(prepared, Changes(inputs=rest, on_hand=left))
    paid = so_far.cents_by_kind["material"] + to_come.cents_by_kind["material"]
    assert paid[0] == whole.by_kind["material"] * 100
    assert course.going_on.days == pytest.approx(course.now.remaining_days)
    least = min(way.in_all for way in course.ways)
    assert course.best.in_all == least
    sentence = course_sentence(course)
    if course.best.is_under_way:
        assert "stay with it" in sentence or "cost the same" in sentence
    else:
        less = money_text(course.going_on.in_all - least)
        assert sentence.endswith(f"costs {less} less in total than staying with it")


def test_the_method_under_way_goes_on_at_the_pace_of_its_log():
    found = changed_course(pit_choice(DIG, BY_HAND), 0, observed_pace([20.0, 30.0]))
    # 25 ton a day, 50.8 ton left
    assert found.ways[0].days == pytest.approx(50.8 / 25)
    assert found.now.pace_of_plan == pytest.approx(25 / 112)


def test_at_the_planned_pace_going_on_costs_no_more_than_the_plan_for_the_rest():
    comparison = pit_choice(DIG, BY_HAND)
    found = changed_course(comparison, 0, observed_pace([25.2, 25.2]))
    plan = changed_course(pit_choice(BY_HAND, DIG), 0, observed_pace([25.2, 25.2])).ways[1]
    assert found.ways[0].in_all > plan.in_all  # 25.2 a day is slower than 112
    same = changed_course(comparison, 0, observed_pace([56.0])).ways[0]
    assert same.days == pytest.approx(44.8 / 56.0)


def test_mobilization_is_paid_by_the_others_only_and_the_switch_with_it():
    mobilized = {**BY_HAND, "mobilization": "$500"}
    plain = changed_course(pit_choice(BY_HAND, DIG), 0, observed_pace([10.0]))
    under_way = changed_course(pit_choice(mobilized, DIG), 0, observed_pace([10.0]))
    assert under_way.ways[0].full == plain.ways[0].full
    switched = changed_course(pit_choice(BY_HAND, DIG), 0, observed_pace([10.0]), Decimal("300.00"))
    assert switched.ways[1].full - plain.ways[1].full == 300
    assert switched.ways[0].full == plain.ways[0].full


def test_a_switch_that_costs_enough_keeps_the_course():
    comparison = sample_choice("30.020")
    slow = changed_course(comparison, 1, observed_pace([26.0, 34.0, 31.0, 29.0]))
    dear = changed_course(comparison, 1, observed_pace([26.0, 34.0, 31.0, 29.0]), Decimal(9000))
    assert not slow.best.is_under_way
    assert dear.best.is_under_way
    assert "costs $" in course_sentence(slow)
    assert course_sentence(dear).startswith("171.09 tons left: stay with it; throwing it in")


def test_a_way_that_costs_the_same_is_not_said_to_cost_more_or_less():
    course = changed_course(pit_choice(DIG, BY_HAND), 0, observed_pace([16.0, 18.0]))
    (going_on,) = (way for way in course.ways if way.is_under_way)
    ways = tuple(replace(way, in_all=going_on.in_all) for way in course.ways)
    assert course_sentence(replace(course, ways=ways)).endswith(
        " left: carrying it in would cost the same in total as staying with it"
    )


def test_the_rest_of_a_method_in_another_unit_is_the_same_share():
    found = changed_course(pit_choice(DIG, PUMP), 1, observed_pace([16.0]))
    assert found.unit == "cy"
    assert found.now.remaining == pytest.approx(40 * 12 * 4 / 27 - 16.0)


def test_nothing_left_is_refused():
    with pytest.raises(MethodsFaulty, match=r"100\.80 of 100\.80 tons placed: nothing is left"):
        changed_course(pit_choice(DIG, BY_HAND), 0, observed_pace([100.8]))


def test_two_days_or_a_sum_have_no_range_and_the_sentence_says_so():
    comparison = pit_choice(DIG, BY_HAND)
    for pace in (observed_pace([20.0, 30.0]), pace_of_sum(50.0, 2)):
        course = changed_course(comparison, 0, pace)
        assert course.now.remaining_days_range is None
        assert pace_sentence(course) == (
            "So far 50.00 tons in 2 days, 25.00 a day, 22 % of plan; at this pace 2.03 days to "
            "go (a range takes 3 days or more, each with its own figure)."
        )


def test_days_that_differ_too_much_leave_the_range_open():
    """42, 0 and 0: mean 14, deviation 24.25; t is 1.886, and reach squared 2,090.7.

    Above 3 x 14 squared: no end. The other end is 2 x 58.8^2 / (3,737.1 + 4,570.9) days.
    """
    course = changed_course(pit_choice(DIG, BY_HAND), 0, observed_pace([42.0, 0.0, 0.0]))
    assert pace_sentence(course).endswith(
        "4.20 days to go (0.83 or more in 80 % of cases: the days differ too much for an end)."
    )


DOOR = {"name": "wagon door", "width": "8 ft", "height": "9 ft"}
AROUND = {"through_opening": "no"}


def test_what_comes_through_the_same_opening_holds_for_every_method_that_goes_through_it():
    """31 tons a day came through the door, and 38.8 are left: 1.25 days, thrown in or by machine.

    The belt alone would throw 202 tons a day. By hand it is 28 tons a day anyway: slower than the
    door, so its own plan stays.
    """
    course = changed_course(
        pit_choice(DIG, THROW, BY_HAND, opening=DOOR), 0, observed_pace([30.0, 32.0])
    )
    plain = changed_course(pit_choice(DIG, THROW, BY_HAND), 0, observed_pace([30.0, 32.0]))
    assert [way.is_held_back for way in course.ways] == [False, True, False]
    assert course.ways[1].days == pytest.approx(38.8 / 31)
    assert course.ways[1].in_all > plain.ways[1].in_all
    assert course.ways[2].days == plain.ways[2].days
    assert held_back_sentences(course) == (
        "No more than 31.00 tons a day came through the wagon door; throwing it in would go "
        "through it as well, so that pace is counted, not the planned one.",
    )
    assert held_back_sentences(plain) == ()


def test_a_method_that_is_held_back_waits_for_its_lifts_all_the_same():
    """24.2 of 100.8 tons came through in a day: 76.6 tons are left, at that pace 3.17 days.

    They are 3.04 of the 4 ft. Pumped in lifts of 1 ft, a lift a day, that is four days.
    """
    methods = (DIG, {**PUMP, "inputs": {"lift_height": "1 ft"}})
    course = changed_course(pit_choice(*methods, opening=DOOR), 0, observed_pace([24.2]))
    assert course.ways[1].is_held_back
    assert course.ways[1].days == 4.0


@pytest.mark.parametrize(
    ("under_way", "placed", "left"), [(0, 24.2, 76.6 / 24.2), (1, 24.2, 71.1111 / 24.2 - 1)]
)
def test_setting_up_is_in_the_days_that_the_log_tells(under_way, placed, left):
    """76.6 tons are left at 24.2 tons a day; of the fill 71.11 cy in all, 24.2 cy a day.

    The hours of the pump are 1.25 a lift for setting up, and placing.
    """
    course = changed_course(pit_choice(DIG, PUMP, opening=DOOR), under_way, observed_pace([placed]))
    assert [way.days for way in course.ways] == [pytest.approx(left, rel=1e-5)] * 2


def test_bought_work_goes_on_at_the_pace_of_its_log_and_others_take_their_share_of_days():
    """A quarter of 80 cy is pumped in a day: three more days, or three quarters of twelve."""
    methods = [{"name": "one", "days": "8 day"}, {"name": "two", "days": "12 day"}]
    pumped = {"code": "010", "name": "Pumped", "assembly": "concrete-pumping",
              "inputs": {"volume": "80 cy"}, "methods": methods}  # fmt: skip
    comparison = compare(scope_of(shipped(), {"30": [pumped]}), shipped(), SPRING, "30.010")
    course = changed_course(comparison, 0, observed_pace([20.0]))
    assert [way.days for way in course.ways] == [pytest.approx(3.0), pytest.approx(9.0)]


def test_a_method_that_does_not_go_through_the_opening_keeps_its_own_pace():
    methods = (DIG, {**THROW, **AROUND}, BY_HAND)
    course = changed_course(pit_choice(*methods, opening=DOOR), 0, observed_pace([30.0, 32.0]))
    plain = changed_course(pit_choice(DIG, THROW, BY_HAND), 0, observed_pace([30.0, 32.0]))
    assert [way.is_held_back for way in course.ways] == [False, False, False]
    assert held_back_sentences(course) == ()
    assert course.ways[1].in_all == plain.ways[1].in_all


def test_what_is_under_way_around_the_opening_tells_nothing_of_it():
    methods = ({**DIG, **AROUND}, THROW)
    course = changed_course(pit_choice(*methods, opening=DOOR), 0, observed_pace([20.0, 30.0]))
    assert not course.ways[1].is_held_back


def test_a_machine_that_does_not_pass_is_never_the_better_way_on():
    wide = {"name": "conveyor truck", "width": "8 ft 6 in", "height": "11 ft"}
    methods = (DIG, {**THROW, "machine": wide}, BY_HAND)
    course = changed_course(pit_choice(*methods, opening=DOOR), 0, observed_pace([20.0, 30.0]))
    assert course.ways[1].method.obstacle
    assert not course.best.method.obstacle
    assert "throwing it in" not in course_sentence(course)
    alone = changed_course(pit_choice(*methods[:2], opening=DOOR), 0, observed_pace([20.0]))
    assert course_sentence(alone).endswith("stay with it; no other method can be done")


def test_what_has_placed_work_and_does_not_pass_by_its_size_is_refused():
    wide = {"name": "skid steer", "width": "8 ft", "height": "7 ft"}
    comparison = pit_choice({**DIG, "machine": wide}, BY_HAND, opening=DOOR)
    with pytest.raises(MethodsFaulty, match=r"has placed 20\.00, yet the skid steer, 8 ft wide"):
        changed_course(comparison, 0, observed_pace([20.0]))


def test_the_pace_of_work_in_several_passes_is_that_of_its_log():
    """2,120 sf compacted in four passes, 848 on two days: 1,272 are left, at 424 a day 3 days."""
    rolled = {
        "code": "010", "name": "Compaction", "assembly": "compaction",
        "inputs": {"area": "2,120 sf", "depth": "8 in"},
        "methods": [{"name": "rolling"}, {"name": "rolling alone", "crew": "owner-alone"}],
    }  # fmt: skip
    scope = scope_of(shipped(), {"30": [rolled]})
    comparison = compare(scope, shipped(), SPRING, "30.010")
    whole = float(comparison.quantity)
    course = changed_course(comparison, 0, pace_of_sum(whole * 0.4, 2))
    assert course.going_on.days == pytest.approx(3.0)
    assert course.going_on.days == pytest.approx(course.now.remaining_days)


@pytest.mark.parametrize(
    ("depth", "placed", "days"),
    [
        # 4 ft in lifts of 3 ft are two days; with half of it placed, 2 ft are left: one
        ("4 ft", 0.5, 1.0),
        ("4 ft", 0.24, 2.0),
        # 2 to 7 ft are 4.5 ft on average; up to 3 ft below the top a fifth of the ground is less
        # deep: (0.2 x 2.5 + 0.8 x 3) / 4.5 = 64.4 % are left there
        (["2 ft", "7 ft"], 0.36, 1.0),
        (["2 ft", "7 ft"], 0.35, 2.0),
        (["2 ft", "7 ft"], 0.001, 3.0),
    ],
)
def test_a_fill_that_is_partly_placed_waits_only_for_the_lifts_that_are_left(depth, placed, days):
    one = {"code": "010", "name": "Fill", "assembly": "stone-fill-skid-steer",
           "inputs": {**PIT, "depth": depth}, "methods": [DIG, PUMP]}  # fmt: skip
    comparison = compare(scope_of(shipped(), {"30": [one]}), shipped(), SPRING, "30.010")
    quantity = float(comparison.as_written[0].quantity[0])
    course = changed_course(comparison, 0, observed_pace([placed * quantity]))
    assert course.ways[1].days == days
    assert comparison.results[1].days == (2.0 if depth == "4 ft" else 3.0)
    pumped = rest_of(comparison.prepared[1], 1.0 - placed)
    whole = method_prices(comparison.prepared[1]).quantity[0]
    assert method_prices(pumped).quantity[0] == pytest.approx(whole * (1.0 - placed), rel=1e-12)


def test_hours_of_trucks_that_came_are_not_on_hand():
    haul = {"code": "010", "name": "Haul", "assembly": "hauling", "inputs": {"volume": "310 cy"},
            "methods": [{"name": name, "days": "4 day"} for name in ("one", "two")]}  # fmt: skip
    comparison = compare(scope_of(shipped(), {"30": [haul]}), shipped(), SPRING, "30.010")
    assert on_hand(comparison.prepared[0], "volume", 0.05) == ()
