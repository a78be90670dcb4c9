from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook

from estimator import sample
from estimator.assemblies.tables import Tables
from estimator.errors import ScopeFaulty, WorkbookRefused
from estimator.scheduling.dated_estimate import price
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.scope import Scope
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from estimator.workbook.reading.measure_text import measure_cell
from estimator.workbook.scope.scope_reader import read_scope_workbook
from estimator.workbook.scope.scope_template import write_scope
from tests.factories import made_tables
from tests.workbook.estimates import PRICING_DATE, sample_tables
from tests.workbook.filled import CUT, HEADINGS, PHASES, filled
from tests.workbook.hostile import items_with, packed, parts_of, text_cell

_SAMPLE = Path(sample.__file__).parent / "harrow-lane-carbarn.yaml"


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Tables:
    return made_tables(tmp_path_factory.mktemp("tables"))


def scope_in(content: bytes, tables: Tables, name: str = "barn.xlsx") -> Scope:
    return read_scope(read_scope_workbook(content, name), tables)


def faults_of(content: bytes) -> list[str]:
    with pytest.raises(ScopeFaulty) as faulty:
        read_scope_workbook(content, "barn.xlsx")
    return [str(fault) for fault in faulty.value.faults]


def faults_in(content: bytes, tables: Tables) -> list[str]:
    with pytest.raises(ScopeFaulty) as faulty:
        scope_in(content, tables)
    return [str(fault) for fault in faulty.value.faults]


def measure_of(value: object, change: Callable[[Workbook], None] | None = None) -> Located:
    """Return what a value in the measure cell F2 is read as."""
    written = read_scope_workbook(filled([[*CUT[:5], value]], change=change), "barn.xlsx")
    return section(written, "phases", 0, "items", 0, "inputs").entries["length"]


def section(written: Located, *steps: str | int) -> Section:
    for step in steps:
        if isinstance(step, str):
            assert isinstance(written, Section)
            written = written.entries[step]
        else:
            assert isinstance(written, Listing)
            written = written.parts[step]
    assert isinstance(written, Section)
    return written


def formatted(address: str, number_format: str) -> Callable[[Workbook], None]:
    def change(workbook: Workbook) -> None:
        workbook["Items"][address].number_format = number_format

    return change


# The same as YAML


def test_the_sample_scope_in_a_workbook_prices_to_the_same_cents(tmp_path: Path) -> None:
    tables = sample_tables()
    written = read_yaml(_SAMPLE.read_bytes(), _SAMPLE.name)
    path = tmp_path / "carbarn.xlsx"
    write_scope(written, tables, path)
    from_yaml = price(read_scope(written, tables), tables, PRICING_DATE)
    from_workbook = price(scope_in(path.read_bytes(), tables), tables, PRICING_DATE)
    assert from_workbook.scope_digest == from_yaml.scope_digest
    assert from_workbook.digest == from_yaml.digest
    assert from_workbook.cash_cost == from_yaml.cash_cost
    assert from_workbook.own_value == from_yaml.own_value
    assert from_workbook.items.drop(columns="credit").equals(from_yaml.items.drop(columns="credit"))


def test_a_workbook_gives_the_located_text_of_a_scope() -> None:
    project = [
        ["project", "Test barn"], ["on", date(2026, 3, 2)], ["markups", "tax; bond"],
        ["assumption", "Pits are dry."], ["shift", None], ["Assumption", "Rails are gone."],
    ]  # fmt: skip
    written = read_scope_workbook(filled(project=project), "barn.xlsx")
    assert isinstance(written, Section)
    assert written.entries["project"] == Text("Test barn", "barn.xlsx Project B2")
    assert written.entries["on"] == Text("2026-03-02", "barn.xlsx Project B3")
    markups = (Text("tax", "barn.xlsx Project B4"), Text("bond", "barn.xlsx Project B4"))
    assert written.entries["markups"] == Listing(markups, "barn.xlsx Project B4")
    assumptions = written.entries["assumptions"]
    assert isinstance(assumptions, Listing)
    assert [part.where for part in assumptions.parts] == [
        "barn.xlsx Project B5", "barn.xlsx Project B7",
    ]  # fmt: skip
    assert "shift" not in written.entries
    item = section(written, "phases", 0, "items", 0)
    assert item.where == "barn.xlsx Items row 2"
    assert item.entries["code"] == Text("010", "barn.xlsx Items B2")
    assert section(item, "inputs").entries == {"length": Text("100 ft", "barn.xlsx Items F2")}


