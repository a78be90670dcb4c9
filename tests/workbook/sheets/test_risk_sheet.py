"""The sheet of risk: its sums agree in another program, its charts stand on its cells."""

from io import BytesIO

import pytest
from openpyxl import load_workbook

from estimator.scheduling.dated_estimate import price
from estimator.studies.risk.job_risk import job_risk
from estimator.workbook.estimate_workbook import estimate_bytes, write_estimate
from tests.scope.methods.choices import sample
from tests.workbook.spreadsheet import recalculated


@pytest.fixture(scope="module")
def risk():
    scope, tables = sample()
    return job_risk(price(scope, tables, scope.on), iterations=500)


@pytest.fixture(scope="module")
def rows(risk, tmp_path_factory):
    folder = tmp_path_factory.mktemp("risk")
    write_estimate(risk.estimate, folder / "estimate.xlsx", risk)
    return recalculated(folder / "estimate.xlsx", folder / "lo")["How sure"]


def row_of(rows, words):
    return next(row for row in rows if len(row) > 1 and row[1] == words)


def test_contingency_adds_up_in_another_program(risk, rows):
    totals = row_of(rows, "Total")[2:5]
    alone = sum(risk.needed.alone_by_phase.values())
    expected = [risk.totals.estimate_cents, risk.needed.amount_cents, alone]
    assert list(totals) == pytest.approx([cents / 100 for cents in expected], abs=1e-9)


def test_percentiles_stand_above_the_estimate_by_what_they_say(risk, rows):
    for share, cents in risk.totals.percentiles().items():
        row = row_of(rows, f"P{share * 100:.0f}")
        above = (cents - risk.totals.estimate_cents) / 100
        assert row[2:4] == pytest.approx((cents / 100, above), abs=1e-9)


def test_the_sheet_stands_after_the_summary_only_if_it_is_requested(risk):
    with_risk = load_workbook(BytesIO(estimate_bytes(risk.estimate, risk))).sheetnames
    without = load_workbook(BytesIO(estimate_bytes(risk.estimate))).sheetnames
    assert with_risk == ["Summary", "How sure", *without[1:]]
    assert "How sure" not in without


def test_the_charts_are_drawn_from_cells_that_hold_the_curve_and_the_drivers(risk):
    sheet = load_workbook(BytesIO(estimate_bytes(risk.estimate, risk)))["How sure"]
    bars, curve = sheet._charts
    first = curve.series[0].xVal.numRef.f.rpartition("$C$")[0].rpartition("!")[2].strip("$C:")
    cells = [cell.value for cell in sheet["C"]]
    assert curve.series[0].xVal.numRef.f.startswith("'How sure'!$C$")
    assert risk.totals.sorted_cents[0] / 100 in cells
    assert bars.series[0].val.numRef.f.startswith("'How sure'!$E$")
    assert first.isdigit()
    step, ends = curve.x_axis.majorUnit, (curve.x_axis.scaling.min, curve.x_axis.scaling.max)
    assert [end % step for end in ends] == [0.0, 0.0]
    assert ends[0] <= risk.totals.sorted_cents[0] / 100
    assert ends[1] >= risk.totals.sorted_cents[-1] / 100
    assert cells[int(first) - 1] == pytest.approx(risk.totals.sorted_cents[0] / 100)


def test_the_same_seed_gives_the_same_bytes(risk):
    assert estimate_bytes(risk.estimate, risk) == estimate_bytes(risk.estimate, risk)
