"""What is asked of a comparison, and the same as JSON and as sentences."""

import json

import numpy as np
import pytest

from estimator.errors import MeasureFaulty, MethodsFaulty
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.studies.comparison.sentences import (
    no_turning_sentence,
    turning_sentence,
    value_text,
)
from estimator.studies.comparison.varied import varied_named
from tests.scope.methods.choices import BY_HAND, pit_choice, sample_choice


def test_unasked_it_tells_what_would_change_the_choice_and_draws_the_nearest():
    found = findings_of(sample_choice("30.020"))
    assert found.turning
    assert found.curves.varied.name == found.turning[0].varied.name
    assert found.cost_map is None
    assert found.saving is None


def test_one_value_gives_a_curve_with_todays_value_in_it():
    found = findings_of(sample_choice("30.020"), (Variation("truck turnaround", "1 hr", "3 hr"),))
    assert (found.curves.values[0], found.curves.values[-1]) == (60.0, 180.0)
    assert 94.0 in found.curves.values


def test_two_values_give_a_map():
    found = findings_of(sample_choice("30.020"), (Variation("depth"), Variation("day worth")))
    assert found.cost_map.cheapest.shape == (60, 120)
    assert found.curves is None


def test_three_values_are_refused():
    with pytest.raises(MethodsFaulty, match="3 values are varied"):
        findings_of(
            sample_choice("30.020"), (Variation("depth"), Variation("width"), Variation("length"))
        )


def test_ends_are_measures_of_the_kind_of_the_value():
    with pytest.raises(MeasureFaulty, match="is a weight"):
        findings_of(sample_choice("30.020"), (Variation("depth", "3 ton"),))
    with pytest.raises(MethodsFaulty, match="from 5 to 2 ft is empty"):
        findings_of(sample_choice("30.020"), (Variation("depth", "5 ft", "2 ft"),))


def test_the_sentence_names_the_break_even_as_a_builder_says_it():
    comparison = sample_choice("30.020")
    found = findings_of(comparison, (Variation("truck turnaround", "1 hr", "3 hr"),))
    assert turning_sentence(comparison, found.turning[0]) == (
        "throwing it in by conveyor truck beats wheeling it in by skid steer while the truck's "
        "round trip stays under 1 hr 47.9 min (as written: 1 hr 34 min)"
    )


def test_a_limit_holds_as_it_is_printed():
    comparison = sample_choice("30.020")
    for point in findings_of(comparison).turning:
        words = turning_sentence(comparison, point)
        first = words.partition(" beats ")[0]
        shown = value_text(
            point.varied, point.below.value if " under " in words else point.above.value,
            "ROUND_FLOOR" if " under " in words else "ROUND_CEILING",
        )  # fmt: skip
        assert shown in words
        side = point.below if " under " in words else point.above
        assert comparison.prepared[side.method].method.name == first


def test_no_change_names_both_ends_in_a_sentence():
    comparison = sample_choice("30.020")
    values = np.array([1.0, 2.0])
    told = no_turning_sentence(
        comparison, cost_curves(comparison, varied_named(comparison, "depth"), values)
    )
    assert "is cheapest from 1 ft to 2 ft" in told
    assert told.count("against $") == 2


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("truck turnaround", 112.0, "1 hr 52 min"),
        ("truck turnaround", 119.97, "2 hr"),
        ("truck turnaround", 8.0, "8 min"),
        ("recovery", 0.618364, "61.84 %"),
        ("laborer", 36.0, "$36.00 per hr"),
        ("day worth", 1234.5, "$1,234.50"),
        ("area", 1900.0, "1,900 sf"),
        ("thickness", 0.000123, "0.0001 in"),
    ],
)
def test_values_read_as_they_are_said(name, value, words):
    item = "30.020" if "truck" in name else "20.010"
    assert value_text(varied_named(sample_choice(item), name), value) == words


def test_json_holds_money_and_quantities_as_decimal_strings():
    comparison = sample_choice("20.010")
    fields = json.loads(comparison_json(comparison, findings_of(comparison)))
    assert fields["form"] == 1
    assert fields["cheapest"] == "taking up the boards for reuse"
    first = fields["methods"][0]
    assert (first["in_all"], first["days"]) == ("7828.80", "11.88")
    assert fields["save_or_scrap"]["pays"]["above"]["value"].startswith("0.618")
    assert "from_here" not in fields
    assert "map" not in fields


def test_json_is_the_same_bytes_each_time_and_holds_all_that_was_asked():
    comparison = sample_choice("30.020")
    course = changed_course(comparison, 0, [38.0, 46.0])
    asked = (Variation("truck turnaround"), Variation("day worth"))
    texts = {comparison_json(comparison, findings_of(comparison, asked, course)) for _ in range(2)}
    assert len(texts) == 1
    fields = json.loads(texts.pop())
    assert fields["from_here"]["ways"][0]["under_way"] is True
    assert len(fields["map"]["cheapest"]) == 60
    curve = json.loads(comparison_json(comparison, findings_of(comparison, asked[:1])))["curves"]
    assert len(curve["values"]) == len(curve["in_all"]["wheeling it in by hand"])


def test_where_nothing_changes_the_choice_nothing_is_drawn():
    twice = ({**BY_HAND, "name": "one"}, {**BY_HAND, "name": "other", "mobilization": "$90,000"})
    found = findings_of(pit_choice(*twice))
    assert found.turning == ()
    assert found.curves is None
