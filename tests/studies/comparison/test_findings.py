"""What is asked of a comparison, and the same as JSON and as sentences."""

import json
from decimal import Decimal

import pytest

from estimator.errors import MeasureFaulty, MethodsFaulty
from estimator.production.placed_so_far import observed_pace
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.studies.comparison.sentences import (
    best_sentences,
    changing_words,
    cheapest_sentences,
    span_text,
    step_sentence,
    value_text,
)
from estimator.studies.comparison.varied import varied_named
from tests.scope.methods.choices import BY_HAND, pit_choice, sample_choice


def test_unasked_it_tells_what_would_change_the_choice_and_draws_the_nearest():
    found = findings_of(sample_choice("30.020"))
    assert not found.is_varied
    assert found.curves.varied.name == found.cheapest[0].varied.name
    assert found.cost_map is None
    assert found.saving is None


def test_one_value_gives_a_curve_with_todays_value_in_it():
    found = findings_of(sample_choice("30.020"), (Variation("truck turnaround", "45 min", "2 hr"),))
    assert (found.curves.values[0], found.curves.values[-1]) == (45.0, 120.0)
    assert 95.0 in found.curves.values


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


def test_a_sentence_for_each_interval_names_both_of_its_ends():
    comparison = sample_choice("30.020")
    found = findings_of(comparison, (Variation("truck turnaround", "45 min", "2 hr"),))
    assert cheapest_sentences(comparison, found.cheapest[0]) == (
        "while the truck's round trip stays between 45 min and 1 hr 48.8 min, throwing it in by "
        "conveyor truck is cheapest",
        "while the truck's round trip stays between 1 hr 48.9 min and 2 hr, lowering it in by "
        "telehandler is cheapest",
    )
    assert step_sentence(found.cheapest[0]) == "priced at every 0.1 min; as written: 1 hr 35 min"


def test_of_a_count_every_whole_number_is_priced():
    comparison = sample_choice("20.010")
    found = findings_of(comparison, (Variation("spikes_per_crossing"),))
    assert step_sentence(found.cheapest[0]) == "priced at every whole number; as written: 2"


def test_unasked_the_limits_of_now_are_named_with_what_is_beside_them():
    comparison = sample_choice("30.020")
    (found,) = (one for one in findings_of(comparison).cheapest if one.varied.name == "throw rate")
    words = changing_words(comparison, found)
    assert words.answer == "throwing it in by conveyor truck is cheapest"
    assert words.condition == "throw rate is between 58.5 and 200 ton/hr (as written: 100 ton/hr)"
    assert words.beside == "between 50 and 58.4 ton/hr lowering it in by telehandler is cheapest"


def test_methods_that_cost_the_same_or_take_as_long_are_all_named():
    comparison = pit_choice(*({**BY_HAND, "name": name} for name in ("one", "two", "three")))
    assert best_sentences(comparison) == (
        f"Lowest total cost: one, two and three, ${comparison.cheapest.in_all:,}.",
        "Fastest: one, two and three, 3.60 days.",
    )


@pytest.mark.parametrize(
    ("name", "first", "last", "words"),
    [
        ("truck turnaround", "50", "112", "between 50 min and 1 hr 52 min"),
        ("truck turnaround", "60", "112.5", "between 1 hr and 1 hr 52.5 min"),
        ("truck turnaround", "50", "52", "between 50 and 52 min"),
        ("recovery", "0.618", "0.95", "between 61.8 and 95 %"),
        ("laborer", "18", "44.97", "between $18.00 and $44.97 per hr"),
        ("day worth", "0", "1234.5", "between $0.00 and $1,234.50"),
        ("area", "50", "1900", "between 50 and 1,900 sf"),
        ("area", "1234.56", "1234.56", "1,234.56 sf"),
        ("spikes_per_crossing", "2", "2", "2"),
        ("spikes_per_crossing", "1", "4", "between 1 and 4"),
        ("diesel", "0.0425", "0.9", "between $0.0425 and $0.90 per gal"),
    ],
)
def test_a_range_reads_as_it_is_said_and_exactly(name, first, last, words):
    item = "30.020" if name in ("truck turnaround", "diesel") else "20.010"
    varied = varied_named(sample_choice(item), name)
    assert span_text(varied, Decimal(first), Decimal(last)) == words


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("truck turnaround", 112.0, "1 hr 52 min"),
        ("truck turnaround", 119.97, "2 hr"),
        ("truck turnaround", 75.26, "1 hr 15.3 min"),
        ("truck turnaround", 59.994, "59.99 min"),
        ("truck turnaround", 8.0, "8 min"),
        ("recovery", 0.618364, "61.84 %"),
        ("laborer", 36.0, "$36.00 per hr"),
        ("day worth", 1234.5, "$1,234.50"),
        ("area", 1900.0, "1,900 sf"),
        ("area", 61.234, "61.23 sf"),
        ("thickness", 0.000123, "0.0001 in"),
    ],
)
def test_values_read_as_they_are_said(name, value, words):
    item = "30.020" if "truck" in name else "20.010"
    assert value_text(varied_named(sample_choice(item), name), value) == words


def test_json_holds_money_and_quantities_as_decimal_strings():
    comparison = sample_choice("20.010")
    fields = json.loads(comparison_json(comparison, findings_of(comparison)))
    assert fields["form"] == 2
    assert fields["cheapest"] == "taking up the boards for reuse"
    first = fields["methods"][0]
    assert (first["in_all"], first["days"]) == ("7828.80", "11.88")
    below, above = fields["save_or_scrap"]["break_even"]["intervals"]
    assert (below["to"], above["from"], above["to"]) == ("0.6183", "0.6184", "0.9500")
    assert above["methods"] == ["taking up the boards for reuse"]
    assert "from_here" not in fields
    assert "map" not in fields


def test_json_is_the_same_bytes_each_time_and_holds_all_that_was_requested():
    comparison = sample_choice("30.020")
    course = changed_course(comparison, 1, observed_pace([38.0, 46.0]))
    asked = (Variation("truck turnaround"), Variation("day worth"))
    texts = {comparison_json(comparison, findings_of(comparison, asked, course)) for _ in range(2)}
    assert len(texts) == 1
    fields = json.loads(texts.pop())
    assert fields["from_here"]["ways"][1]["under_way"] is True
    assert len(fields["map"]["cheapest"]) == 60
    curve = json.loads(comparison_json(comparison, findings_of(comparison, asked[:1])))["curves"]
    assert len(curve["values"]) == len(curve["in_all"]["wheeling it in by hand"])


def test_where_nothing_changes_the_choice_nothing_is_drawn():
    twice = ({**BY_HAND, "name": "one"}, {**BY_HAND, "name": "other", "mobilization": "$90,000"})
    found = findings_of(pit_choice(*twice))
    assert found.cheapest == ()
    assert found.curves is None
