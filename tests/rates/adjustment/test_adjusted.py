from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import Faults, RateMissing
from estimator.quantity.units import unit
from estimator.rates.adjustment.adjusted_rates import (
    Adjustment,
    adjusted,
    escalated,
    localized,
    rates_in_force,
)
from estimator.rates.adjustment.index_series import MONTHLY, IndexPoint, IndexSeries
from estimator.rates.adjustment.location import LocationFactor
from estimator.rates.folders import TableFolder
from estimator.rates.resources import ResourceRate, read_resources
from estimator.rates.rows import Origin
from estimator.rates.written_folder import resources_text, write_folder
from tests.factories import write_folder as write_tables

LONGER = IndexSeries(
    "wages",
    "2025 = 100",
    MONTHLY,
    tuple(IndexPoint(date(2026, month, 1), Decimal(100 + month)) for month in (1, 3, 5, 6)),
    "survey of the county",
)
WAGES = IndexSeries(
    "wages",
    "2025 = 100",
    MONTHLY,
    (
        IndexPoint(date(2026, 1, 1), Decimal("106.2")),
        IndexPoint(date(2026, 6, 1), Decimal("109.4")),
    ),
    "survey of the county",
)
NORTH = {"labor": LocationFactor("North Bay", "labor", Decimal("1.11"), "wage survey")}
JUNE = date(2026, 6, 15)


def rate(code: str = "mason", amount: str = "58.00", **more: object) -> ResourceRate:
    cells: dict[str, object] = {
        "code": code, "name": code, "kind": "labor", "unit": unit("hr"), "rate": Decimal(amount),
        "low": Decimal(52), "high": None, "set_on": date(2026, 1, 15),
        "valid_until": date(2026, 3, 1), "is_paid": True, "source": "quote", "note": "by phone",
        "origin": Origin("shipped", "resources.csv", 7),
    }  # fmt: skip
    return ResourceRate(**{**cells, **more})  # type: ignore[arg-type]


def test_a_rate_is_escalated_from_its_own_date_and_says_how():
    (row,) = escalated([rate()], {"labor": WAGES}, JUNE)
    assert row.rate == Decimal("59.7477")
    assert row.low == Decimal("53.5669")
    assert row.high is None
    assert row.source == (
        "shipped resources.csv row 7, 58.00 x 1.030132 (wages, 2025 = 100, 2026-01 to 2026-06: "
        "survey of the county); first from: quote"
    )
    assert (row.set_on, row.valid_until, row.note) == (JUNE, None, "by phone")
    assert str(row.origin) == "adjusted resources.csv row 2"


def test_the_old_row_stays_as_it_was():
    old = rate()
    escalated([old], {"labor": WAGES}, JUNE)
    assert old == rate()


def test_the_printed_factor_gives_the_rate_on_a_pocket_calculator():
    (row,) = escalated([rate()], {"labor": WAGES}, JUNE)
    assert Decimal("58.00") * Decimal("1.030132") == Decimal("59.74765600")
    assert row.rate == Decimal("59.7477")


def test_a_rate_is_moved_to_another_place():
    (row,) = localized([rate()], NORTH, JUNE)
    assert row.rate == Decimal("64.3800")
    assert "58.00 x 1.11 (North Bay, labor: wage survey); first from" in row.source


def test_time_and_place_together_are_rounded_once():
    (row,) = adjusted(
        [rate(amount="30.0001", low=None)], Adjustment(JUNE, {"labor": WAGES}, None, NORTH)
    )
    # 30.0001 x 1.030132 x 1.11 = 34.30351; rounded after the first factor it would be 34.3036
    assert row.rate == Decimal("34.3035")
    assert "x 1.030132 (wages" in row.source
    assert "x 1.11 (North Bay" in row.source


def test_kinds_without_a_factor_are_left_to_the_old_set():
    sand = rate("sand", kind="material", unit=unit("ton"))
    assert [row.code for row in escalated([sand, rate()], {"labor": WAGES}, JUNE)] == ["mason"]


