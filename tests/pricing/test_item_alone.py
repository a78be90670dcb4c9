"""The working of a line leads to it, of an item that is looked at alone, and to no other line."""

import pytest

from estimator.pricing.explain import ItemExplainer, explanation_as_stored
from tests.workbook.estimates import sample_estimate


@pytest.fixture(scope="module")
def estimate():
    return sample_estimate()


def working(estimate, code):
    item = next(one for one in estimate.scope.items if one.code == code)
    return ItemExplainer(item, estimate.scope.shift, estimate.tables)


def test_the_working_of_each_item_leads_to_each_of_its_lines(estimate):
    for item in estimate.scope.items:
        alone = working(estimate, item.code)
        lines = estimate.lines_of(item.code)
        assert [alone.leads_to(line, estimate.on) for line in lines] == [True] * len(lines)


ONE_MORE = ("net", "waste", "ordered", "rate", "cents", "decimals", "line")


@pytest.mark.parametrize("field", ONE_MORE)
def test_a_line_that_is_one_off_is_not_what_the_working_leads_to(estimate, field):
    for line in estimate.lines_of("20.010"):
        other = line._replace(**{field: getattr(line, field) + 1})
        assert not working(estimate, "20.010").leads_to(other, estimate.on)


@pytest.mark.parametrize("field", ["item", "assembly", "resource", "name", "unit", "source"])
def test_a_line_of_other_words_is_not_what_the_working_leads_to(estimate, field):
    for line in estimate.lines_of("20.010"):
        other = line._replace(**{field: "other"})
        assert not working(estimate, "20.010").leads_to(other, estimate.on)


def test_what_is_only_known_as_stored_says_which_version_made_it(estimate):
    line = estimate.lines_of("20.010")[0]._replace(ordered=1250, decimals=2, cents=123)
    shown = explanation_as_stored(line, "version 0.0.9")
    assert shown.steps[0].startswith("12.50 ")
    assert shown.steps[0].endswith(" = $1.23")
    assert shown.steps[2] == (
        "priced with version 0.0.9 of the program; this one does not come to the same figures, so "
        "only what was stored is shown"
    )
