import shutil
import subprocess
from collections.abc import Callable, Mapping
from datetime import date, datetime
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook

from estimator.errors import FileNotWritten, TablesFaulty, WorkbookRefused
from estimator.rates.folders import COLUMNS, TableFolder, shipped_tables
from estimator.rates.written_folder import table_text
from estimator.workbook.rates.rates_reader import import_rates_workbook, read_rates_workbook
from estimator.workbook.rates.rates_writer import rates_workbook_bytes, write_rates_workbook

HEAD = COLUMNS["resources.csv"]
SAND: Mapping[str, Any] = {
    "code": "sand-test", "name": "Sand", "kind": "material", "unit": "ton", "rate": 31.5,
    "date": date(2026, 2, 1), "paid": "yes", "source": "invented",
}  # fmt: skip


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*.csv"))}


def workbook(folder: Path, rows: list[Mapping[str, Any]], sheet: str = "resources") -> Path:
    """Write rows as a sheet of resources; a row names only the cells that are not empty."""
    book = Workbook()
    written = book.worksheets[0]
    written.title = sheet
    written.append(list(HEAD))
    for row in rows:
        written.append([row.get(column) for column in HEAD])
    path = folder / "rates.xlsx"
    book.save(path)
    return path


@cache
def shipped_bytes() -> bytes:
    return rates_workbook_bytes(shipped_tables())


# Tables of which a fault in a sheet is tried; the long ones are all of assemblies.
SHORT = ("resources.csv", "crews.csv", "markups.csv", "densities.csv")


@cache
def short_bytes() -> bytes:
    texts = {file: shipped_tables().content(file).decode() for file in SHORT}
    return rates_workbook_bytes(TableFolder("mine", texts=texts))


def edited(folder: Path, edit: Callable[[Workbook], object]) -> Path:
    """Write shipped tables with an edit, as somebody saves it from a spreadsheet program."""
    path = folder / "rates.xlsx"
    book = load_workbook(BytesIO(short_bytes()))
    edit(book)
    book.save(path)
    return path


def faults_of(path: Path) -> list[str]:
    with pytest.raises(TablesFaulty) as raised:
        read_rates_workbook(path.read_bytes(), path.name)
    return [str(fault) for fault in raised.value.faults]


def imported(path: Path, folder: Path) -> str:
    import_rates_workbook(path, folder / "mine")
    return (folder / "mine" / "resources.csv").read_text(encoding="utf-8")


def test_the_shipped_tables_come_back_byte_for_byte(tmp_path):
    write_rates_workbook(shipped_tables(), tmp_path / "rates.xlsx")
    rows = import_rates_workbook(tmp_path / "rates.xlsx", tmp_path / "mine")
    assert files_of(tmp_path / "mine") == files_of(shipped_tables().path)
    assert tuple(rows) == tuple(COLUMNS)
    assert rows["markups.csv"] == 4


def test_they_come_back_byte_for_byte_from_another_spreadsheet_program(tmp_path):
    program = shutil.which("soffice")
    if program is None:
        pytest.skip("LibreOffice (soffice) is not installed, and only it can save the file anew")
    write_rates_workbook(shipped_tables(), tmp_path / "rates.xlsx")
    subprocess.run(
        [program, f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless",
         "--convert-to", "xlsx", "--outdir", str(tmp_path / "saved"), str(tmp_path / "rates.xlsx")],
        check=True, capture_output=True, timeout=240,
    )  # fmt: skip
    import_rates_workbook(tmp_path / "saved" / "rates.xlsx", tmp_path / "mine")
    assert files_of(tmp_path / "mine") == files_of(shipped_tables().path)


def test_the_same_tables_give_the_same_bytes():
    assert rates_workbook_bytes(shipped_tables()) == shipped_bytes()


