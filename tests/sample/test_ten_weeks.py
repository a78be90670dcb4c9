"""The sample's ten weeks follow its estimate, tell their story, and are the same each time."""

from collections import Counter, defaultdict
from datetime import date
from decimal import Decimal
from functools import cache

import pytest

from estimator.opening import SAMPLE_SCOPE, open_scope
from estimator.pricing.printed_estimate import printed_estimate
from estimator.sample.ten_weeks import (
    DOCUMENT,
    LAST_DAY,
    REVERSAL,
    document_content,
    ten_weeks,
)
from estimator.scheduling.dated_estimate import price


@cache
def estimate():
    return printed_estimate(price(*open_scope(SAMPLE_SCOPE)))


@pytest.fixture(scope="module")
def entries():
    return ten_weeks(estimate())


@pytest.fixture(scope="module")
def by_row(entries):
    return {one.row: one for one in entries}


def of_kind(entries, kind):
    return [one.body for one in entries if one.kind == kind]


def test_a_seed_gives_the_same_entries_and_another_one_others(entries):
    assert ten_weeks(estimate()) == entries
    assert ten_weeks(estimate(), seed=7) != entries


def test_they_are_of_ten_weeks_in_the_order_of_entry(entries):
    assert [one.entered for one in entries] == sorted(one.entered for one in entries)
    days = [date.fromisoformat(one.body["happened"]) for one in entries]
    assert (min(days), (LAST_DAY - min(days)).days) == (date(2026, 4, 6), 69)
    assert max(days) <= LAST_DAY


def test_no_entry_is_of_a_day_after_it_was_entered(entries):
    assert [
        one for one in entries if one.body["happened"] > one.entered.date().isoformat()
    ] == []  # fmt: skip


def test_the_story_has_three_changes_a_surprise_a_credit_a_reversal_and_a_sale(entries):
    counted = Counter(one.kind for one in entries)
    assert (counted["changes"], counted[REVERSAL], counted["receipts"]) == (3, 1, 1)
    assert [one["document"] for one in of_kind(entries, "costs") if one.get("credit")] == ["C-19"]
    reasons = [one["reason"] for one in of_kind(entries, "changes")]
    assert "an old cistern under the east pit" in reasons


def test_one_bill_charges_a_load_that_no_ticket_has_and_the_credit_takes_it_back(entries, by_row):
    of_loads = [one for one in of_kind(entries, "costs") if "loads" in one]
    wrong = [one for one in of_loads if one["loads"] != len(one["tickets"])]
    assert [(one["document"], one["loads"] - len(one["tickets"])) for one in wrong] == [
        ("Q-1189", 1)
    ]
    tons = sum(Decimal(by_row[row].body["quantity"]) for row in wrong[0]["tickets"])
    assert Decimal(wrong[0]["quantity"]) - tons == Decimal("22.00")


def test_rows_that_are_named_are_of_the_right_kind(entries, by_row):
    for one in of_kind(entries, "payments"):
        assert by_row[one["cost"]].kind == "costs"
    for one in of_kind(entries, "costs"):
        assert {by_row[row].kind for row in one.get("tickets", [])} <= {"tickets"}
    for one in of_kind(entries, REVERSAL):
        assert by_row[one["number"]].body["document"] == "S-2207"


def test_the_work_waits_at_the_hold_until_it_is_passed(entries):
    (passed,) = of_kind(entries, "results")
    stone = [one for one in of_kind(entries, "progress") if one["code"] == "30.020"]
    before = [one for one in stone if one["happened"] <= passed["happened"]]
    assert max(Decimal(one["in_place"]) for one in before) < 60
    assert before[-1]["happened"] == "2026-05-20"
    assert passed["happened"] == "2026-05-27"


def test_hours_follow_the_labor_of_the_estimate(entries):
    """Joists over the west pit: 91.85 hours are estimated, and they take a twentieth more."""
    hours = sum(
        Decimal(one["hours"]) for one in of_kind(entries, "hours") if one["code"] == "20.030"
    )
    assert Decimal(90) < hours < Decimal(103)


def test_nobody_works_more_than_a_long_day(entries):
    days = defaultdict(Decimal)
    for one in of_kind(entries, "hours"):
        days[one["person"], one["happened"]] += Decimal(one["hours"])
    assert max(days.values()) <= Decimal(10)


def test_a_pdf_two_pictures_of_a_spot_and_blades_are_logged_without_money(entries, by_row):
    papers = of_kind(entries, DOCUMENT)
    assert [by_row[one["entry"]].kind for one in papers if "entry" in one] == ["results"]
    assert len({one["spot"] for one in papers if "spot" in one}) == 1
    assert [document_content(one["file"])[:4] for one in papers] == [b"%PDF", *2 * [b"\x89PNG"]]
    blades = [one for one in of_kind(entries, "stock") if one["material"] == "demolition blade"]
    used = sum(Decimal(one["quantity"]) for one in blades if one["move"] == "used")
    assert (used, len(blades)) == (20, 6)
