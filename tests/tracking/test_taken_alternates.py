"""An alternate that is taken later: the parts of its change."""

import pytest

from estimator.errors import LedgerFaulty
from estimator.money import to_cents
from estimator.opening import SAMPLE_SCOPE, open_scope
from estimator.scheduling.dated_estimate import price
from estimator.tracking.taken_alternates import alternate_parts


@pytest.fixture(scope="module")
def sample():
    return open_scope(SAMPLE_SCOPE)


@pytest.mark.parametrize("code", ["A1", "A2"])
def test_its_parts_add_up_to_what_the_estimate_says_it_changes(sample, code):
    (said,) = [one for one in price(*sample).alternates if one.code == code]
    parts = alternate_parts(*sample, code)
    assert sum(sum(one.cents_by_kind.values()) for one in parts) == to_cents(said.change)
    assert said.change


def test_an_item_that_comes_in_or_goes_out_whole_changes_no_quantity_of_its_code(sample):
    quantities = {one.code: one.quantity for one in alternate_parts(*sample, "A1")}
    assert (quantities["10.050"], quantities["10.060"]) == (0, 0)


def test_one_that_is_not_there_is_refused(sample):
    with pytest.raises(LedgerFaulty, match="the scope has no alternate 'A3'"):
        alternate_parts(*sample, "A3")
