"""What is cheapest where, marked on a chart: as the sentences say, no label over another."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.colors import to_hex

from estimator.charts.drawing import house_style, new_axes
from estimator.charts.interval_marks import color_of, mark_intervals
from estimator.studies.comparison.break_even import cheapest_intervals
from estimator.studies.comparison.sentences import value_text
from estimator.studies.comparison.varied import varied_named
from tests.api.figures import figure
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, sample_choice


def marked(comparison, name, low, high):
    """Return the axes on which a range was marked, drawn once, and what was marked."""
    cheapest = cheapest_intervals(comparison, varied_named(comparison, name), low, high)
    with house_style():
        figure, axes = new_axes("title", "note")
        mark_intervals(axes, cheapest, 0.0, 1000.0)
        figure.draw_without_rendering()
    return axes, cheapest


def labels(axes):
    return [text for text in axes.texts if text.get_text() != "note"]


def overlapping(texts):
    boxes = [text.get_window_extent() for text in texts]
    return [(a, b) for a, b in combinations(range(len(boxes)), 2) if boxes[a].overlaps(boxes[b])]


def test_the_limits_that_the_sentences_name_and_the_value_as_written_are_marked():
    axes, cheapest = marked(sample_choice("30.020"), "depth", 2.0, 9.0)
    words = {text.get_text() for text in labels(axes)}
    limits = {value_text(cheapest.varied, one.last) for one in cheapest.intervals[:-1]}
    assert limits | {"as written 4.125 ft"} <= words


def test_the_strip_has_the_color_of_the_cheapest_and_shades_where_methods_take_turns():
    axes, cheapest = marked(sample_choice("30.020"), "depth", 2.0, 9.0)
    strips = [one for one in axes.patches if one.get_y() > 0.9]
    colors = [to_hex(one.get_facecolor()).lower() for one in strips]
    assert colors == [color_of(one.methods[0]).lower() for one in cheapest.intervals]
    by_turns = [one.is_by_turns for one in cheapest.intervals]
    assert [bool(one.get_hatch()) for one in strips] == by_turns
    assert len(axes.patches) - len(strips) == sum(by_turns)


@pytest.mark.parametrize(("low", "high"), [(90.0, 110.0), (99.9, 100.1), (60.0, 101.0)])
def test_a_tie_at_one_value_has_two_labels_one_below_the_other(low, high):
    twice = ({**BY_HAND, "name": "one", "mobilization": "$100"}, {**BY_HAND, "name": "other"})
    axes, _ = marked(pit_choice(*twice), "other: mobilization", low, high)
    assert {"$99.99", "$100.00"} <= {text.get_text() for text in labels(axes)}
    assert overlapping(labels(axes)) == []


@settings(max_examples=figure(20, 400))  # each is drawn twice
@given(
    st.sampled_from(["depth", "length", "laborer", "truck turnaround", "throw rate"]),
    st.floats(0.3, 0.99), st.floats(1.01, 3.0),
)  # fmt: skip
def test_no_label_lies_over_another_or_over_a_curve(name, below, above):
    comparison = pit_choice(DIG, THROW, BY_HAND)
    varied = varied_named(comparison, name)
    low, high = max(varied.base * below, varied.least), min(varied.base * above, varied.most)
    axes, _ = marked(comparison, name, low, high)
    assert overlapping(labels(axes)) == []
    top_of_curves = axes.transData.transform((0.0, 1000.0))[1]
    left, right = axes.get_window_extent().intervalx
    for text in labels(axes):
        box = text.get_window_extent()
        assert box.y0 >= top_of_curves
        assert left <= box.x0 <= box.x1 <= right
