from datetime import date

import networkx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import PhaseOrderFaulty, RangeFaulty
from estimator.production.working_calendar import WorkingCalendar
from estimator.ranges.correlation import DEFAULT_CORRELATION, INDEPENDENT, ByGroups
from estimator.ranges.distributions import Fixed, Triangular, Uniform
from estimator.ranges.phase_dates import likely_dates, simulated_dates
from estimator.ranges.phase_order import PhaseDuration, working_order
from estimator.ranges.simulation import simulated_totals
from tests.ranges.jobs import alike

BARN = (
    PhaseDuration("10", Triangular(3, 4, 8)),
    PhaseDuration("20", Triangular(8, 10, 16), ("10",)),
    PhaseDuration("25", Triangular(6, 9, 14), ("10",)),
    PhaseDuration("30", Triangular(2, 3, 4), ("20", "25")),
)
CALENDAR, START = WorkingCalendar(), date(2026, 3, 2)


@st.composite
def networks(draw):
    """Return phases in any order, each waiting for some that come before it in another order."""
    count = draw(st.integers(1, 9))
    phases = [
        PhaseDuration(
            str(number),
            Fixed(draw(st.integers(0, 20))),
            tuple(str(before) for before in range(number) if draw(st.booleans())),
        )
        for number in range(count)
    ]
    return draw(st.permutations(phases))


@given(networks())
def test_the_finish_is_the_longest_path(phases):
    graph = networkx.DiGraph()
    for phase in phases:
        graph.add_edge(phase.code, "end", weight=phase.days.likely)
        graph.add_edges_from(
            (before, phase.code, {"weight": days_of(before, phases)}) for before in phase.after
        )
    longest = networkx.dag_longest_path_length(graph)
    assert likely_dates(phases).finish_days == longest
    assert simulated_dates(phases, iterations=100).finish_days.tolist() == [longest] * 100


def days_of(code, phases):
    return next(phase.days.likely for phase in phases if phase.code == code)


@given(networks())
def test_a_day_more_of_a_critical_phase_puts_off_the_finish_and_of_another_does_not(phases):
    found = likely_dates(phases)
    for number, phase in enumerate(phases):
        late = list(phases)
        late[number] = PhaseDuration(phase.code, Fixed(phase.days.likely + 0.5), phase.after)
        put_off = likely_dates(late).finish_days > found.finish_days
        assert put_off == (phase.code in found.critical)


@given(networks())
def test_the_working_order_has_each_phase_after_all_that_it_waits_for(phases):
    order, waits_for = working_order(phases)
    assert sorted(order) == list(range(len(phases)))
    for phase, before in enumerate(waits_for):
        assert all(order.index(one) < order.index(phase) for one in before)


def test_phases_that_follow_each_other_add_up():
    found = likely_dates(BARN)
    assert found.starts == {"10": 0.0, "20": 4.0, "25": 4.0, "30": 14.0}
    assert found.finishes == {"10": 4.0, "20": 14.0, "25": 13.0, "30": 17.0}
    assert found.critical == ("10", "20", "30")


def test_where_phases_run_side_by_side_the_job_is_later_than_their_likely_times():
    found = simulated_dates(BARN)
    assert found.likely.finish_days == 17.0
    assert found.percentile_days(0.5) > 18.0
    assert found.percentile_days(0.8) > found.percentile_days(0.5)
    assert found.percentile_days(0.5, "10") == pytest.approx(8 - np.sqrt(0.5 * 5 * 4), abs=1e-3)


def test_criticality_is_shared_by_phases_side_by_side():
    found = simulated_dates(BARN).criticality
    assert found["10"] == found["30"] == 1.0
    assert found["20"] + found["25"] == pytest.approx(1.0)
    assert found["20"] > found["25"] > 0.05


def test_the_same_seed_gives_the_same_bytes():
    one, same, other = (simulated_dates(BARN, seed=seed).finishes for seed in (1, 1, 2))
    assert one.tobytes() == same.tobytes() != other.tobytes()


