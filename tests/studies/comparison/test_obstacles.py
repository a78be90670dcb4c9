"""A method whose machine does not pass the opening is priced, and nothing recommends it."""

import json

import pytest

from estimator.errors import MethodsFaulty
from estimator.pricing.pace_notes import pace_notes
from estimator.studies.comparison.break_even import (
    cheapest_intervals,
    what_would_change_the_choice,
)
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.studies.comparison.sentences import best_sentences, obstacle_sentences
from estimator.studies.comparison.varied import varied_named
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, pit_scope

DOOR = {"name": "wagon door", "width": "8 ft", "height": "9 ft"}
WIDE = {"name": "conveyor truck", "width": "8 ft 6 in", "height": "11 ft"}
NO_PASSAGE = (
    "the conveyor truck, 8 ft 6 in wide and 11 ft high, does not pass the wagon door, "
    "8 ft wide and 9 ft high"
)


def names(comparison, places):
    return {comparison.prepared[place].method.name for place in places}


def blocked():
    """Return a comparison whose cheapest and fastest way does not pass."""
    return pit_choice({**THROW, "machine": WIDE}, DIG, BY_HAND, opening=DOOR)


def test_the_cheapest_method_is_not_recommended_where_it_does_not_pass():
    plain = pit_choice(THROW, DIG, BY_HAND)
    assert plain.fastest.method.name == "throwing it in"
    comparison = blocked()
    assert comparison.results[0].in_all == plain.results[0].in_all
    assert comparison.competing == (1, 2)
    assert obstacle_sentences(comparison) == (f"Throwing it in cannot be done: {NO_PASSAGE}.",)
    assert not any("hrowing" in sentence for sentence in best_sentences(comparison))


def test_no_sentence_on_a_varied_value_speaks_for_what_does_not_pass():
    comparison = blocked()
    varied = varied_named(comparison, "depth")
    found = [cheapest_intervals(comparison, varied, 1.0, 8.0)]
    found += what_would_change_the_choice(comparison)
    for one in found:
        for interval in one.intervals:
            assert "throwing it in" not in names(comparison, interval.methods)


def test_curves_and_maps_name_only_what_passes():
    comparison = blocked()
    curves = findings_of(comparison, (Variation("depth"),)).curves
    assert curves is not None
    assert set(curves.cheapest.tolist()) <= {1, 2}
    assert all(set(curves.cheapest_at(row)) <= {1, 2} for row in range(len(curves.values)))
    cost_map = findings_of(comparison, (Variation("depth"), Variation("length"))).cost_map
    assert cost_map is not None
    assert set(cost_map.cheapest.ravel().tolist()) <= {1, 2}


def test_json_says_which_method_does_not_pass():
    comparison = blocked()
    fields = json.loads(comparison_json(comparison, findings_of(comparison)))
    assert [one["obstacle"] for one in fields["methods"]] == [NO_PASSAGE, "", ""]
    assert fields["fastest"] != "throwing it in"


def test_a_choice_without_any_method_that_passes_is_refused():
    with pytest.raises(MethodsFaulty, match="no method can be done: the conveyor truck"):
        pit_choice({**THROW, "machine": WIDE}, {**DIG, "machine": WIDE}, opening=DOOR)


def test_an_estimate_says_that_it_is_priced_by_what_does_not_pass():
    scope = pit_scope({**THROW, "machine": WIDE}, DIG, opening=DOOR)
    assert pace_notes(scope)[0] == (
        f"30.010 is priced by 'throwing it in', which cannot be done: {NO_PASSAGE}"
    )
    passing = pit_scope(THROW, DIG, opening=DOOR)
    assert not any("cannot" in note for note in pace_notes(passing))
