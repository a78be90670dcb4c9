"""The longest path, against networkx, and its floats."""

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import PhaseOrderFaulty
from estimator.scheduling.activities import START, Activity, Link
from estimator.scheduling.longest_path import critical_path


@st.composite
def networks(draw, most=14):
    """Return activities that wait only for earlier ones."""
    activities = []
    for i in range(draw(st.integers(1, most))):
        earlier = draw(st.sets(st.integers(0, i - 1), max_size=3)) if i else set()
        links = tuple(Link(str(j), draw(st.integers(0, 5))) for j in sorted(earlier))
        activities.append(Activity(str(i), f"work {i}", draw(st.integers(0, 9)), links))
    return activities


@given(networks())
def test_the_job_is_as_long_as_the_longest_path_of_networkx(activities):
    length = {one.code: one.length for one in activities}
    graph = networkx.DiGraph()
    graph.add_node("begin")
    for one in activities:
        graph.add_edge("begin", one.code, weight=0)
        graph.add_edge(one.code, "end", weight=one.length)
        for link in one.links:
            graph.add_edge(link.after, one.code, weight=length[link.after] + link.wait)
    longest = networkx.dag_longest_path_length(graph)
    assert critical_path(activities).finish == longest


@given(networks(), st.data())
def test_using_up_the_float_moves_nothing_and_one_more_puts_off_the_end(activities, data):
    table = critical_path(activities)
    late = data.draw(st.sampled_from(activities))
    spare = table.total_float[late.code]

    def with_delay(units):
        first = Activity("delay", "delay", table.starts[late.code] + units)
        link = Link("delay")
        changed = [
            Activity(one.code, one.name, one.length, (*one.links, link)) if one is late else one
            for one in activities
        ]
        return critical_path([first, *changed])

    finishes = with_delay(spare).finishes
    assert max(end for code, end in finishes.items() if code != "delay") == table.finish
    assert with_delay(spare + 1).finish == table.finish + 1


@given(networks())
def test_a_wait_of_zero_changes_nothing_and_a_longer_one_never_ends_sooner(activities):
    def waiting(more):
        return [
            Activity(one.code, one.name, one.length,
                     tuple(Link(k.after, k.wait + more) for k in one.links))
            for one in activities
        ]  # fmt: skip

    assert critical_path(waiting(0)) == critical_path(activities)
    assert critical_path(waiting(2)).finish >= critical_path(activities).finish


def test_what_begins_with_another_overlaps_it():
    """Masonry may begin two days after the joists begin; it does not wait for their end."""
    joists = Activity("joists", "Joists", 6)
    masonry = Activity("masonry", "Masonry", 5, (Link("joists", 2, START),))
    table = critical_path([joists, masonry])
    assert (table.starts["masonry"], table.finish) == (2, 7)
    assert table.total_float == {"joists": 0, "masonry": 0}


def test_a_circle_is_named_and_faults_come_together():
    circle = [Activity("a", "", 1, (Link("b"),)), Activity("b", "", 1, (Link("a"),))]
    with pytest.raises(PhaseOrderFaulty, match="circle: a waits for b waits for a; cut one"):
        critical_path(circle)
    with pytest.raises(PhaseOrderFaulty) as caught:
        critical_path([Activity("a", "", -1, (Link("x", -2),)), Activity("a", "", 1)])
    assert len(caught.value.faults) == 4


def test_no_work_takes_no_time():
    assert critical_path([]).finish == 0
