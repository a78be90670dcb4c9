"""Items whose price stands in the scope: every fault at its place, with its remedy."""

from decimal import Decimal

import pytest

from estimator.errors import ScopeFaulty
from tests.factories import item, made_tables, scope_of

QUOTE = {
    "firm": "Millrace Electric", "amount": "$18,400", "date": "2026-02-20",
    "valid_until": "2026-05-20", "includes": ["service", "panel"], "excludes": ["fixtures"],
    "attachment": "bid.pdf", "days": "6 day", "credit": "yes",
}  # fmt: skip


@pytest.fixture
def tables(tmp_path):
    return made_tables(tmp_path)


def stated(tables, **more):
    (one,) = scope_of(tables, {"70": [{"code": "010", "name": "Power", **more}]}).items
    return one


def faults(tables, **more):
    with pytest.raises(ScopeFaulty) as refused:
        stated(tables, **more)
    return [str(one).partition(": ")[2] for one in refused.value.faults]


def without(key):
    return {name: value for name, value in QUOTE.items() if name != key}


def test_a_quote_is_read_with_all_that_it_says(tables):
    price = stated(tables, subcontract=QUOTE).stated
    assert (price.amount, price.kind, price.credit) == (Decimal("18400.00"), "subcontract", "yes")
    assert (price.firm, str(price.set_on), str(price.valid_until)) == (
        "Millrace Electric", "2026-02-20", "2026-05-20",
    )  # fmt: skip
    assert (price.includes, price.excludes, price.attachment) == (
        ("service", "panel"), ("fixtures",), "bid.pdf",
    )  # fmt: skip
    assert price.days.value == 6


def test_an_allowance_or_a_lump_sum_may_be_of_another_kind(tables):
    price = stated(tables, lump_sum={"amount": "$950.50", "kind": "fee"}).stated
    assert (price.amount, price.kind, price.credit) == (Decimal("950.50"), "fee", "ask")
    assert stated(tables, allowance={"amount": "$6,500"}).stated.kind == "subcontract"


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"subcontract": without("firm")}, "firm is missing"),
        ({"subcontract": without("date")}, "date, the day of the quote, is missing; ask the firm, "
         "or write the sum as a lump_sum"),
        ({"subcontract": without("valid_until")}, "valid_until, the last day on which the quote "
         "holds, is missing; ask the firm, or write the sum as a lump_sum"),
        ({"subcontract": without("amount")}, "item 70.010 gives no amount; write amount: "
         "\"$18,400\""),
        ({"subcontract": QUOTE | {"valid_until": "2026-02-19"}},
         "valid_until 2026-02-19 is before the date 2026-02-20"),
        ({"subcontract": QUOTE | {"date": "20.2.2026"}}, None),
        ({"subcontract": QUOTE | {"amount": "18,400"}}, None),
        ({"subcontract": QUOTE | {"amount": "$0"}}, None),
        ({"subcontract": QUOTE | {"amount": "$1.005"}}, "amount '$1.005' is not in whole cents"),
        ({"subcontract": QUOTE | {"attachment": "../bid.pdf"}},
         "attachment '../bid.pdf' is not the plain name of a file"),
        ({"subcontract": QUOTE | {"days": "0 day"}},
         "days '0 day' is not above 0 and at most 1,000"),
        ({"subcontract": QUOTE | {"days": "6"}}, None),
        ({"subcontract": QUOTE | {"credit": "perhaps"}}, None),
        ({"subcontract": QUOTE | {"kind": "fee"}}, None),
        ({"lump_sum": {"amount": "$5", "kind": "salvage"}}, None),
        ({"lump_sum": {"amount": "$5", "firm": "Millrace"}}, None),
        ({"allowance": {"deduct": "$5"}}, "item 70.010 deducts a sum and belongs to no alternate; "
         "name its alternate, as in alternate: A1"),
        ({"allowance": {"amount": "$5", "deduct": "$5"}}, None),
        ({"allowance": "$6,500"}, None),
        ({"allowance": {"amount": "$5"}, "crew": "gang"},
         "item 70.010 has both allowance and crew; keep one of them: an item has one price"),
        ({"allowance": {"amount": "$5"}, "lump_sum": {"amount": "$5"}},
         "item 70.010 has both lump_sum and allowance; keep one of them: an item has one price"),
    ],
)  # fmt: skip
def test_each_fault_of_a_stated_price_is_one_sentence(tables, more, sentence):
    told = faults(tables, **more)
    assert len(told) >= 1
    assert sentence is None or told == [sentence]


def test_all_faults_come_at_once_beside_those_of_other_items(tables):
    wrong = {"code": "010", "name": "Power", "subcontract": {"firm": "M", "amount": "?"}}
    with pytest.raises(ScopeFaulty) as refused:
        scope_of(tables, {"70": [wrong, item("020", "stone-fil")]})
    assert len(refused.value.faults) == 4
