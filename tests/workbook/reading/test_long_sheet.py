"""The cells of a long sheet, found without parsing, whoever wrote the file."""

from io import BytesIO
from zipfile import ZipFile

import pytest
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


def altered(content, before, after, **more):
    """Return a workbook with a text of its parts replaced by another, and with more parts."""
    changed = BytesIO()
    with ZipFile(BytesIO(content)) as archive, ZipFile(changed, "w") as new:
        for name in archive.namelist():
            new.writestr(name, archive.read(name).decode().replace(before, after))
        for name, part in more.items():
            new.writestr(f"xl/{name}.xml", part)
    return changed.getvalue()


def test_texts_and_numbers_are_found_by_their_column_and_blank_cells_are_not_there():
    content = saved(Other=[["x"]], Ledger=[["Row", "Party"], [], [7, WORDS, None, 12.5, "=1+1"]])
    assert list(long_sheet_rows(content, "ledger")) == [
        (1, {"A": "Row", "B": "Party"}),
        (3, {"A": "7", "B": "Muller & Sons <yard>\nback\r", "D": "12.5", "E": ""}),
    ]


@pytest.mark.parametrize(
    ("place", "text"),
    [("0", "Row"), ("1", ""), ("9" * 5_000, ""), ("0" * 9 + "9" * 10, ""), ("-1", "")],
)
def test_a_text_whose_place_in_the_list_there_is_none_is_empty(place, text):
    own, shared = 't="inlineStr"><is><t>Row</t></is>', "<sst><si><t>Row</t></si></sst>"
    cell = f't="s"><v>{place}</v>'
    content = altered(saved(Ledger=[["Row"]]), own, cell, sharedStrings=shared)
    assert list(long_sheet_rows(content, "Ledger")) == [(1, {"A": text})]


def test_a_letter_whose_number_no_letter_has_stays_as_it_was_written():
    spelled = f"&#{'9' * 5_000};"
    content = altered(saved(Ledger=[["Row"]]), ">Row<", f">{spelled}<")
    assert list(long_sheet_rows(content, "Ledger")) == [(1, {"A": spelled})]


def test_of_a_sheet_that_is_not_there_come_no_rows():
    assert list(long_sheet_rows(saved(Other=[["x"]]), "Ledger")) == []