def test_a_row_of_a_sheet_is_the_row_of_the_file(tmp_path):
    (tmp_path / "resources.csv").write_text(
        table_text(HEAD, [{}, {**SAND, "rate": "31.50", "date": "2026-02-01"}, {}]).replace(
            ",,,,,,,,,,,\n", "\n"
        ),
        encoding="utf-8",
    )
    write_rates_workbook(TableFolder("mine", tmp_path), tmp_path / "rates.xlsx")
    assert load_workbook(tmp_path / "rates.xlsx")["resources"]["A3"].value == "sand-test"


def test_numbers_and_days_are_numbers_and_days_where_nothing_is_lost():
    book = shipped_workbook()
    rows = {row[0].value: row for row in book["resources"].iter_rows(min_row=2)}
    rate, day = rows["helper"][4], rows["helper"][7]
    assert (rate.value, rate.number_format) == (30, "0.00")
    assert (day.value, day.number_format) == (datetime(2026, 1, 15), "yyyy-mm-dd")
    written_otherwise = rows["heavy-timber"][4]
    assert (written_otherwise.value, written_otherwise.alignment.horizontal) == ("2950", "right")


@cache
def shipped_workbook() -> Workbook:
    """Return the shipped tables as a workbook, to be read only."""
    return load_workbook(BytesIO(shipped_bytes()))


def test_known_words_are_offered_in_lists_that_reach_below_the_rows():
    book = shipped_workbook()
    offered = {
        (sheet.title, str(one.sqref)[0]): one.formula1
        for sheet in book
        for one in sheet.data_validations.dataValidation
        if one.type == "list"
    }
    assert offered["resources", "C"] == (
        '"labor,material,equipment,consumable,haul,disposal,subcontract,fee,interest,salvage"'
    )
    assert offered["resources", "J"] == '"yes,no"'
    assert offered["assemblies", "G"] == '"yes,no,ask"'
    assert offered["densities", "D"] == '"bank,loose,compacted,in place"'
    last = max(
        int(str(one.sqref).rpartition("J")[2])
        for one in book["resources"].data_validations.dataValidation
        if str(one.sqref).startswith("J")
    )
    assert last == book["resources"].max_row + 200


def test_headings_stay_in_sight_and_are_printed_on_every_page():
    for sheet in shipped_workbook():
        assert sheet.freeze_panes == "B2"
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.page_setup.fitToWidth == 1


def test_a_set_of_one_table_has_one_sheet(tmp_path):
    (tmp_path / "markups.csv").write_text(table_text(COLUMNS["markups.csv"], []), encoding="utf-8")
    write_rates_workbook(TableFolder("mine", tmp_path), tmp_path / "rates.xlsx")
    assert load_workbook(tmp_path / "rates.xlsx").sheetnames == ["markups"]


def test_a_folder_without_tables_is_refused(tmp_path):
    with pytest.raises(TablesFaulty, match="holds no rate table"):
        rates_workbook_bytes(TableFolder("mine", tmp_path))


def test_a_file_that_cannot_be_written_is_a_sentence(tmp_path):
    with pytest.raises(FileNotWritten, match="cannot be written"):
        write_rates_workbook(shipped_tables(), tmp_path / "no" / "rates.xlsx")


def test_what_looks_like_a_formula_stays_text_out_and_in(tmp_path):
    words = {"name": "=1+1", "source": "@me", "note": "-2 ft"}
    text = table_text(HEAD, [{**SAND, "rate": "1.00", "date": "2026-02-01", **words}])
    (tmp_path / "made").mkdir()
    (tmp_path / "made" / "resources.csv").write_text(text, encoding="utf-8")
    folder = TableFolder("made", tmp_path / "made")
    assert load_workbook(BytesIO(rates_workbook_bytes(folder)))["resources"]["B2"].data_type == "s"
    write_rates_workbook(folder, tmp_path / "rates.xlsx")
    assert imported(tmp_path / "rates.xlsx", tmp_path) == text


def test_an_edited_rate_is_written_as_the_column_writes_it(tmp_path):
    path = workbook(tmp_path, [{**SAND, "low": 29, "high": 34.75}])
    assert imported(path, tmp_path).splitlines()[1] == (
        "sand-test,Sand,material,ton,31.50,29,34.75,2026-02-01,,yes,invented,"
    )


