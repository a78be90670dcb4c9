"""Alternates: totals with and without each; what contradicts is refused."""

from decimal import Decimal

import pytest

from estimator.errors import ScopeFaulty
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from tests.factories import SPRING, made_tables, scope_of


@pytest.fixture
def tables(tmp_path):
    return made_tables(tmp_path)


def lump(code, amount, **more):
    return {"code": code, "name": f"Work {code}", "lump_sum": {"amount": amount}, **more}


def taken_off(code, amount, alternate):
    return lump(code, "", alternate=alternate) | {"lump_sum": {"deduct": amount}}


ITEMS = [
    lump("010", "$10,000"),
    lump("020", "$5,000"),
    lump("030", "$7,800", alternate="A1"),
    taken_off("040", "$1,900", "A2"),
    lump("050", "$6,000", alternate="A3"),
]
A1 = {"code": "A1", "name": "Slate", "takes_out": ["70.020"]}
A2 = {"code": "A2", "name": "No paint"}
A3 = {"code": "A3", "name": "Copper", "takes_out": ["70.020"]}


def scope(tables, *alternates, items=ITEMS):
    return scope_of(tables, {"70": items}, markups=[], alternates=list(alternates))


def test_without_an_answer_the_totals_are_those_of_the_base(tables):
    """Show base 15,000; A1 +7,800 - 5,000; A2 -1,900; A3 +6,000 - 5,000."""
    estimate = price(scope(tables, A1, A2, A3), tables, SPRING)
    assert estimate.cash_cost == Decimal("15000.00")
    told = {one.code: (one.without, one.with_it, one.change) for one in estimate.alternates}
    assert told == {
        "A1": (Decimal(15000), Decimal(17800), Decimal(2800)),
        "A2": (Decimal(15000), Decimal(13100), Decimal(-1900)),
        "A3": (Decimal(15000), Decimal(16000), Decimal(1000)),
    }


def test_an_accepted_alternate_is_in_the_totals(tables):
    """Show 17,800 - 1,900 = 15,900 with both; A3 would stand in the place of A1."""
    yes = {"accepted": "yes"}
    estimate = price(scope(tables, A1 | yes, A2 | yes, A3), tables, SPRING)
    assert estimate.cash_cost == Decimal("15900.00")
    first, second, third = estimate.alternates
    assert (first.accepted, first.without, first.with_it) == (True, 13100, 15900)
    assert (second.without, second.with_it) == (17800, 15900)
    assert (third.accepted, third.in_place_of) == (False, ("A1",))
    assert (third.without, third.with_it) == (13100, 14100)


def test_markups_follow_an_alternate(tables):
    """Show overhead of 10 % on all: 15,000 + 1,500; with A2 13,100 + 1,310."""
    stated = scope_of(tables, {"70": ITEMS[:2] + ITEMS[3:4]}, markups=["overhead"], alternates=[A2])
    (one,) = price(stated, tables, SPRING).alternates
    assert (one.without, one.with_it) == (Decimal(16500), Decimal(14410))


def test_json_comes_back_with_the_alternates(tables):
    estimate = price(scope(tables, A1, A2, A3), tables, SPRING)
    assert estimate_from_json(estimate_json(estimate)) == printed_estimate(estimate)


def test_an_alternate_that_is_not_accepted_is_in_the_digest_too(tables):
    digests = {
        scope_digest(scope(tables, first, A2, A3))
        for first in (A1, A1 | {"name": "Tile"}, A1 | {"accepted": "yes"})
    }
    assert len(digests) == 3


@pytest.mark.parametrize(
    ("alternates", "sentence"),
    [
        ([A1 | {"accepted": "yes"}, A2, A3 | {"accepted": "yes"}],
         "alternates A1 and A3 are both accepted, and both take out 70.020; accept one of them"),
        ([A1, A2], "item 70.050 names the unknown alternate 'A3'; use one of 'A1', 'A2'"),
        ([A1, A2, A3 | {"takes_out": ["70.060"]}],
         "alternate A3 takes out '70.060', which is no item; did you mean '70.050'?"),
        ([A1, A2, A3 | {"takes_out": ["70.030"]}],
         "alternate A3 takes out 70.030, which is only in alternate A1; name an item of the base"),
        ([A1, A2, A3, {"code": "A4", "name": "Nothing"}],
         "alternate 'A4' changes nothing; name it in an item, as in alternate: A4, or list what "
         "it takes_out"),
        ([A1, A2, A3, A3], "repeats alternate 'A3'"),
        ([A1 | {"accepted": "perhaps"}, A2, A3], "unknown accepted 'perhaps'"),
        ([A1, A2, A3 | {"takes_out": ["70.010", "70.020"]},
          {"code": "A5", "name": "All", "accepted": "yes", "takes_out": ["70.010", "70.020"]}],
         "phase '70' has no item left once alternates are taken out; put the items of its "
         "alternates into a phase that has others"),
    ],
)  # fmt: skip
def test_alternates_that_contradict_are_refused(tables, alternates, sentence):
    with pytest.raises(ScopeFaulty) as refused:
        scope(tables, *alternates)
    assert any(sentence in str(one) for one in refused.value.faults), refused.value


def test_items_with_faults_are_there_for_alternates_all_the_same(tables):
    """Of an item that cannot be read the alternate is checked, and it may be taken out."""
    items = [lump("010", "$1,000"), lump("020", "-$5"), lump("030", "$fx", alternate="A9"),
             {"code": "040", "name": "W", "assembly": "nothing", "alternate": "A3"}]  # fmt: skip
    with pytest.raises(ScopeFaulty) as refused:
        scope(tables, A1, {"code": "A3", "name": "Copper"}, items=items)
    sentences = [str(one) for one in refused.value.faults]
    assert len(sentences) == 4
    assert sum("names the unknown alternate 'A9'" in one for one in sentences) == 1
    assert not any("is no item" in one or "changes nothing" in one for one in sentences)


def test_a_sum_is_deducted_by_an_alternate_only(tables):
    with pytest.raises(ScopeFaulty, match="deducts a sum and belongs to no alternate"):
        scope(tables, items=[ITEMS[0], {**ITEMS[1], "lump_sum": {"deduct": "$1,900"}}])
