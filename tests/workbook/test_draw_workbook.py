"""The workbook of a draw: live formulas come to the same cents, and no text becomes one."""

import csv
from dataclasses import replace
from io import BytesIO, StringIO

import pytest
from openpyxl import load_workbook

from estimator.funding.draw_checks import check_draw
from estimator.workbook.draw_csv import draw_csv
from estimator.workbook.draw_workbook import SHEETS, draw_bytes
from tests.funding.made_packages import FORMULA, first_open, reduced, second
from tests.workbook.spreadsheet import all_recalculated, cents, row_of, shown

PACKAGES = {"second": second, "reduced": reduced, "open": first_open}


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    """Values as written, and as LibreOffice works them out, of each package."""
    folder = tmp_path_factory.mktemp("draws")
    files = {name: folder / f"{name}.xlsx" for name in PACKAGES}
    for name, path in files.items():
        check_draw(PACKAGES[name]().request)
        path.write_bytes(draw_bytes(PACKAGES[name]()))
    counted = all_recalculated({name: (path, {}) for name, path in files.items()}, folder / "lo")
    return {name: (shown(path), counted[name]) for name, path in files.items()}


def numbers(rows):
    return [
        round(value, 6)
        for row in rows
        for value in row
        if isinstance(value, int | float) and not isinstance(value, bool)
    ]


@pytest.mark.parametrize("name", PACKAGES)
def test_another_program_works_out_every_figure_the_same(sheets, name):
    written, counted = sheets[name]
    assert list(counted) == [*SHEETS, *(["Balance"] if name == "reduced" else [])]
    for title in counted:
        assert numbers(counted[title]) == numbers(written[title]), title


@pytest.mark.parametrize("name", PACKAGES)
def test_the_cover_asks_for_what_the_library_asks_for(sheets, name):
    cover, totals = sheets[name][1]["Cover"], PACKAGES[name]().request.totals
    assert cents(row_of(cover, "Requested")[1]) == totals.requested_cents
    assert cents(row_of(cover, "Less this draw, from the loan")[1]) == -totals.loan_cents
    assert cents(row_of(cover, "Less retainage held")[1]) == -totals.retainage_cents
    assert row_of(cover, "Lines with receipts, less the backup")[1] == 0
    assert row_of(cover, "Backup, less the payees")[1] == 0


def test_the_second_draw_is_what_it_comes_to_by_hand(sheets):
    """Line 2: 70 % of $21,000.00 is over the $12,500.05 billed and not stored.

    Less a cut of $300.00 and the $5,800.00 done before, with $2,000.00 stored: $8,400.05.
    """
    lines = sheets["second"][1]["Lines"]
    stone = row_of(lines, "2")
    assert [cents(one) for one in (*stone[8:12], stone[13], stone[23], stone[31])] == [
        12_500_05, 5_800_00, 12_200_05, 6_400_05, 2_000_00, 8_400_05, 300_00,
    ]  # fmt: skip


def test_the_balance_is_sources_less_uses_by_hand(sheets):
    """$28,762.67 less $350.00 is $28,412.67; less $27,234.57 and $29,734.58."""
    balance = sheets["reduced"][1]["Balance"]
    assert [cents(one) for one in row_of(balance, "Sources less uses")[1:]] == [1_178_10, -1_321_91]
    assert row_of(balance, "The loan is out of balance at P80: $1,178.10 over at P50, $1,321.91 "
                           "short at P80.")  # fmt: skip


def test_no_text_of_a_user_becomes_a_formula_or_a_link():
    book = load_workbook(BytesIO(draw_bytes(second())))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert [cell for cell in cells if cell.hyperlink] == []
    own = [cell for cell in cells if cell.value == FORMULA]
    assert own
    assert {cell.data_type for cell in own} == {"s"}
    formulas = [cell.value for cell in cells if cell.data_type == "f"]
    assert not [one for one in formulas if "HYPERLINK" in one or "http" in one]


def test_no_text_of_a_user_becomes_a_formula_in_the_csv():
    package = second()
    line = replace(package.request.lines[0], cut_reason=FORMULA)
    package = replace(package, request=replace(package.request, lines=(line,)))
    (row,) = csv.DictReader(StringIO(draw_csv(package)))
    assert row["cut_reason"] == f"'{FORMULA}"


def test_the_note_above_the_lines_stands_whole_on_each_page():
    sheet = load_workbook(BytesIO(draw_bytes(second())))["Lines"]
    assert (sheet.print_title_cols, sheet.page_setup.fitToWidth) == ("$A:$B", 3)
    assert "A2:B2" in {str(one) for one in sheet.merged_cells.ranges}
    assert sheet.row_dimensions[2].height == 63  # five lines of 12 points, and 3
    assert sheet.freeze_panes == "C5"


def test_the_foot_of_each_sheet_says_state_and_digest_and_that_a_sample_is_invented():
    book = load_workbook(BytesIO(draw_bytes(reduced())))
    assert {sheet.oddFooter.center.text for sheet in book} == {
        "Draw 2, granted, digest 5f5f5f5f5f5f"
    }
    assert {sheet.oddFooter.left.text for sheet in book} == {
        "INVENTED SAMPLE: Barn (invented example)"
    }
