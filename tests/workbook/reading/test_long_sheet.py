"""The cells of a long sheet, found without parsing, whoever wrote the file."""

from io import BytesIO

from openpyxl import Workbook

from estimator.workbook.reading.long_sheet import long_sheet_rows

WORDS = "Muller & Sons <yard>\nback_x000D_"


def saved(**sheets):
    workbook = Workbook()
    for title, rows in sheets.items():
        sheet = workbook.create_sheet(title)
        for row in rows:
            sheet.append(row)
    content = BytesIO()
    workbook.save(content)
    return content.getvalue()


def test_texts_and_numbers_are_found_by_their_column_and_blank_cells_are_not_there():
    content = saved(Other=[["x"]], Ledger=[["Row", "Party"], [], [7, WORDS, None, 12.5, "=1+1"]])
    assert list(long_sheet_rows(content, "ledger")) == [
        (1, {"A": "Row", "B": "Party"}),
        (3, {"A": "7", "B": "Muller & Sons <yard>\nback\r", "D": "12.5", "E": ""}),
    ]


def test_of_a_sheet_that_is_not_there_come_no_rows():
    assert list(long_sheet_rows(saved(Other=[["x"]]), "Ledger")) == []