def test_durations_that_move_together_spread_the_finish():
    chain = [PhaseDuration("0", Uniform(5, 15))] + [
        PhaseDuration(str(number), Uniform(5, 15), (str(number - 1),)) for number in range(1, 10)
    ]
    sds = [
        simulated_dates(chain, correlation=correlation).finish_days.std()
        for correlation in (INDEPENDENT, DEFAULT_CORRELATION, ByGroups(1.0))
    ]
    sd = 10 / np.sqrt(12)
    expected = [sd * np.sqrt(10), sd * np.sqrt(10 + 90 * 0.3), sd * 10]
    assert sds == pytest.approx(expected, rel=0.03)


def test_what_is_slow_is_dear_too():
    dates = simulated_dates(BARN, seed=7, iterations=1_000)
    totals = simulated_totals(alike(60, seed=7))
    found = np.corrcoef(dates.finish_days, totals.total_cents)[0, 1]
    assert found > 0.4
    alone = simulated_totals(alike(60, seed=7, correlation=INDEPENDENT))
    assert abs(np.corrcoef(dates.finish_days, alone.total_cents)[0, 1]) < 0.1


def test_days_become_dates_by_the_calendar():
    certain = simulated_dates([PhaseDuration("10", Fixed(2.5)), PhaseDuration("20", Fixed(0))])
    assert certain.percentile_date(0.5, CALENDAR, date(2026, 3, 5)) == date(2026, 3, 9)
    assert certain.percentile_date(0.8, CALENDAR, date(2026, 3, 7), "20") == date(2026, 3, 9)


def test_the_date_of_eighty_is_not_before_that_of_fifty():
    found = simulated_dates(BARN)
    half, sure = (found.percentile_date(share, CALENDAR, START) for share in (0.5, 0.8))
    assert date(2026, 3, 24) < half < sure


@pytest.mark.parametrize(
    ("after", "said"),
    [
        (
            {"10": ("30",), "20": ("10",), "30": ("20",)},
            "phase '10': waits for '30', which waits for '20', which waits for '10'; take one of "
            "them out of `after`",
        ),
        ({"10": ("10",)}, "phase '10': waits for itself"),
        ({"10": (), "20": ("11",)}, "phase '20': waits for '11', which is not a phase; use one of"),
    ],
)
def test_phases_that_cannot_be_done_are_refused(after, said):
    phases = [PhaseDuration(code, Fixed(1), before) for code, before in after.items()]
    with pytest.raises(PhaseOrderFaulty) as caught:
        likely_dates(phases)
    assert said in str(caught.value)


def test_every_loop_is_named_and_nothing_else():
    after = {"a": ("b",), "b": ("a",), "c": ("c",), "d": ("a",), "e": ()}
    phases = [PhaseDuration(code, Fixed(1), before) for code, before in after.items()]
    with pytest.raises(PhaseOrderFaulty) as caught:
        simulated_dates(phases)
    assert [one.where for one in caught.value.faults] == ["phase 'a'", "phase 'c'"]


def test_a_code_that_stands_twice_and_no_phase_at_all_are_refused():
    with pytest.raises(PhaseOrderFaulty, match="phase '10': is listed twice"):
        likely_dates([PhaseDuration("10", Fixed(1)), PhaseDuration("10", Fixed(2))])
    with pytest.raises(PhaseOrderFaulty, match="phases: are missing"):
        likely_dates([])


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: PhaseDuration("10", Uniform(-1, 2)), "phase '10', days: may be as few as -1"),
        (lambda: PhaseDuration("10", 5), "phase '10', days: are not a range"),
        (lambda: simulated_dates(BARN).percentile_days(0.5, "11"), "there is no phase '11'"),
        (lambda: simulated_dates(BARN).percentile_days(0.0), "0.0 is not above 0"),
        (lambda: simulated_dates(BARN, iterations=1), "iterations: 1 are too few"),
    ],
)
def test_durations_that_cannot_be_are_refused(make, said):
    with pytest.raises(RangeFaulty) as caught:
        make()
    assert said in str(caught.value)
