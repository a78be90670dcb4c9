"""The books of the sample open with one command, and say what the story says."""

from __future__ import annotations

import csv
import json
from decimal import Decimal

import pytest
from sqlalchemy import select

from api.commands.own_books import own_books
from api.ledger.rows import BookEntry
from tests.commands.running import groundsill

AS_OF = ("--as-of", "2026-06-14", "--known-on", "2026-06-14")


@pytest.fixture(scope="module")
def report(opened):
    return json.loads(groundsill("track", *AS_OF, "--json").out)


def test_the_sample_opens_once_and_says_that_it_is_invented(opened):
    assert "all of them invented" in opened
    assert "are open already" in groundsill("books", "demo").err


def test_incurred_is_the_same_by_code_by_phase_and_by_kind(report):
    for of in (report["codes"], report["phases"], report["kinds"].values()):
        assert sum(Decimal(one["incurred"]) for one in of) == Decimal(report["project"]["incurred"])


def test_the_rows_for_the_accountant_add_up_to_the_report(report, opened, tmp_path):
    assert groundsill("track", *AS_OF, "--rows", tmp_path / "rows.csv").exit_code == 0
    with (tmp_path / "rows.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for column in ("billed", "accrued", "paid", "open"):
        assert sum(Decimal(one[column]) for one in rows) == Decimal(report["project"][column])
    assert [one["accrued"] for one in rows if one["entry"] == "rent"] == ["760.00"]


def test_the_changes_draw_on_the_contingency_and_leave_the_budget_as_it_is(report):
    (contingency,) = [one for one in report["codes"] if one["code"] == "contingency"]
    assert contingency["changes"] == "-3844.25"
    assert report["project"]["changes"] == "0.00"


def test_the_bill_too_high_is_noted_when_it_is_posted(opened):
    with own_books() as (store, caller, _), store.reading(caller) as session:
        notes = [one for listed in session.scalars(select(BookEntry.notes)) for one in listed]
    assert len(notes) == 1
    assert notes[0].startswith("5 loads billed against 4 tickets; ")


def test_the_database_of_the_sample_verifies(opened):
    assert groundsill("database", "verify").exit_code == 0


def test_what_needs_attention_has_the_stone_the_crack_and_the_roller(report):
    sentences = " ".join(one["sentence"] for one in report["attention"])
    for words in ("30.020 Stone fill", "crack 3, north wall", "trench roller off by Monday"):
        assert words in sentences


def test_a_week_in_the_middle_stays_as_it_was(opened):
    shown = groundsill("track", "--as-of", "2026-05-01", "--known-on", "2026-05-01", "--json")
    assert json.loads(shown.out)["receipts"] == "0.00"


def test_the_life_of_a_blade_is_learned_and_the_documents_are_there(opened):
    """824.8 sf were wrecked with 20 blades, from 177.8 sf with 4 to 154.0 sf with 4."""
    told = json.loads(groundsill("rates", "learn", "--as-of", "2026-06-14", "--json").out)
    (life,) = [one for one in told["learned"] if one["what"] == "life"]
    assert (life["code"], life["observations"], life["mean"]) == ("20.020", 5, "41.2400")
    shown = groundsill("documents", "list").out
    assert shown.count("west pit, looking north") == 2
    assert "density-lift-1.pdf" in shown