def test_without_the_sheet_project_the_file_names_the_project(tables: Tables) -> None:
    scope = scope_in(filled(), tables, "Test barn 3.xlsx")
    assert (scope.project, scope.on, scope.markups) == ("Test barn 3", None, None)


def test_no_markups_are_requested_by_a_word(tables: Tables) -> None:
    assert scope_in(filled(project=[["markups", "none"]]), tables).markups == ()


# Cells


@pytest.mark.parametrize("code", ["20", 20, 20.0])
def test_a_code_may_be_a_number(code: object, tables: Tables) -> None:
    content = filled([[code, 10, *CUT[2:]]], [["code", "name"], [code, "Pits"]])
    assert [item.code for item in scope_in(content, tables).items] == ["20.10"]


def test_a_number_that_shows_leading_zeros_keeps_them(tables: Tables) -> None:
    content = filled([["20", 10, *CUT[2:]]], change=formatted("B2", "000"))
    assert scope_in(content, tables).items[0].code == "20.010"


def test_a_bare_number_as_a_measure_is_reported_to_lack_a_unit(tables: Tables) -> None:
    assert faults_in(filled([[*CUT[:5], 12]]), tables) == [
        "barn.xlsx Items F2, item 20.010, length: '12' has no unit; write '12 ft'"
    ]


@pytest.mark.parametrize(
    ("value", "number_format", "text"),
    [
        (0.7, "0%", "70 %"),
        (0.07, "0.00%", "7 %"),
        (0.1 + 0.2, '0.0" %"', "0.3"),
        (0.125, '0.0\\ "of"%', "12.5 %"),
        (6500, '"$"#,##0.00', "6500"),
        (1e-7, "General", "0.0000001"),
        (3.5, '[Red]0.0;"day"', "3.5"),
    ],
)
def test_a_number_reads_as_it_is_shown(value: float, number_format: str, text: str) -> None:
    assert measure_of(value, formatted("F2", number_format)) == Text(text, "barn.xlsx Items F2")


@pytest.mark.parametrize("day", [date(1900, 1, 1), date(2026, 3, 8), datetime(2026, 3, 8, 9, 30)])
def test_a_measure_that_a_spreadsheet_made_a_date_of_is_reported(day: date) -> None:
    (told,) = faults_of(filled([[*CUT[:5], day]]))
    shown = f"{day:%Y-%m-%d %H:%M}" if isinstance(day, datetime) else f"{day}"
    assert told == (
        f"barn.xlsx Items F2: holds the date '{shown}' under 'measure 1'; "
        "format the cell as text and type it again"
    )


@pytest.mark.parametrize(
    ("serial", "from_1904", "day"),
    [(1, "0", "1900-01-01"), (59, "0", "1900-02-28"), (61, "0", "1900-03-01"),
     (46083, "0", "2026-03-02"), (44621, "1", "2026-03-02")],
)  # fmt: skip
def test_days_are_counted_as_spreadsheets_do(serial: float, from_1904: str, day: str) -> None:
    cells = "".join(
        text_cell(f"{column}2", text)
        for column, text in (("A", "20"), ("B", "010"), ("D", "floor-cut"))
    )
    named = cells.replace('<c r="D2"', f'<c r="C2" s="2"><v>{serial}</v></c><c r="D2"')
    content = packed(parts_of(items_with(named), date1904=from_1904))
    item = section(read_scope_workbook(content, "barn.xlsx"), "phases", 0, "items", 0)
    assert item.entries["name"] == Text(day, "barn.xlsx Items C2")


def test_a_pricing_date_in_1900_is_reported(tables: Tables) -> None:
    assert faults_in(filled(project=[["on", date(1900, 1, 1)]]), tables) == [
        "barn.xlsx Project B2: on '1900-01-01' is out of range; give a day from 1950 to 2199"
    ]


@pytest.mark.parametrize("text", ["=1+1", "+cmd", "@x", "木造 ½ Grüße 🏚", "a_x0041_b"])
def test_text_stays_text(text: str, tables: Tables) -> None:
    def as_text(workbook: Workbook) -> None:
        workbook["Items"]["C2"].data_type = "s"

    item = [*CUT[:2], text.replace("_x0041_", "_x005F_x0041_"), *CUT[3:]]
    assert scope_in(filled([item], change=as_text), tables).items[0].name == text


@pytest.mark.parametrize("text", ["NaN", "inf ft", "1e400 ft", "１２ ft", "12_0 ft"])
def test_what_is_no_number_is_no_measure(text: str, tables: Tables) -> None:
    (told,) = faults_in(filled([[*CUT[:5], text]]), tables)
    assert told.startswith("barn.xlsx Items F2, item 20.010, length: ")


