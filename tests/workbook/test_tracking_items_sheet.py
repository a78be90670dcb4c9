"""The sheet of items of the tracking workbook, on books made for it."""

from io import BytesIO

from openpyxl import load_workbook

from estimator.tracking.books import Books
from estimator.tracking.commitments import Commitment
from estimator.tracking.job_track import track
from estimator.tracking.ledger_lines import settled_rows
from estimator.workbook.tracking_workbook import tracking_bytes
from tests.tracking.rows import LATER, MONDAY, NOW, at, cost, progress
from tests.tracking.test_status import BUDGET

STONE = ("20.010", "material")


def items(books, title="Items"):
    report = track(books, BUDGET, LATER, NOW)
    content = BytesIO(tracking_bytes(books, settled_rows(books.money), report, (), "Carbarn"))
    live, values = (load_workbook(content, data_only=only)[title] for only in (False, True))
    rows = {row[0].value: row[0].row for row in live.iter_rows() if row[0].value}
    return live, values, rows


def test_what_is_ordered_beyond_the_budget_is_in_the_formula_of_the_forecast():
    """$10,000.00 is ordered on a code of $4,800.00 that nobody has measured."""
    order = Commitment(1, MONDAY, at(MONDAY), "7", "Mason", "40.010", "labor", 1_000_000)
    live, values, rows = items(Books(commitments=[order]))
    row = rows["40.010"]
    assert live[f"T{row}"].value == f"=ROUND(MAX(E{row},I{row}+F{row}),2)"
    assert values[f"T{row}"].value == 10_000


def test_a_kind_that_no_forecast_counts_is_named_beside_it():
    books = Books(costs=[cost(1, (*STONE, 468_160, 0))], progress=[progress(2, "20.010", "112")])
    _, values, rows = items(books)
    assert values[f"V{rows['20.010']}"].value == "labor"


def test_measures_have_unit_costs_the_inspectors_figure_and_each_forecast():
    """112 of 400 ton cost $4,681.60, or $41.80 each, where $36.50 are budgeted.

    $4,088.00 of $14,600.00 are earned, and all of it was planned. $10,512.00 x 4,681.60 / 4,088.00
    are $12,038.40; over the schedule index of 0.28 that is $42,994.29.
    """
    seen = progress(3, "20.010", "90", is_inspector=True)
    books = Books(
        costs=[cost(1, (*STONE, 468_160, 0))], progress=[progress(2, "20.010", "112"), seen]
    )
    _, values, rows = items(books, "Measures")
    shown = [cell.value for cell in values[rows["20.010"]]]
    assert shown[3:9] == [112, 90, 400, 28, 41.8, 36.5]
    assert shown[9:15] == [-10_512, "0.280", 16_720, 15_193.6, 16_720, 47_675.89]


def test_a_kind_adds_up_its_lines_of_the_ledger():
    """28 % of $11,000.00 are earned, $3,080.00; all was planned, and $1,070.00 are incurred."""
    books = Books(
        costs=[cost(1, (*STONE, 100_000, 7_000))], progress=[progress(2, "20.010", "112")]
    )
    live, values, rows = items(books, "Phases and kinds")
    row = rows["material"]
    assert live[f"G{row}"].value.startswith("=ROUND(SUMIFS('Ledger'!$I$")
    assert [values[f"{letter}{row}"].value for letter in "CEGIJK"] == [
        11_000, 11_000, 1_070, 0, 1_070, 1_070,
    ]  # fmt: skip
    earned = [values[f"{letter}{row}"].value for letter in "LMNOPQ"]
    assert earned == [11_000, 3_080, 2_010, -7_920, "2.879", "0.280"]
    phase = [values[f"{letter}{rows['20']}"].value for letter in "LMNOPQ"]
    assert phase == [14_600, 4_088, 3_018, -10_512, "3.821", "0.280"]