def test_blank_rows_are_left_out_and_faults_count_them(tmp_path):
    path = workbook(tmp_path, [SAND, {}, {**SAND, "date": date(2026, 3, 1)}])
    assert len(imported(path, tmp_path).splitlines()) == 3
    wrong = workbook(tmp_path, [SAND, {}, {**SAND, "kind": "matter"}])
    assert faults_of(wrong) == [
        "sheet resources row 4: kind 'matter' is not known; did you mean 'material'?",
        "sheet resources row 4: repeats resource 'sand-test' of 2026-02-01 in row 2; give it a "
        "newer date, or remove one of them",
        "sheet resources row 4: resource 'sand-test' is matter per ton here, material per ton in "
        "sheet resources row 2; use one kind and unit, or another code",
    ]


def test_everything_wrong_is_reported_by_sheet_and_row_and_nothing_is_written(tmp_path):
    def edit(book: Workbook) -> None:
        book["resources"]["E3"] = "=D3*1.05"
        book["resources"]["E4"], book["resources"]["F4"] = "NaN", None
        book["resources"]["H5"] = date(1900, 1, 1)
        book["resources"]["J6"] = True
        book["resources"]["L7"] = "#DIV/0!"
        book["crews"]["B2"] = "labourer"
        book["markups"]["D2"].number_format = "0.0%"

    path = edited(tmp_path, edit)
    told = faults_of(path)
    for words in (
        "sheet resources row 3: rate is a formula without a result; let a spreadsheet program "
        "work it out and save",
        "sheet resources row 4: rate 'NaN' is not a plain number; write it as 1234.50",
        "sheet resources row 5: date '1900-01-01' is out of range; give a day from 1950 to 2199",
        "sheet resources row 6: paid holds TRUE or FALSE: 'TRUE'; write yes or no as text",
        "sheet resources row 7: note holds an error: '#DIV/0!'; correct the formula, or type the "
        "value",
        "sheet crews row 2: unknown resource 'labourer'; did you mean 'laborer'?",
        "sheet markups row 2: percent is shown as a percentage: '700 %'; write it as a plain "
        "number",
    ):
        assert words in told
    assert len(told) == 7
    with pytest.raises(TablesFaulty):
        import_rates_workbook(path, tmp_path / "mine")
    assert not (tmp_path / "mine").exists()


def test_a_code_that_became_a_day_is_refused(tmp_path):
    path = workbook(tmp_path, [{**SAND, "code": date(2026, 3, 4)}])
    assert faults_of(path)[0] == (
        "sheet resources row 2: code is a day: '2026-03-04'; set the cell to text and type it again"
    )


def test_a_day_with_a_time_is_refused(tmp_path):
    path = workbook(tmp_path, [{**SAND, "date": datetime(2026, 3, 4, 12, 30)}])
    assert faults_of(path) == [
        "sheet resources row 2: date '2026-03-04 12:30' is not a date; write it as 2026-03-02"
    ]


def test_merged_cells_are_refused(tmp_path):
    path = edited(tmp_path, lambda book: book["crews"].merge_cells("A2:A3"))
    assert "sheet crews A2:A3: cells are merged; unmerge them" in faults_of(path)


def test_a_sheet_that_is_no_table_is_named(tmp_path):
    path = workbook(tmp_path, [SAND], sheet="recources")
    assert faults_of(path) == [
        "rates.xlsx: sheet 'recources' is not a rate table; did you mean 'resources'?"
    ]


def test_capitals_in_the_name_of_a_sheet_do_not_matter(tmp_path):
    assert imported(workbook(tmp_path, [SAND], sheet="Resources"), tmp_path).count("\n") == 2


def test_missing_and_strange_headings_are_named(tmp_path):
    def edit(book: Workbook) -> None:
        book["markups"]["C1"] = "ordre"
        book["densities"].delete_rows(1, 100)
        book["crews"]["B1"] = "crew"

    told = faults_of(edited(tmp_path, edit))
    assert told == [
        "sheet crews row 1: has no column 'resource'",
        "sheet crews row 1: names the column 'crew' twice",
        "sheet markups row 1: has no column 'order'",
        "sheet markups row 1: has an unknown column 'ordre'; did you mean 'order'?",
        "sheet densities row 1: has no headings; they are material, density, unit, state, date, "
        "source, note",
    ]