def test_a_day_that_no_calendar_has_is_reported() -> None:
    cells = text_cell("A2", "20") + '<c r="C2" s="2"><v>9000000</v></c>'
    assert (
        "barn.xlsx Items C2: holds '#VALUE!', which is not a value; type what should stand there"
        in faults_of(packed(parts_of(items_with(cells))))
    )


def test_a_number_beyond_all_numbers_is_reported() -> None:
    cells = '<c r="A2"><v>1e400</v></c>' + text_cell("B2", "010")
    assert (
        "barn.xlsx Items A2: holds 'inf', which is not a value; type what should stand there"
        in faults_of(packed(parts_of(items_with(cells))))
    )


@pytest.mark.parametrize("value", ["NaN", "0x10", "1,5", "12 ft"])
def test_a_number_cell_without_a_number_refuses_the_file(value: str) -> None:
    cells = f'<c r="A2"><v>{value}</v></c>' + text_cell("B2", "010")
    with pytest.raises(WorkbookRefused, match="something inside is not what it should be"):
        read_scope_workbook(packed(parts_of(items_with(cells))), "barn.xlsx")


def test_a_formula_whose_result_is_the_empty_text_is_an_empty_cell() -> None:
    formula = '<c r="F2" t="str"><f>IF(A1="","","1 ft")</f><v></v></c>'
    cells = items_with().replace(text_cell("F2", "100 ft"), formula)
    assert faults_of(packed(parts_of(cells))) == [
        "barn.xlsx Items E2: 'length' has no measure 1 beside it"
    ]


def test_a_carriage_return_in_a_text_is_none_of_its_letters(tables: Tables) -> None:
    parts = parts_of(items_with().replace("Saw cut", "Saw_x000D_\ncut"))
    assert "x000D" not in scope_in(packed(parts), tables).items[0].name


def test_a_formula_counts_with_its_stored_result(tables: Tables) -> None:
    cells = "".join(
        text_cell(f"{column}2", text) for column, text in zip("ABCDE", CUT[:5], strict=True)
    )
    formula = '<c r="F2" t="str"><f>A1&amp;" ft"</f><v>100 ft</v></c>'
    assert (
        scope_in(packed(parts_of(items_with(cells + formula))), tables)
        .items[0]
        .inputs["length"]
        .value
        == 100
    )


def test_a_formula_without_a_result_is_refused_by_name_and_never_read_as_zero() -> None:
    assert faults_of(filled([[*CUT[:5], "=50+50"]])) == [
        "barn.xlsx Items F2: is a formula whose result the file does not hold; "
        "open it in a spreadsheet program and save it again, or type the result",
        "barn.xlsx Items E2: 'length' has no measure 1 beside it",
    ]


def test_errors_and_yes_or_no_values_are_reported() -> None:
    assert faults_of(filled([["20", "010", True, "#REF!", *CUT[4:]]])) == [
        "barn.xlsx Items C2: holds 'TRUE' as a yes-or-no value; "
        "format the cell as text and type it again",
        "barn.xlsx Items D2: holds '#REF!', which is not a value; type what should stand there",
    ]


def test_shared_texts_leave_out_aids_to_reading(tables: Tables) -> None:
    parts = parts_of(
        items_with().replace(text_cell("C2", "Saw cut"), '<c r="C2" t="s"><v>0</v></c>')
    )
    aid = b'<rPh sb="0" eb="3"><t>soo</t></rPh>'
    rich = b"<si><r><t>Saw </t></r><r><t>cut</t></r>" + aid + b"</si>"
    parts["xl/sharedStrings.xml"] = parts["xl/sharedStrings.xml"].replace(
        b"<si><t>a</t></si>", rich
    )
    assert scope_in(packed(parts), tables).items[0].name == "Saw cut"


# Measures in one cell


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("62 ft 6 in", None),
        ("1,900 sf", None),
        ("1,234,567 sf", None),
        ("12 ft, 6 in", None),
        ("3,5 ft", None),
        ("1 ft;", None),
        ("2 ft; 6 ft 3 in", ["2 ft", "6 ft 3 in"]),
        ("1,200 ft; 1,300 ft", ["1,200 ft", "1,300 ft"]),
        ("9 in;11 in;\n1 ft 2 in; 10 1/2 in;", ["9 in", "11 in", "1 ft 2 in", "10 1/2 in"]),
    ],
)
def test_a_cell_holds_one_measure_or_several_depths(text: str, parts: list[str] | None) -> None:
    if parts is None:
        assert measure_cell(text, "F2") == Text(text, "F2")
    else:
        listed = tuple(Text(part, "F2") for part in parts)
        assert measure_cell(text, "F2") == Listing(listed, "F2")


