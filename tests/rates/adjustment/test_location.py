from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import RateMissing, TablesFaulty
from estimator.rates.adjustment.location import (
    LocationFactor,
    factors_against,
    factors_of,
    read_location_file,
)
from estimator.rates.kinds import KINDS

HEAD = "location,kind,factor,source\n"


def location_file(folder: Path, *rows: str) -> Path:
    path = folder / "places.csv"
    path.write_text(HEAD + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return path


def test_a_place_has_a_factor_by_kind_and_all_fills_the_others(tmp_path):
    path = location_file(tmp_path, "North Bay,all,1.02,survey", "North Bay,labor,1.11,wages")
    factors = factors_of(read_location_file(path), "North Bay")
    assert tuple(factors) == KINDS
    assert factors["labor"] == LocationFactor("North Bay", "labor", Decimal("1.11"), "wages")
    assert factors["haul"] == LocationFactor("North Bay", "haul", Decimal("1.02"), "survey")


def test_the_lowest_and_the_highest_factor_are_taken(tmp_path):
    path = location_file(tmp_path, "Low,labor,0.1,survey", "High,labor,10,survey")
    table = read_location_file(path)
    factors = [table[place]["labor"].factor for place in ("Low", "High")]
    assert factors == [Decimal("0.1"), Decimal(10)]


def test_kinds_that_nobody_surveyed_have_no_factor(tmp_path):
    path = location_file(tmp_path, "North Bay,labor,1.11,wages")
    assert tuple(factors_of(read_location_file(path), "North Bay")) == ("labor",)


def test_an_unknown_place_is_a_sentence_with_the_nearest_name(tmp_path):
    table = read_location_file(location_file(tmp_path, "North Bay,labor,1.11,wages"))
    with pytest.raises(RateMissing, match="place 'Nort Bay'; did you mean 'North Bay'"):
        factors_of(table, "Nort Bay")
    with pytest.raises(RateMissing, match="place 'Hill'"):
        factors_against(table, "North Bay", "Hill")


def test_rates_of_a_dear_place_fall_in_a_cheap_one(tmp_path):
    table = read_location_file(
        location_file(tmp_path, "Dear,labor,1.25,me", "Dear,haul,1,me", "Cheap,labor,0.9,me")
    )
    factors = factors_against(table, "Cheap", "Dear")
    assert {kind: one.factor for kind, one in factors.items()} == {"labor": Decimal("0.720000")}
    assert factors["labor"].location == "Cheap against Dear"


def test_everything_wrong_with_a_file_is_reported_at_once(tmp_path):
    path = location_file(
        tmp_path,
        "North Bay,labour,1.1,me",
        "North Bay,labor,0,me",
        "North Bay,labor,108,",
        "North Bay,haul,NaN,me",
        ",fee,1.1,me",
    )
    with pytest.raises(TablesFaulty) as raised:
        read_location_file(path)
    told = [str(fault) for fault in raised.value.faults]
    assert told[0] == (
        "location file places.csv row 2: kind 'labour' is not known; did you mean 'labor'?"
    )
    assert told[1] == (
        "location file places.csv row 3: factor 0 is not from 0.1 to 10; a place that is 8 % "
        "more expensive has the factor 1.08"
    )
    assert told[2].startswith("location file places.csv row 4: factor 108 is not from 0.1 to 10")
    assert told[3:] == [
        "location file places.csv row 4: source is missing",
        "location file places.csv row 4: repeats labor of 'North Bay'; keep one",
        "location file places.csv row 5: factor 'NaN' is not a plain number; write it as 1234.50",
        "location file places.csv row 6: location is missing",
    ]


def test_a_file_without_factors_is_refused(tmp_path):
    with pytest.raises(TablesFaulty, match=r"location file places.csv: holds no factor"):
        read_location_file(location_file(tmp_path))


@given(st.decimals("0.1", "10", places=6), st.decimals("0.1", "10", places=6))
def test_there_and_back_is_one_within_the_rounding_of_a_factor(here, there):
    table = {
        name: {"labor": LocationFactor(name, "labor", factor, "me")}
        for name, factor in (("here", here), ("there", there))
    }
    away = factors_against(table, "there", "here")["labor"].factor
    back = factors_against(table, "here", "there")["labor"].factor
    assert abs(away * back - 1) <= Decimal("0.0000005") * (away + back) + Decimal("1e-12")
