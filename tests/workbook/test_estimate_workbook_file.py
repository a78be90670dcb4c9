"""The file of a printed estimate: text stays text, the same bytes each time, whole or not there."""

import os
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator.errors import FileNotWritten, WorkbookRefused
from estimator.pricing.estimate import Estimate
from estimator.scheduling.dated_estimate import price
from estimator.workbook.estimate_workbook import write_estimate
from estimator.workbook.writing.safe_text import clean_text
from tests.factories import with_rows
from tests.workbook.estimates import sample_estimate, small_estimate
from tests.workbook.spreadsheet import recalculated, shown

HOSTILE = [
    "=1+1", "+cmd|' /C calc'!A0", "@SUM(A1)", "-2+3", "＝1+1", "\t=1+1", "\x00=1+1", "#REF!",
    "https://example.org", "stone & <b>", "size _x0041_ \U0001f9f1", "&[Date] &P &G",
]  # fmt: skip

_WRITE = """
import sys
from pathlib import Path
from tests.factories import with_rows
from tests.workbook.estimates import sample_estimate
from estimator.workbook.estimate_workbook import write_estimate
write_estimate(sample_estimate(), Path(sys.argv[1]))
"""


def renamed(estimate: Estimate, name: str) -> Estimate:
    """Return an estimate whose project, phases, items, notes and assumptions all bear a name."""
    scope = estimate.scope
    phases = tuple(
        replace(
            phase,
            name=name,
            items=tuple(replace(item, name=name, note=name) for item in phase.items),
        )
        for phase in scope.phases
    )
    named = replace(scope, project=name, phases=phases, assumptions=(name,))
    return price(named, estimate.tables, estimate.on)


@pytest.mark.parametrize("name", HOSTILE)
def test_no_name_becomes_a_formula_or_a_link(name: str, tmp_path: Path) -> None:
    path = tmp_path / "hostile.xlsx"
    write_estimate(renamed(small_estimate(tmp_path / "tables"), name), path)
    workbook = load_workbook(path)
    cleaned = clean_text(name)
    cells = [
        cell
        for sheet in workbook
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.replace("_x005F_", "_") == cleaned
    ]
    assert len(cells) >= 10
    assert {cell.data_type for cell in cells} == {"s"}
    assert not any(cell.hyperlink for cell in cells)
    assert all(cell.quotePrefix for cell in cells) == cleaned.strip().startswith(
        ("=", "+", "-", "@", "＝")
    )


def test_another_program_reads_hostile_names_as_text(tmp_path: Path) -> None:
    path = tmp_path / "hostile.xlsx"
    write_estimate(renamed(small_estimate(tmp_path / "tables"), "=1+1"), path)
    sheets = recalculated(path, tmp_path / "run")
    assert sheets["Summary"][0][0] == "=1+1"
    assert [row[1] for row in sheets["Items"]].count("=1+1") == 5


def test_an_ampersand_in_the_project_is_no_command_in_the_footer(tmp_path: Path) -> None:
    path = tmp_path / "footer.xlsx"
    write_estimate(renamed(small_estimate(tmp_path / "tables"), "Brick & Lime &D"), path)
    with zipfile.ZipFile(path) as archive:
        part = archive.read("xl/worksheets/sheet1.xml").decode()
    assert "&amp;L&amp;8 Brick &amp;&amp; Lime &amp;&amp;D&amp;C" in part