@pytest.mark.parametrize(
    "text",
    [
        "0 ft, 0 ft, 1 ft; 1,062 ft 6 in, 0 ft, 5 ft",
        "0 ft,0 ft,1 ft;1,062 ft 6 in,0 ft,5 ft;",
        "0 ft ,0 ft , 1 ft ;\n1,062 ft 6 in, 0 ft, 5 ft",
    ],
)
def test_a_cell_may_hold_spots(text: str) -> None:
    spots = section(measure_cell(text, "F2")).entries["spots"]
    assert isinstance(spots, Listing)
    assert [[part.value for part in spot.parts] for spot in spots.parts] == [  # type: ignore[union-attr]
        ["0 ft", "0 ft", "1 ft"],
        ["1,062 ft 6 in", "0 ft", "5 ft"],
    ]


def test_spots_price_as_they_do_in_yaml(tables: Tables) -> None:
    spots = "0 ft, 0 ft, 1 ft; 27 ft, 0 ft, 1 ft; 0 ft, 10 ft, 1 ft; 27 ft, 10 ft, 1 ft"
    item = ["20", "010", "Fill", "stone-fill", "length", "27 ft", "width", "10 ft", "depth", spots]
    headings = [*HEADINGS, "Input 3", "Measure 3"]
    given = scope_in(filled([item], headings=headings), tables).items[0].inputs["depth"]
    assert given.value == 1
    assert given.text == "mean 1.00 ft of 4 spot depths"


# Rows and sheets


def test_blank_rows_are_passed_over_and_hidden_rows_count(tables: Tables) -> None:
    def hide(workbook: Workbook) -> None:
        workbook["Items"].row_dimensions[4].hidden = True
        workbook["Items"].sheet_state = "hidden"

    second = ["20", "020", *CUT[2:]]
    content = filled([CUT, [None, " "], second], change=hide)
    assert [item.where for item in scope_in(content, tables).items] == [
        "barn.xlsx Items row 2", "barn.xlsx Items row 4",
    ]  # fmt: skip


def test_columns_and_sheets_may_stand_in_any_order_and_capitals(tables: Tables) -> None:
    def turn(workbook: Workbook) -> None:
        workbook.move_sheet("Items", -1)
        for title, changed in (("Items", "ITEMS"), ("Phases", " phases")):
            workbook[title].title = "aside"
            workbook["aside"].title = changed

    headings = [" MEASURE  1", "input 1", "Assembly", "name", "code", "phase"]
    content = filled([list(reversed(CUT))], headings=headings, change=turn)
    assert scope_in(content, tables).items[0].code == "20.010"


def test_items_follow_the_order_of_their_phases(tables: Tables) -> None:
    phases = [*PHASES, ["10", "Floor"]]
    items = [["10", "010", *CUT[2:]], CUT, ["10", "005", *CUT[2:]]]
    codes = [item.code for item in scope_in(filled(items, phases), tables).items]
    assert codes == ["20.010", "10.010", "10.005"]


def test_every_fault_is_reported_at_once_with_the_nearest_word() -> None:
    def add(workbook: Workbook) -> None:
        workbook.create_sheet("Itmes")

    items = [
        ["2O", "010", "Cut", "floor-cut", "length", "10 ft"],
        [None, "020", "Cut", "floor-cut", "length", "10 ft"],
        ["20", "030", "Cut", "floor-cut", "length", None, "length", "10 ft", "x"],
        ["20", "040", "Cut", "floor-cut", "length", "10 ft", "length", "10 ft"],
    ]
    phases = [
        ["Code", "Nmae"],
        ["20", "Pits"],
        ["20", "Pits again"],
        ["30", "Yard"],
        [None, "Gate"],
    ]
    project = [["projct", "Barn"], ["on", "2026-03-02"], ["on", "2026-03-03"], [None, "lost"]]
    assert faults_of(filled(items, phases, project, change=add)) == [
        "barn.xlsx: has the unknown sheet 'Itmes'; did you mean 'Items'?",
        "barn.xlsx Project A2: has the unknown key 'projct'; did you mean 'project'?",
        "barn.xlsx Project A4: repeats the key 'on'",
        "barn.xlsx Project B5: 'lost' has no key; "
        "use one of project, address, prepared_for, prepared_by, revision, on, shift, "
        "rates, quotes, markups, day_worth, assumption",
        "barn.xlsx Phases B1: has the unknown heading 'Nmae'; did you mean 'name'?",
        "barn.xlsx Phases row 1: has no heading 'name'",
        "barn.xlsx Phases row 3: repeats phase '20' of barn.xlsx Phases row 2; "
        "list each phase once",
        "barn.xlsx Phases row 5: code is missing",
        "barn.xlsx Items A2: phase '2O' is not in the sheet Phases; use one of '20', '30'",
        "barn.xlsx Items row 3: phase is missing; name a phase of the sheet Phases",
        "barn.xlsx Items E4: 'length' has no measure 1 beside it",
        "barn.xlsx Items G5: repeats the input 'length'",
        "barn.xlsx Phases row 4: phase '30' has no items; "
        "give it items in the sheet Items, or remove it",
    ]


