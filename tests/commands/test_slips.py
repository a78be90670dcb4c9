"""What a builder mistypes is answered in a sentence of our own, all of it at once."""

from collections.abc import Mapping
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.commands.running import groundsill

SCOPE = """\
project: One slab
on: 2026-03-02
markups: []
phases:
  - code: "10"
    name: Slab
    items:
      - code: "010"
        name: Fabric
        assembly: geotextile
        inputs:
          area: 1,900 sf
          waste: 8 %
"""


def problems(folder: Path, text: str, *options: str | Path) -> list[str]:
    """Return what pricing a scope says is wrong with it."""
    scope = folder / "slab.yaml"
    scope.write_text(text, encoding="utf-8")
    ran = groundsill("price", scope, *options)
    assert ran.exit_code == 1
    return [line.removeprefix("- ") for line in ran.err.splitlines()[1:]]


@pytest.mark.parametrize(
    ("right", "slip", "sentence"),
    [
        ("name: Slab", "name Slab",
         "slab.yaml line 6: 'name Slab' has no colon after its key; write 'name: Slab'"),
        ("        assembly", "\tassembly",
         "slab.yaml line 10: begins with a tab, which YAML does not take; "
         "indent it with spaces, as the lines around it"),
        ("2026-03-02", "15.4.2026",
         "slab.yaml line 2: on '15.4.2026' is not a pricing date; write it as 2026-04-15"),
        ("2026-03-02", "4/5/2026",
         "slab.yaml line 2: on '4/5/2026' is not a pricing date; "
         "write it as 2026-04-05 or 2026-05-04, whichever it is"),
        ("1,900 sf", "190,5 sf",
         "slab.yaml line 12, item 10.010, area: '190,5 sf' has a comma where a decimal point "
         "belongs; write '190.5 sf'"),
        ("1,900 sf", "43 ft x 40 ft",
         "slab.yaml line 12, item 10.010, area: '43 ft x 40 ft' is a multiplication; "
         "write '1,720 sf'"),
        ("waste: 8 %", "waste: 8",
         "slab.yaml line 13, item 10.010, waste: '8' without a percent sign would be 800 %; "
         "write '8 %'"),
        ("waste: 8 %", "lap: 4,5 ft",
         "slab.yaml line 13, item 10.010, lap: '4,5 ft' has a comma where a decimal point "
         "belongs; write '4.5 ft'"),
        ("name: Fabric", "name: Stone #4 fill",
         "slab.yaml line 9: 'Stone' ends there, because YAML takes '#4 fill' for a comment; "
         'put the text in quotes: "Stone #4 fill"'),
    ],
)  # fmt: skip
def test_a_slip_has_a_sentence_with_its_remedy(
    tmp_path: Path, right: str, slip: str, sentence: str
) -> None:
    assert problems(tmp_path, SCOPE.replace(right, slip)) == [sentence]


def test_all_of_them_come_in_one_answer_also_behind_an_unknown_assembly(tmp_path: Path) -> None:
    text = (
        SCOPE.replace("name: Slab", "name Slab")
        .replace("2026-03-02", "15.4.2026")
        .replace("name: Fabric", "name: Stone #4 fill")
        .replace("geotextile", "geotextle\n        crew: nobody\n        risk: {pace: fast}")
        .replace("1,900 sf", "43 ft x 40 ft")
    )
    assert problems(tmp_path, text) == [
        "slab.yaml line 6: 'name Slab' has no colon after its key; write 'name: Slab'",
        "slab.yaml line 9: 'Stone' ends there, because YAML takes '#4 fill' for a comment; "
        'put the text in quotes: "Stone #4 fill"',
        "slab.yaml line 2: on '15.4.2026' is not a pricing date; write it as 2026-04-15",
        "slab.yaml line 10: item 10.010 names the unknown assembly 'geotextle'; "
        "did you mean 'geotextile'?",
        "slab.yaml line 12, pace: 'fast' is not a measure; "
        "write a number with its unit, such as '12 ft 6 in' or '1,900 sf'",
        "slab.yaml line 11: item 10.010 names the unknown crew 'nobody'",
        "slab.yaml line 14, item 10.010, area: '43 ft x 40 ft' is a multiplication; "
        "write '1,720 sf'",
    ]


def test_faults_of_the_tables_come_with_all_faults_of_the_scope(tmp_path: Path) -> None:
    rates = tmp_path / "my-rates"
    rates.mkdir()
    (rates / "resources.csv").write_text("code;name;kind\nsand;Sand;material\n", encoding="utf-8")
    text = SCOPE.replace("name: Slab", "name Slab").replace("1,900 sf", "43 ft x 40 ft")
    assert problems(tmp_path, text, "--rates", rates) == [
        "slab.yaml line 6: 'name Slab' has no colon after its key; write 'name: Slab'",
        "my-rates resources.csv: separates its columns by semicolons; save it as CSV with commas",
        "slab.yaml line 12, item 10.010, area: '43 ft x 40 ft' is a multiplication; "
        "write '1,720 sf'",
    ]