def test_a_cell_beside_the_table_is_named(tmp_path):
    def edit(book: Workbook) -> None:
        book["markups"]["K3"] = "call the bank"

    assert faults_of(edited(tmp_path, edit)) == [
        "sheet markups row 3: 'call the bank' is in a column without heading; move it under a "
        "heading, or clear the cell"
    ]


def test_columns_may_stand_in_any_order(tmp_path):
    def edit(book: Workbook) -> None:
        book["markups"].move_range("A1:A6", cols=8)
        book["markups"].delete_cols(1)

    import_rates_workbook(edited(tmp_path, edit), tmp_path / "mine")
    shipped = files_of(shipped_tables().path)
    assert files_of(tmp_path / "mine") == {file: shipped[file] for file in sorted(SHORT)}


def test_it_is_checked_as_laid_over_the_shipped_tables(tmp_path):
    path = workbook(tmp_path, [{**SAND, "code": "laborer"}])
    (told,) = faults_of(path)
    assert told.startswith(
        "sheet resources row 2: resource 'laborer' is material per ton here, labor per hr in "
        "shipped resources.csv row 2"
    )


def test_a_control_character_is_refused(tmp_path):
    path = workbook(tmp_path, [{**SAND, "note": "two\nlines"}])
    assert faults_of(path) == [
        "sheet resources row 2: note has control characters; type the text again"
    ]


def test_a_workbook_without_a_rate_table_is_refused(tmp_path):
    def edit(book: Workbook) -> None:
        for name in book.sheetnames[1:]:
            del book[name]
        book["resources"].title = "Tabelle 石"

    assert faults_of(edited(tmp_path, edit)) == [
        "rates.xlsx: sheet 'Tabelle 石' is not a rate table; use one of 'assemblies', "
        "'assembly_inputs', 'assembly_lines', 'cautions', 'crews', 'densities', 'markups', "
        "'own_material', 'rents', 'resources', 'unit_precision'"
    ]


def test_what_is_no_workbook_is_refused(tmp_path):
    (tmp_path / "rates.xlsx").write_bytes(b"code,name\n")
    with pytest.raises(WorkbookRefused, match=r"rates.xlsx: is not a workbook"):
        import_rates_workbook(tmp_path / "rates.xlsx", tmp_path / "mine")


def test_a_folder_that_holds_something_is_refused_before_anything_is_read(tmp_path):
    (tmp_path / "notes.txt").write_text("keep")
    with pytest.raises(TablesFaulty, match="holds files already"):
        import_rates_workbook(tmp_path / "not there.xlsx", tmp_path)


plain = st.characters(min_codepoint=32, exclude_categories=("C", "Z"))
words = st.text(plain | st.just(" "), min_size=1, max_size=20).map(str.strip).filter(bool)
numbers = st.decimals("0", "99999", places=4).map(lambda number: f"{number:f}") | st.sampled_from(
    ["31", "31.0", "31.00", "0.1", "0.10", "1,250.50", "007"]
)


@given(st.lists(st.tuples(words, numbers, words), min_size=1, max_size=4))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=12)
def test_any_words_and_any_way_of_writing_a_number_come_back(tmp_path, rows):
    text = table_text(
        HEAD,
        [
            {**SAND, "code": f"sand-{n}", "name": name, "rate": rate, "date": "2026-02-01",
             "source": source}
            for n, (name, rate, source) in enumerate(rows)
        ],
    )  # fmt: skip
    made = tmp_path / "made"
    made.mkdir(exist_ok=True)
    (made / "resources.csv").write_text(text, encoding="utf-8", newline="")
    content = rates_workbook_bytes(TableFolder("made", made))
    (read,) = read_rates_workbook(content, "rates.xlsx").values()
    assert table_text(HEAD, read.values()) == text
