"""Saving against scrapping: the parts add up, and the recovery at which it pays."""

from decimal import Decimal

import pytest

from estimator.errors import MethodsFaulty
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.cost_difference import (
    is_save_or_scrap,
    parts_of_difference,
    save_or_scrap,
)
from estimator.studies.comparison.sentences import saving_sentence
from tests.factories import SPRING, scope_of
from tests.scope.methods.choices import pit_choice, sample_choice, shipped

SAVE = {
    "name": "saving", "kept": "sound_plank * (1 - sold_share)", "kept_as": "salvaged-plank",
}  # fmt: skip
SCRAP = {"name": "scrapping", "assembly": "plank-floor-wreck"}


def floor(*methods, **inputs):
    one = {
        "code": "010", "name": "Floor", "assembly": "plank-floor-salvage",
        "inputs": {"area": "800 sf", **inputs}, "methods": list(methods),
    }  # fmt: skip
    return compare(scope_of(shipped(), {"20": [one]}), shipped(), SPRING, "20.010")


def test_the_parts_add_up_to_the_difference_in_all():
    found = save_or_scrap(sample_choice("20.010"))
    assert sum(part.difference for part in found.parts) == found.scrap.in_all - found.save.in_all
    assert sum(part.first for part in found.parts) == found.save.in_all


def test_labor_blades_disposal_storage_and_what_is_kept_are_parts():
    found = save_or_scrap(sample_choice("20.010"))
    parts = {part.name: part for part in found.parts}
    # 1,900 sf x 2.75/12 x 0.70 x 12 = 3,657.5 bf at $3.40; storage $420; tipping avoided
    assert parts["kept for use"].first == Decimal("-12435.50")
    assert parts["fee"].first == Decimal("420.00")
    assert parts["labor"].difference < 0
    assert parts["disposal"].difference > 0
    assert parts["consumable"].difference > 0


def test_saving_pays_from_a_recovery_on():
    comparison = sample_choice("20.010")
    assert saving_sentence(comparison, save_or_scrap(comparison)) == (
        "taking up the boards for reuse beats wrecking the floor while recovery is between 61.84 "
        "and 95 % (as written: 70 %)"
    )


def test_where_old_plank_is_worth_little_saving_pays_at_no_recovery():
    comparison = floor(SAVE, SCRAP)
    assert saving_sentence(comparison, save_or_scrap(comparison)) == (
        "scrapping beats saving while recovery is between 0 and 95 % (as written: 65 %)"
    )


def test_where_saving_and_scrapping_cost_the_same_neither_is_said_to_pay():
    # the same work twice, one kept at no worth
    kept = {**SCRAP, "name": "saving", "kept": "0 * debris", "kept_as": "salvaged-plank"}
    comparison = floor(kept, SCRAP)
    assert saving_sentence(comparison, save_or_scrap(comparison, "thickness")).startswith(
        "while thickness is between 0.75 and 6 in, saving and scrapping cost the same, and least"
    )


def test_boards_that_are_sold_stand_among_the_parts_and_reduce_no_cash():
    found = save_or_scrap(floor(SAVE, SCRAP, sold_share="40 %"))
    parts = {part.name: part for part in found.parts}
    # 800 sf x 2.75/12 x 12 x 0.65 = 1,430 bf; 572 sold at $1.40, 858 kept at $1.85
    assert parts["sale of salvage"].first == Decimal("-800.80")
    assert found.save.cash == sum(found.save.by_kind.values()) + found.save.markups
    assert parts["kept for use"].first == Decimal("-1587.30")


def test_only_one_method_may_keep_what_it_takes_up():
    comparison = floor(SAVE, {**SAVE, "name": "also"}, SCRAP)
    assert not is_save_or_scrap(comparison)
    with pytest.raises(MethodsFaulty, match="keep what they take up: 2, that do not: 1"):
        save_or_scrap(comparison)
    with pytest.raises(MethodsFaulty, match="keep what they take up: 0, that do not: 3"):
        save_or_scrap(pit_choice())


def test_parts_that_neither_method_has_are_left_out():
    comparison = floor(SAVE, SCRAP)
    parts = parts_of_difference(*comparison.results)
    assert "subcontract" not in {part.name for part in parts}
    assert all(part.first or part.second for part in parts)


def test_what_the_second_method_keeps_and_sells_counts_against_its_cost():
    found = save_or_scrap(floor(SAVE, SCRAP, sold_share="40 %"))
    parts = {part.name: part for part in parts_of_difference(found.scrap, found.save)}
    assert parts["sale of salvage"].second == Decimal("-800.80")
    assert parts["kept for use"].second == Decimal("-1587.30")
    assert sum(part.difference for part in parts.values()) == found.save.in_all - found.scrap.in_all