def test_a_text_longer_than_a_cell_is_refused_and_the_old_file_stays(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    path.write_bytes(b"as it was")
    estimate = renamed(small_estimate(tmp_path / "tables"), "x" * 32_768)
    with pytest.raises(WorkbookRefused, match=r"characters, more than a cell holds"):
        write_estimate(estimate, path)
    assert path.read_bytes() == b"as it was"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["estimate.xlsx", "tables"]


def test_a_missing_folder_is_a_sentence(tmp_path: Path) -> None:
    path = tmp_path / "nowhere" / "estimate.xlsx"
    with pytest.raises(FileNotWritten, match=r"cannot be written: no such file or directory"):
        write_estimate(small_estimate(tmp_path / "tables"), path)
    assert not path.parent.exists()


def test_a_target_that_is_a_folder_is_a_sentence_and_leaves_nothing_behind(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    (folder / "estimate.xlsx").mkdir(parents=True)
    with pytest.raises(FileNotWritten, match=r"is a folder, not a file; name a file"):
        write_estimate(small_estimate(tmp_path / "tables"), folder / "estimate.xlsx")
    assert [one.name for one in folder.iterdir()] == ["estimate.xlsx"]


def test_the_same_estimate_gives_the_same_bytes_under_any_hash_seed(tmp_path: Path) -> None:
    contents = []
    for seed in ("1", "4711"):
        path = tmp_path / f"{seed}.xlsx"
        subprocess.run(
            [sys.executable, "-c", _WRITE, str(path)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=Path(__file__).parents[2],
            check=True,
            timeout=120,
        )
        contents.append(path.read_bytes())
    assert contents[0] == contents[1]


def test_the_file_is_dated_by_the_pricing_date_and_names_its_maker(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    write_estimate(small_estimate(tmp_path / "tables"), path)
    told = load_workbook(path).properties
    assert str(told.created) == str(told.modified) == "2026-04-01 00:00:00"
    assert told.creator == "Groundsill"
    with zipfile.ZipFile(path) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert b"<Application>Groundsill<" in archive.read("docProps/app.xml")


def test_every_sheet_is_set_up_for_paper(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    write_estimate(sample_estimate(), path)
    workbook = load_workbook(path)
    assert workbook.sheetnames == [
        "Summary", "Items", "Cost lines", "Own material", "Rates", "Cautions", "Basis",
    ]  # fmt: skip
    for sheet in workbook:
        assert sheet.print_area, sheet.title
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.oddFooter.left.text == "Harrow Lane Carbarn"
        assert "2026-03-02, digest " in sheet.oddFooter.center.text
        assert sheet.oddFooter.right.text.endswith("page &P of &N")
    for title in ("Items", "Cost lines", "Rates", "Cautions"):
        assert workbook[title].print_title_rows == "$4:$4"
        assert workbook[title].freeze_panes == "A5"


def test_no_formula_needs_a_newer_spreadsheet(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    write_estimate(sample_estimate(), path)
    formulas = {
        word
        for sheet in load_workbook(path)
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
        for word in cell.value.replace("(", " ( ").replace("=", " ").split()
        if word.isalpha() and word.isupper() and len(word) > 1
    }
    assert formulas == {"ROUND", "SUM", "SUMIFS", "IF"}


def test_an_expired_quote_is_marked_where_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    write_estimate(sample_estimate(), path)
    sheets = shown(path)
    marked = [row for row in sheets["Rates"] if str(row[10]).startswith("EXPIRED: get a new quote")]
    assert [row[1] for row in marked] == ["Ready-mix concrete, 4,000 psi, delivered"]
    assert any("expired on 2026-02-20" in str(row[0]) for row in sheets["Summary"])


def test_quantities_print_with_the_decimals_of_their_unit(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    write_estimate(sample_estimate(), path)
    sheet = load_workbook(path)["Cost lines"]
    formats = {
        row[7].value: row[6].number_format.split(";")[0]
        for row in sheet.iter_rows(min_row=5)
        if row[7].value
    }
    assert {unit: formats[unit] for unit in ("ea", "bf", "cy", "mbf")} == {
        "ea": "#,##0", "bf": "#,##0.0", "cy": "#,##0.00", "mbf": "#,##0.000",
    }  # fmt: skip


def test_the_digest_is_short_on_the_first_page_and_whole_on_the_last(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    estimate = sample_estimate()
    write_estimate(estimate, path)
    sheets = shown(path)
    assert f"Digest {estimate.digest[:12]}, in full on the last page" in sheets["Summary"][1][0]
    assert ("Digest of the estimate", estimate.digest) in [row[:2] for row in sheets["Basis"]]


def test_assumptions_stand_on_the_summary_after_the_totals(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    estimate = sample_estimate()
    write_estimate(estimate, path)
    first = [row[0] for row in shown(path)["Summary"]]
    heading = first.index("Assumptions")
    assert tuple(first[heading + 1 : heading + 8]) == estimate.scope.assumptions
    assert first.index("Full cost") < heading < first.index("By phase, before markups")


def test_a_markup_on_one_that_does_not_apply_is_on_nothing_and_says_so(tmp_path: Path) -> None:
    fee = {"code": "fee", "name": "Fee", "order": "5", "percent": "3", "on": "overhead"}
    estimate = small_estimate(tmp_path / "tables", with_rows("markups", fee), markups=["fee"])
    write_estimate(estimate, tmp_path / "estimate.xlsx")
    (row,) = (one for one in shown(tmp_path / "estimate.xlsx")["Summary"] if one[0] == "Fee")
    assert "on nothing: what it is taken on does not apply here" in row
