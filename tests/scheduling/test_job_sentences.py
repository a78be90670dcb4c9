"""What a schedule says in words of random jobs: tried against every order that there is."""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.scheduling.activities import Activity, Link
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.longest_path import critical_path
from estimator.scheduling.worked_days import UNITS_A_DAY, WorkedDays
from estimator.scheduling.worth_of_one_more import one_more
from tests.factories import made_tables
from tests.scheduling.test_job_dates import MONDAY, PLAIN, cut, estimate_of, phase

FEET_A_DAY, DAY_WORTH = 240, 310


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


@st.composite
def works(draw):
    """Return days and predecessors of up to five pieces of work, each of one pair of hands."""
    work = []
    for place in range(draw(st.integers(2, 5))):
        earlier = draw(st.sets(st.integers(0, place - 1), max_size=2)) if place else set()
        work.append((draw(st.integers(1, 4)), sorted(earlier)))
    return work


def shortest_days(work, hands):
    """Return the fewest days of all orders, each piece begun as early as its hands allow."""
    fewest = 99
    for order in permutations(range(len(work))):
        done, free = {}, [0] * hands
        for place in order:
            days, after = work[place]
            if any(other not in done for other in after):
                break
            free.sort()
            ready = max([0, *(done[other] for other in after)])
            taken = max((n for n in range(hands) if free[n] <= ready), default=0)
            done[place] = free[taken] = max(ready, free[taken]) + days
        else:
            fewest = min(fewest, max(done.values()))
    return fewest


def scheduled(tables, work, hands):
    phases = [
        phase(f"{place + 1}0", cut("010", days * FEET_A_DAY), after=[f"{n + 1}0" for n in after])
        for place, (days, after) in enumerate(work)
    ]
    estimate = estimate_of(tables, *phases, day_worth=f"${DAY_WORTH}/day")
    return estimate, job_schedule(estimate, PLAIN, MONDAY, {"owner-hand": hands})


@settings(max_examples=20, deadline=None)
@given(work=works(), hands=st.integers(1, 2))
def test_the_worth_of_one_more_is_what_all_orders_say(tables, work, hands):
    estimate, schedule = scheduled(tables, work, hands)
    fewest, with_one_more = shortest_days(work, hands), shortest_days(work, hands + 1)
    assert (schedule.days, schedule.is_shortest) == (fewest, True)
    (way,) = one_more(estimate, schedule)
    sooner = fewest - with_one_more
    assert (way.days, way.worth, way.is_proven) == (sooner, sooner * DAY_WORTH, True)
    assert way.finish == WorkedDays(PLAIN, MONDAY).last_day(with_one_more * UNITS_A_DAY)


@settings(max_examples=10, deadline=None)
@given(work=works(), hands=st.integers(1, 2))
def test_what_unlimited_crews_would_gain_is_what_hands_for_every_piece_gain(tables, work, hands):
    _, schedule = scheduled(tables, work, hands)
    gain = shortest_days(work, hands) - shortest_days(work, len(work))
    assert schedule.days - schedule.path_days == gain


@settings(max_examples=20, deadline=None)
@given(work=works(), hands=st.integers(1, 2))
def test_who_waits_could_begin_if_the_hands_it_waits_for_were_free(tables, work, hands):
    _, schedule = scheduled(tables, work, hands)
    ends = {one.code: one.begin_days + one.days for one in schedule.items}
    for one, (_, after) in zip(schedule.items, work, strict=True):
        ready = max([0.0, *(ends[f"{n + 1}0.010"] for n in after)])
        assert bool(one.waits_for) == (one.begin_days > ready)
        assert {ends[other] for other in one.waits_for} <= {one.begin_days}


@settings(max_examples=20, deadline=None)
@given(work=works(), hands=st.integers(1, 2))
def test_a_line_may_be_late_by_its_float_and_not_a_hundredth_of_a_day_more(tables, work, hands):
    _, schedule = scheduled(tables, work, hands)

    def end(late, by):
        hold = Activity("hold", "hold", round((late.begin_days + by) * UNITS_A_DAY))
        held = [
            Activity(one.code, one.name, one.length, (*one.links, Link("hold")), one.needs)
            if one.code == late.code
            else one
            for one in schedule.in_order
        ]
        return critical_path([hold, *held]).finish / UNITS_A_DAY

    for one in schedule.items:
        assert end(one, one.float_days) == schedule.days
        assert end(one, one.float_days + 0.01) == pytest.approx(schedule.days + 0.01)
        assert (one.code in schedule.chain) == one.is_critical
