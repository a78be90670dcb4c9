"""The sheet of measured points: readings beside limits, and none where nothing is measured."""

from datetime import datetime, timedelta
from decimal import Decimal
from io import BytesIO

from openpyxl import load_workbook

from estimator.tracking.books import Books
from estimator.tracking.job_track import track
from estimator.tracking.ledger_lines import settled_rows
from estimator.tracking.measured_points import MeasuredPoint, Reading
from estimator.workbook.tracking_workbook import tracking_bytes
from tests.tracking.rows import LATER, MONDAY, NOW, at
from tests.tracking.test_status import BUDGET


def written(books):
    report = track(books, BUDGET, LATER, NOW)
    return load_workbook(
        BytesIO(tracking_bytes(books, settled_rows(books.money), report, (), "Carbarn"))
    )


def test_each_point_has_its_readings_its_limits_and_a_chart():
    point = MeasuredPoint(1, MONDAY, at(MONDAY), "=level", "ft", least=Decimal("-1.5"))
    readings = [Reading(2, MONDAY, at(MONDAY), "=Level", Decimal("-0.4")),
                Reading(3, MONDAY + timedelta(1), at(MONDAY), "=level", Decimal(0))]  # fmt: skip
    sheet = written(Books(points=[point], readings=readings))["Points"]
    day = datetime(MONDAY.year, MONDAY.month, MONDAY.day)
    rows = [row[:4] for row in sheet.iter_rows(values_only=True)]
    assert (day, -0.4, -1.5, None) in rows
    assert (day + timedelta(1), 0, -1.5, None) in rows
    assert [
        cell.data_type for row in sheet.iter_rows() for cell in row if cell.value == "=level [ft]"
    ] == ["s"]
    (chart,) = sheet._charts
    assert [one.tx.v for one in chart.series] == ["reading", "at least"]


def test_without_points_there_is_no_such_sheet():
    assert "Points" not in written(Books()).sheetnames
