"""Project quotes over regional over shipped tables: which row prices a resource."""

from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import Faults, RateMissing
from estimator.quantity.units import unit
from estimator.rates.densities import read_densities
from estimator.rates.precision import read_unit_precision
from estimator.rates.resources import read_resources
from tests.factories import write_folder

STONE = {"code": "stone", "name": "Stone", "kind": "material", "unit": "ton", "paid": "yes"}


def stone(rate, set_on, **more):
    return STONE | {"rate": rate, "date": set_on} | more


def rates_of(path, **sets):
    folders = [
        write_folder(path / name, {"resources": rows}, name=name) for name, rows in sets.items()
    ]
    faults = Faults()
    rates = read_resources(folders, faults)
    assert not faults.entries
    return rates


def test_the_newest_row_not_later_than_the_day_wins(tmp_path):
    rates = rates_of(
        tmp_path,
        shipped=[stone("26", "2026-03-01"), stone("24", "2025-01-15"), stone("25", "2026-01-15")],
    )
    priced = {
        day: rates.rate_on("stone", date.fromisoformat(day)).rate
        for day in ("2025-01-15", "2026-01-14", "2026-01-15", "2026-02-28", "2026-03-01")
    }
    assert priced == {
        "2025-01-15": Decimal(24),
        "2026-01-14": Decimal(24),
        "2026-01-15": Decimal(25),
        "2026-02-28": Decimal(25),
        "2026-03-01": Decimal(26),
    }


def test_an_older_quote_of_a_higher_set_wins_over_a_newer_shipped_row(tmp_path):
    rates = rates_of(
        tmp_path,
        shipped=[stone("26", "2026-03-01")],
        regional=[stone("25", "2025-06-01")],
        quotes=[stone("23", "2024-01-01")],
    )
    found = rates.rate_on("stone", date(2026, 4, 1))
    assert found.rate == Decimal(23)
    assert str(found.origin) == "quotes resources.csv row 2"


def test_a_higher_set_that_begins_later_leaves_earlier_days_to_the_lower(tmp_path):
    rates = rates_of(
        tmp_path, shipped=[stone("24", "2025-01-15")], quotes=[stone("30", "2026-02-01")]
    )
    assert rates.rate_on("stone", date(2026, 1, 31)).rate == Decimal(24)
    assert rates.rate_on("stone", date(2026, 2, 1)).rate == Decimal(30)


def test_a_quote_that_ran_out_still_prices_and_says_so(tmp_path):
    rates = rates_of(
        tmp_path,
        shipped=[stone("24", "2025-01-15")],
        quotes=[stone("30", "2026-02-01", valid_until="2026-02-28")],
    )
    found = rates.rate_on("stone", date(2026, 4, 1))
    assert found.rate == Decimal(30)
    assert not found.has_expired(date(2026, 2, 28))
    assert found.has_expired(date(2026, 3, 1))


def test_a_rate_before_its_first_day_is_missing_and_not_zero(tmp_path):
    rates = rates_of(tmp_path, shipped=[stone("24", "2026-01-15"), stone("25", "2026-03-01")])
    with pytest.raises(RateMissing) as refusal:
        rates.rate_on("stone", date(2026, 1, 14))
    assert str(refusal.value) == (
        "resource 'stone' has no rate on 2026-01-14; its first is of 2026-01-15; "
        "add a row with an earlier date, or price on a later day"
    )


def test_an_unknown_resource_is_missing_and_not_zero(tmp_path):
    rates = rates_of(tmp_path, shipped=[stone("24", "2026-01-15")])
    with pytest.raises(RateMissing) as refusal:
        rates.rate_on("stome", date(2026, 4, 1))
    assert str(refusal.value) == "resource 'stome' is in no table; did you mean 'stone'?"


def test_salvage_is_never_paid_whatever_its_row_says(tmp_path):
    rates = rates_of(
        tmp_path,
        shipped=[stone("24", "2026-01-15"), stone("9", "2026-01-15", code="sold", kind="salvage")],
    )
    assert rates.rate_on("stone", date(2026, 4, 1)).is_paid
    assert not rates.rate_on("sold", date(2026, 4, 1)).is_paid


def test_all_rows_can_be_listed_by_code_in_rising_preference(tmp_path):
    rates = rates_of(
        tmp_path,
        shipped=[
            stone("26", "2026-03-01"),
            stone("24", "2025-01-15"),
            stone("1", "2025-01-15", code="ash"),
        ],
        quotes=[stone("23", "2024-01-01")],
    )
    assert [(row.code, str(row.rate)) for row in rates.rows()] == [
        ("ash", "1"), ("stone", "24"), ("stone", "26"), ("stone", "23"),
    ]  # fmt: skip
    assert rates.codes == ("ash", "stone")
    assert "stone" in rates
    assert "stome" not in rates
    assert rates.unit_of("stone") == unit("ton")


def test_the_highest_density_of_a_material_wins(tmp_path):
    rows = {"material": "stone", "unit": "ton/cy", "state": "in place"}
    low = write_folder(tmp_path / "a", {"densities": [rows | {"density": "1.35"}]}, "shipped")
    high = write_folder(tmp_path / "b", {"densities": [rows | {"density": "1.4"}]}, "quotes")
    faults = Faults()
    found = read_densities([low, high], faults)["stone"]
    assert (found.density, found.origin.tables) == (Decimal("1.4"), "quotes")
    assert not faults.entries


def test_the_highest_precision_of_a_unit_wins_and_unlisted_units_print_two_decimals(tmp_path):
    low = write_folder(tmp_path / "a", {"unit_precision": [{"unit": "ton", "decimals": "1"}]}, "a")
    high = write_folder(
        tmp_path / "b", {"unit_precision": [{"unit": "tons", "decimals": "3"}]}, "b"
    )
    faults = Faults()
    precision = read_unit_precision([low, high], faults)
    assert (precision.of(unit("ton")), precision.of(unit("cy"))) == (3, 2)
    assert not faults.entries
