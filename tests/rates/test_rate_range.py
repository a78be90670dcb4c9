from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import Faults, TablesFaulty
from estimator.quantity.units import unit
from estimator.rates.rate_range import RateRange, range_of, without_range
from estimator.rates.resources import ResourceRate, read_resources
from estimator.rates.rows import Origin
from tests.factories import write_folder

STONE = ResourceRate(
    "stone", "Stone", "material", unit("ton"), Decimal(24), Decimal(22), Decimal(30),
    date(2026, 1, 15), None, True, "invented", "", Origin("made", "resources.csv", 4),
)  # fmt: skip


def test_a_range_rises_from_low_over_likely_to_high():
    assert range_of(STONE) == RateRange(Decimal(22), Decimal(24), Decimal(30), has_range=True)


def test_a_side_that_is_empty_is_the_rate_itself():
    assert range_of(replace(STONE, low=None)) == RateRange(
        Decimal(24), Decimal(24), Decimal(30), has_range=True
    )
    assert range_of(replace(STONE, low=None, high=None)) == RateRange(
        Decimal(24), Decimal(24), Decimal(24), has_range=False
    )


@pytest.mark.parametrize(("low", "high"), [("25", "30"), ("22", "23")])
def test_a_rate_outside_of_its_range_is_refused_at_its_row(low, high):
    with pytest.raises(TablesFaulty, match=r"made resources.csv row 4: the rate 24 of stone lies"):
        range_of(replace(STONE, low=Decimal(low), high=Decimal(high)))


def test_a_range_that_is_no_number_is_refused():
    with pytest.raises(TablesFaulty, match="the range of stone is not all numbers"):
        range_of(replace(STONE, high=Decimal("NaN")))


def test_resources_without_range_are_named_but_not_those_per_dollar(tmp_path):
    common = {"name": "x", "date": "2026-01-01", "paid": "yes"}
    rows = [
        {"code": "sand", "kind": "material", "unit": "ton", "rate": "30", **common},
        {"code": "clay", "kind": "material", "unit": "ton", "rate": "9", "low": "8", **common},
        {"code": "permit", "kind": "fee", "unit": "$", "rate": "0.01", **common},
    ]
    folder = write_folder(tmp_path / "made", {"resources": rows})
    assert without_range(read_resources([folder], Faults())) == ("sand",)