def test_kinds_without_an_index_follow_the_yearly_change():
    sand = rate("sand", "38.00", kind="material", unit=unit("ton"), low=None)
    (row,) = adjusted([sand], Adjustment(date(2027, 1, 1), {"labor": WAGES}, Decimal("0.05")))
    assert row.rate == Decimal("39.9000")
    assert "x 1.050000 (5 % a year, 2026-01 to 2027-01)" in row.source


def test_months_after_the_index_follow_the_yearly_change_and_say_so():
    (row,) = escalated([rate()], {"labor": WAGES}, date(2027, 6, 1), Decimal("0.04"))
    assert "2026-01 to 2027-06, 4 % a year after 2026-06: survey" in row.source
    assert row.rate == Decimal("62.1375")


@pytest.mark.parametrize(("day", "goes_on"), [(date(2026, 6, 30), False), (date(2026, 7, 1), True)])
def test_the_yearly_change_is_named_from_the_first_month_without_a_figure(day, goes_on):
    (row,) = escalated([rate()], {"labor": WAGES}, day, Decimal("0.04"))
    assert ("4 % a year after 2026-06" in row.source) is goes_on
    # 58.00 x 1.033504, a twelfth root of 1.04 more than 1.030132
    assert row.rate == (Decimal("59.9432") if goes_on else Decimal("59.7477"))


def test_the_yearly_change_goes_on_from_the_last_figure_there_is():
    (row,) = escalated([rate()], {"labor": LONGER}, date(2026, 6, 15), Decimal("0.04"))
    assert "4 % a year" not in row.source
    (row,) = escalated([rate()], {"labor": LONGER}, date(2026, 9, 1), Decimal("0.04"))
    assert "4 % a year after 2026-06" in row.source


def test_a_dollar_stays_a_dollar():
    permit = rate("permit", "0.0125", kind="fee", unit=unit("$"), low=None)
    assert adjusted([permit], Adjustment(JUNE, yearly_change=Decimal("0.05"))) == ()


def test_every_rate_that_an_index_does_not_reach_is_named():
    older = date(2025, 3, 1)
    with pytest.raises(RateMissing) as raised:
        escalated([rate("a", set_on=older), rate("b"), rate("c", set_on=older)],
                  {"labor": WAGES}, JUNE)  # fmt: skip
    assert [str(fault) for fault in raised.value.faults] == [
        f"shipped resources.csv row 7, {code}: index wages has no figure for 2025-03; the nearest "
        "that it has: 2026-01"
        for code in "ac"
    ]


def test_what_is_written_reads_back_as_it_was(tmp_path: Path):
    rows = adjusted(
        [rate("mason", is_paid=False), rate("rigger", "0.0125", high=Decimal("99.5"), low=None)],
        Adjustment(JUNE, {"labor": WAGES}, None, NORTH),
    )
    write_folder(tmp_path / "moved", {"resources.csv": resources_text(rows)})
    faults = Faults()
    table = read_resources([TableFolder("adjusted", tmp_path / "moved")], faults)
    assert faults.entries == []
    assert tuple(table.rows()) == rows


def test_the_rates_in_force_are_one_row_a_resource(tmp_path: Path):
    rows = [
        {"code": "sand", "name": "Sand", "kind": "material", "unit": "ton", "rate": price,
         "date": day, "paid": "yes"}
        for price, day in (("30", "2025-01-01"), ("32", "2026-01-01"), ("35", "2027-01-01"))
    ]  # fmt: skip
    later = [{**rows[0], "code": "gravel", "date": "2026-09-01"}]
    folder = write_tables(tmp_path / "made", {"resources": [*rows, *later]})
    in_force = rates_in_force(read_resources([folder], Faults()), date(2026, 6, 1))
    assert [(one.code, one.rate) for one in in_force] == [("sand", Decimal(32))]


@given(
    st.decimals("0.01", "5000", places=4),
    st.decimals("0", "1", places=3),
    st.decimals("1", "2", places=3),
)
def test_low_rate_and_high_keep_their_order(amount, below, above):
    low, high = (amount * below).quantize(Decimal("0.0001")), amount * above
    (row,) = localized(
        [rate(amount=str(amount), low=low, high=high.quantize(Decimal("0.0001")))], NORTH, JUNE
    )
    assert row.low is not None
    assert row.high is not None
    assert row.low <= row.rate <= row.high