@pytest.mark.parametrize(
    ("table", "right", "slip", "sentence"),
    [
        ("assemblies", "brackets,lf", "brackets,lff", "assemblies.csv row 2, unit: unknown unit "
         "'lff'; did you mean 'lf'?"),
        ("assembly_inputs", "length,ft", "length,ftt", "assembly_inputs.csv row 2, unit: unknown "
         "unit 'ftt'; did you mean 'ft'?"),
        ("assembly_inputs", "lf/hr", "lf/hrr", "assembly_inputs.csv row 5, unit: unknown unit "
         "'hrr'; did you mean 'hr'?"),
        ("resources", "material,lf", "material,lff", "resources.csv row 2, unit: unknown unit "
         "'lff'; did you mean 'lf'?"),
    ],
)  # fmt: skip
def test_what_follows_from_a_unit_that_cannot_be_read_is_no_fault(
    tmp_path: Path, table: str, right: str, slip: str, sentence: str
) -> None:
    project = tmp_path / "barn"
    groundsill("new", project)
    rows = project / "own-rates" / f"{table}.csv"
    rows.write_text(rows.read_text(encoding="utf-8").replace(right, slip), encoding="utf-8")
    ran = groundsill("price", project / "scope.yaml")
    assert ran.err.splitlines()[1:] == [f"- own-rates {sentence}"]


def test_a_folder_that_is_not_there_does_not_hide_the_faults_of_the_scope(tmp_path: Path) -> None:
    text = SCOPE.replace("markups", "quotes: dear-quotes\nmarkups").replace("1,900 sf", "1,900 sq")
    assert problems(tmp_path, text) == [
        "the folder of quotes 'dear-quotes' is not there; codes that only it has count as unknown",
        "slab.yaml line 13, item 10.010, area: unknown unit 'sq'; did you mean 'sq m'?",
    ]


@pytest.mark.parametrize("command", [("price",), ("compare", "--item", "30.020")])
def test_a_pricing_date_before_any_rate_is_one_sentence(
    demo: Path, command: tuple[str, ...]
) -> None:
    scope = "out/harrow-lane-carbarn.yaml"
    ran = groundsill(*command, scope, "--on", "1990-01-01", folder=demo)
    assert ran.err.splitlines()[1:] == [
        "- no resource has a rate on 1990-01-01: the first rate of all is of 2025-01-15; "
        "price on a later day"
    ]


def test_a_day_on_the_command_line_is_answered_like_one_in_a_scope(tmp_path: Path) -> None:
    scope = tmp_path / "slab.yaml"
    scope.write_text(SCOPE, encoding="utf-8")
    ran = groundsill("price", scope, "--on", "15.4.2026")
    assert ran.exit_code == 2
    assert "'15.4.2026' is not a date; write it as 2026-04-15." in ran.err


def filled(path: Path, cells: Mapping[str, str]) -> Path:
    """Write the template with some cells of the sheet of items, and return it."""
    assert groundsill("price", "--template", path).exit_code == 0
    book = load_workbook(path)
    for address, text in cells.items():
        book["Items"][address] = text
    book.save(path)
    return path


def workbook_problems(path: Path) -> list[str]:
    ran = groundsill("price", path)
    assert ran.exit_code == 1
    return [line.removeprefix("- ") for line in ran.err.splitlines()[1:]]


def test_a_comma_for_a_semicolon_in_a_cell(tmp_path: Path) -> None:
    book = filled(tmp_path / "barn.xlsx", {"M2": "2 ft, 6 ft 3 in"})
    assert workbook_problems(book) == [
        "barn.xlsx Items M2, item 20.010, depth: '2 ft, 6 ft 3 in' is more than one measure; "
        "in a workbook write '2 ft; 6 ft 3 in', in YAML '[2 ft, 6 ft 3 in]'"
    ]


def test_the_faults_behind_an_unknown_phase_come_in_the_same_answer(tmp_path: Path) -> None:
    book = filled(
        tmp_path / "barn.xlsx",
        {"A2": "21", "I2": "4,5 ft", "A3": "20", "B3": "020", "C3": "More", "D3": "stone-fil"},
    )
    assert workbook_problems(book) == [
        "barn.xlsx Items A2: phase '21' is not in the sheet Phases; use '20'",
        "barn.xlsx Items D3: item 20.020 names the unknown assembly 'stone-fil'; "
        "did you mean 'stone-fill-barrows'?",
        "barn.xlsx Items I2, item 21.010, length: '4,5 ft' has a comma where a decimal point "
        "belongs; write '4.5 ft'",
    ]


@pytest.mark.parametrize(
    ("command", "sentence"),
    [
        (("price", "out/harrow-lane-carbarn.yaml", "--xlsx"),
         "is an estimate, not a scope; give the scope that it was priced from"),
        (("compare", "out/harrow-lane-carbarn.yaml", "--item", "30.020", "--xlsx"),
         "is a comparison of methods, not a scope; give the scope that it was made from"),
        (("rates", "export"),
         "is a workbook of rates, not a scope; 'groundsill rates import' reads it"),
    ],
)  # fmt: skip
def test_another_workbook_of_ours_is_no_scope(
    demo: Path, tmp_path: Path, command: tuple[str, ...], sentence: str
) -> None:
    book = tmp_path / "other.xlsx"
    assert groundsill(*command, book, folder=demo).exit_code == 0
    assert workbook_problems(book) == [f"other.xlsx: {sentence}"]


def test_a_folder_of_rates_is_called_by_its_own_name(tmp_path: Path) -> None:
    head = "code,name,kind,unit,rate,low,high,date,valid_until,paid,source,note\n"
    row = "geotextile-roll,Fabric,material,roll,1000,,,2026-02-01,,yes,quote of a friend,\n"
    for name, shown in (("valley yard", "valley yard"), ("quotes", "own quotes")):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "resources.csv").write_text(head + row, encoding="utf-8")
        scope = tmp_path / "slab.yaml"
        scope.write_text(SCOPE, encoding="utf-8")
        ran = groundsill("explain", scope, "--item", "10.010", "--rates", folder)
        assert f"rate from {shown} resources.csv row 2, of 2026-02-01" in ran.out