def test_repeated_codes_are_reported_with_both_places(tables: Tables) -> None:
    assert faults_in(filled([CUT, CUT]), tables) == [
        "barn.xlsx Items row 3: repeats item '20.010' of barn.xlsx Items row 2"
    ]


def test_repeated_and_unknown_headings_are_reported() -> None:
    headings = [*HEADINGS[:6], "Input 1", "mesure 2"]
    assert faults_of(filled([CUT], headings=headings)) == [
        "barn.xlsx Items G1: repeats the heading 'Input 1'",
        "barn.xlsx Items H1: has the unknown heading 'mesure 2'; did you mean 'measure 1'?",
    ]


def test_sheets_and_columns_of_ones_own_are_set_aside_with_a_note(tables: Tables) -> None:
    def add(workbook: Workbook) -> None:
        workbook.create_sheet("Photos")["A1"] = "=1+1"

    headings = [*HEADINGS[:6], "Who measured it", None]
    content = filled([[*CUT, "=TODAY()", "ask Ann"]], headings=headings, change=add)
    scope = scope_in(content, tables)
    assert [item.code for item in scope.items] == ["20.010"]
    assert scope.notes == (
        "barn.xlsx: the sheet 'Photos' is not read",
        "barn.xlsx Items G1: the column 'Who measured it' is not read",
        "barn.xlsx Items: without a heading, so not read: H",
    )
    assert price(scope, tables, PRICING_DATE).warnings == scope.notes


def test_merged_cells_are_reported() -> None:
    def merge(workbook: Workbook) -> None:
        workbook["Items"].merge_cells("A2:A3")

    told = faults_of(filled([CUT, ["20", "020", *CUT[2:]]], change=merge))
    assert told == [
        "barn.xlsx Items: merges the cells A2:A3; "
        "unmerge them, and write into each row what belongs to it",
        "barn.xlsx Items row 3: phase is missing; name a phase of the sheet Phases",
    ]


def test_a_workbook_of_something_else_is_reported() -> None:
    def rename(workbook: Workbook) -> None:
        workbook["Items"].title = "Sheet1"
        workbook["Phases"].title = "Phase"

    assert faults_of(filled(change=rename)) == [
        "barn.xlsx: has the unknown sheet 'Phase'; did you mean 'Phases'?",
        "barn.xlsx: has no sheet 'Phases'; '--template FILE.xlsx' writes one",
        "barn.xlsx: has no sheet 'Items'; '--template FILE.xlsx' writes one",
    ]


def test_empty_sheets_are_reported() -> None:
    def empty(workbook: Workbook) -> None:
        workbook["Items"].delete_rows(1, 9)

    assert faults_of(filled(phases=[["code", "name"]], change=empty)) == [
        "barn.xlsx Phases: lists no phase; write one row for each stage of the job",
        "barn.xlsx Items: is empty; its first row names the columns: phase, code, name, assembly",
    ]
    assert faults_of(filled([], [["code", "name"]])) == [
        "barn.xlsx Phases: lists no phase; write one row for each stage of the job"
    ]


def test_a_long_scope_reads_whole(tables: Tables) -> None:
    items = [["20", str(n), *CUT[2:]] for n in range(2000)]
    assert len(scope_in(filled(items), tables).items) == 2000


def test_20_megabytes_are_refused() -> None:
    with pytest.raises(WorkbookRefused, match="larger than 10 MB"):
        read_scope_workbook(b"PK\x03\x04" + b"\0" * 20_000_000, "barn.xlsx")
