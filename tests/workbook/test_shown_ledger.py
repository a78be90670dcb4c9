"""The sheet of the ledger as it comes back shows what was written, to the cent."""

from datetime import UTC, date, datetime
from io import BytesIO

from openpyxl import load_workbook

from estimator.tracking.ledger_lines import LedgerLine
from estimator.tracking.spent import Spent
from estimator.workbook.sheets.ledger_sheet import TITLE, write_ledger
from estimator.workbook.shown_ledger import first_difference, shown_ledger, values_of
from estimator.workbook.writing.book import Book, PageSetup

DAY, AT = date(2026, 3, 2), datetime(2026, 3, 2, tzinfo=UTC)
BILL = LedgerLine(
    7, DAY, AT, "bill", "Ridge & Son", "=Q-1", "two\r\nloads", ("30.020", "material"),
    Spent(154_080, 0, 33),
)  # fmt: skip
RENT = LedgerLine(8, DAY, AT, "rent", "Yard", "", "lift", ("30.020", "equipment"), Spent(0, 29_500))


def written(*lines):
    book = Book([TITLE])
    write_ledger(book, lines, PageSetup(True, "", ""))
    return book.content(DAY)


def saved_again(content, **cells):
    workbook = load_workbook(BytesIO(content))
    for address, value in cells.items():
        workbook[TITLE][address] = value
    again = BytesIO()
    workbook.save(again)
    return again.getvalue()


def test_lines_come_back_as_written_from_any_program_and_a_rent_without_what_accrues():
    content = written(BILL, RENT)
    for file in (content, saved_again(content)):
        bill, rent = shown_ledger(file)
        assert (bill.number, rent.number) == (7, 8)
        assert first_difference(bill.values, values_of(BILL)) is None
        assert rent.values == values_of(RENT._replace(spent=Spent()))


def test_a_changed_cell_is_the_first_difference_and_has_its_address():
    (line,) = shown_ledger(saved_again(written(BILL), K5=1540.8))
    assert line.values[-3:] == (154_080, 0, 154_080)
    column = first_difference(line.values, values_of(BILL))
    assert line.where("tracking.xlsx", column) == "tracking.xlsx Ledger K5"


def test_a_line_that_was_added_names_no_row_and_what_is_no_amount_stays_as_typed():
    content = saved_again(written(BILL), A6="new", K6="all")
    assert [(one.number, one.values[-1]) for one in shown_ledger(content)] == [
        (7, 33),
        (None, "all"),
    ]


def test_of_an_empty_ledger_and_of_other_headings_come_no_lines():
    assert list(shown_ledger(written())) == []
    assert list(shown_ledger(saved_again(written(BILL), B4="Day"))) == []
