"""A search of the tables finds any part of a word, in all that can be named, with prices."""

from datetime import date
from decimal import Decimal

import pytest

from estimator.assemblies.table_search import CAUTION, CREW, RESOURCE, Price, search
from estimator.assemblies.table_search_json import matches_fields
from tests.factories import MADE, SPRING, made_tables, with_cells


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def found(tables, words, on=SPRING):
    return [(one.sort, one.code) for one in search(tables, words, on)]


def test_any_part_of_a_word_in_any_case_is_found(tables):
    assert ("assembly", "stone-fill") in found(tables, "ONE-FI")
    assert ("resource", "blade") in found(tables, "lad")


def test_several_words_must_all_be_there_in_any_order(tables):
    assert found(tables, "fill stone") == found(tables, "stone fill")
    assert found(tables, "stone xyzzy") == []


@pytest.mark.parametrize("words", ["", "   ", "xyzzy", "%", "\x00"])
def test_nothing_is_found_for_nothing(tables, words):
    assert found(tables, words) == []


def test_a_resource_has_its_rate_of_the_day(tmp_path):
    tables = made_tables(tmp_path, with_cells("resources", 2, date="2026-03-02"))
    row = MADE["resources"][0]
    (one,) = [one for one in search(tables, row["code"], SPRING) if one.sort == RESOURCE]
    assert one.prices == (Price(Decimal(row["rate"]), row["unit"], row["paid"] == "yes"),)
    (early,) = [
        one for one in search(tables, row["code"], date(2026, 3, 1)) if one.sort == RESOURCE
    ]
    assert (early.words, early.prices) == (row["name"], ())


def test_a_crew_has_the_sum_of_its_members(tables):
    (gang,) = [one for one in search(tables, "gang", SPRING) if one.sort == CREW]
    rates = {row["code"]: row for row in MADE["resources"]}
    members = [row for row in MADE["crews"] if row["crew"] == "gang"]
    assert gang.words == ", ".join(f"{row['number']} {row['resource']}" for row in members)
    assert sum(price.amount for price in gang.prices) == sum(
        Decimal(row["number"]) * Decimal(rates[row["resource"]]["rate"]) for row in members
    )


def test_cautions_are_found_by_their_sentence(tables):
    word = MADE["cautions"][0]["caution"].split()[-1].rstrip(".")
    assert (CAUTION, MADE["cautions"][0]["code"]) in found(tables, word)


def test_amounts_are_texts_for_other_programs(tables):
    fields = matches_fields(search(tables, "blade", SPRING), SPRING)
    assert fields["on"] == SPRING.isoformat()
    assert all(
        isinstance(price["amount"], str) for one in fields["matches"] for price in one["prices"]
    )
