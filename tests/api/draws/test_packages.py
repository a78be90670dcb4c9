"""The package of a draw over HTTP: for the owner and the lender, from what was frozen."""

from __future__ import annotations

import csv
import io

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from tests.api.draws.made import lent, settled, submitted

FILES = {
    "workbook": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "pages.pdf": "application/pdf",
    "lines.csv": "text/csv; charset=utf-8",
}


@pytest.fixture
def draw(embedded):
    project = lent(embedded)
    shown = submitted(embedded, project)
    settled(embedded, project, shown)
    return f"{project}/draws/{shown['id']}", shown


def test_the_owner_downloads_the_draw_as_it_was_granted(embedded, draw):
    at, shown = draw
    answers = {name: embedded.get(f"{at}/{name}") for name in FILES}
    assert {name: one.headers["Content-Type"] for name, one in answers.items()} == FILES
    assert 'filename="draw-01.pdf"' in answers["pages.pdf"].headers["Content-Disposition"]
    cover = PdfReader(io.BytesIO(answers["pages.pdf"].data)).pages[0].extract_text()
    assert "Requested 1,386.72" in cover
    assert f"State: funded, digest {shown['digest']}." in cover
    assert "Funded on 2026-03-02" in cover
    rows = list(csv.DictReader(io.StringIO(answers["lines.csv"].text)))
    assert [(one["line"], one["billed"], one["retainage"]) for one in rows[:2]] == [
        ("1", "0.00", "0.00"), ("2", "1540.80", "154.08"),
    ]  # fmt: skip
    book = load_workbook(io.BytesIO(answers["workbook"].data), data_only=True)
    assert [
        row[1] for row in book["Cover"].iter_rows(values_only=True) if row[0] == "Requested"
    ] == [1386.72]
