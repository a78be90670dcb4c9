import io
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from estimator.assemblies.tables import Tables, load_tables
from estimator.errors import FileNotWritten, ScopeFaulty
from estimator.rates.folders import shipped_tables
from estimator.scheduling.dated_estimate import price
from estimator.scope.located import Listing, Section, Text
from estimator.scope.scope_digest import scope_digest
from estimator.scope.scope_reader import read_scope
from estimator.workbook.scope.scope_reader import read_scope_workbook
from estimator.workbook.scope.scope_template import write_scope, write_template
from tests.factories import MADE, SPRING, item, located, made_tables


@pytest.fixture(scope="module")
def shipped() -> Tables:
    return load_tables([shipped_tables()])


@pytest.fixture(scope="module")
def template(shipped: Tables, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("template") / "empty-scope.xlsx"
    write_template(shipped, path)
    return path


def lists_offered(sheet: Worksheet) -> dict[str, str]:
    return {
        str(rule.sqref): rule.formula1
        for rule in sheet.data_validations.dataValidation
        if rule.type == "list"
    }


def resaved(source: Path, folder: Path) -> Path:
    """Return the workbook as LibreOffice saves it."""
    program = shutil.which("soffice")
    if program is None:
        pytest.skip("LibreOffice (soffice) is not installed")
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    subprocess.run(
        [program, profile, "--headless", "--convert-to", "xlsx", "--outdir", str(folder / "saved"),
         str(source)],
        check=True, capture_output=True, timeout=240,
    )  # fmt: skip
    return folder / "saved" / source.name


def scope_text(*items: object) -> Section:
    written = located(
        {"project": "Barn", "phases": [{"code": "20", "name": "Pits", "items": list(items)}]}
    )
    assert isinstance(written, Section)
    return written


def test_the_template_prices_as_it_stands(template: Path, shipped: Tables) -> None:
    written = read_scope_workbook(template.read_bytes(), template.name)
    estimate = price(read_scope(written, shipped), shipped, SPRING)
    (one,) = estimate.scope.items
    assert (one.code, one.assembly.code) == ("20.010", "stone-fill-skid-steer")
    # 62.5 ft x 22 1/3 ft x 4 1/8 ft at 1.30 ton/cy, and 5 % settlement: 291.095 ton
    assert estimate.items["quantity"].tolist() == [pytest.approx(291.1, abs=0.05)]
    assert estimate.cash_cost > 0
    assert "invented" in one.name
    assert "invented" in estimate.scope.project


def test_the_template_still_reads_after_a_spreadsheet_program_has_saved_it(
    template: Path, shipped: Tables, tmp_path: Path
) -> None:
    saved = resaved(template, tmp_path)
    before, after = (
        read_scope(read_scope_workbook(path.read_bytes(), "scope.xlsx"), shipped)
        for path in (template, saved)
    )
    assert scope_digest(before) == scope_digest(after)


def test_a_template_of_other_tables_prices_too(tmp_path: Path) -> None:
    tables = made_tables(tmp_path)
    path = tmp_path / "empty.xlsx"
    write_template(tables, path)
    scope = read_scope(read_scope_workbook(path.read_bytes(), path.name), tables)
    # The assembly that asks for least: one required input, 1 to 20,000 sf, a quarter of the way up.
    assert scope.items[0].assembly.code == "slab-pour"
    assert scope.items[0].inputs["area"].text == "5001 sf"
    assert price(scope, tables, SPRING).cash_cost > 0


def test_the_same_tables_give_the_same_bytes(
    template: Path, shipped: Tables, tmp_path: Path
) -> None:
    again = tmp_path / "again.xlsx"
    write_template(shipped, again)
    assert again.read_bytes() == template.read_bytes()


def test_drop_down_lists_offer_phases_assemblies_crews_and_the_inputs_of_the_assembly(
    template: Path, shipped: Tables
) -> None:
    workbook = load_workbook(template)
    items = lists_offered(workbook["Items"])
    assert items["A2:A2000"] == "phase_codes"
    assert items["D2:D2000"] == "assembly_codes"
    assert items["E2:E2000"] == "crew_codes"
    assert items["H2:H2000"].startswith("OFFSET('Assemblies'!$D$1,MATCH($D2,'Assemblies'!$A$1:$A$")
    assert lists_offered(workbook["Project"]) == {"B11": "markup_codes"}
    assert workbook["Project"]["A11"].value == "markups"
    last = len(shipped.catalogue.assemblies) + 1
    assert workbook.defined_names["assembly_codes"].attr_text == f"'Lists'!$A$2:$A${last}"
    listed = [cell.value for (cell,) in workbook["Lists"][f"A2:A{last}"]]
    assert listed == list(shipped.catalogue.assemblies)


def test_every_assembly_is_listed_with_what_it_asks_for(template: Path, shipped: Tables) -> None:
    rows = list(load_workbook(template)["Assemblies"].iter_rows(values_only=True))
    by_input = {(row[0], row[3]): row for row in rows}
    for code, assembly in shipped.catalogue.assemblies.items():
        for one in assembly.inputs:
            assert ((code, one.name) in by_input) is not one.is_derived
    length = by_input["guard-rails", "length"]
    assert length == (
        "guard-rails", "Temporary guard rails at open sides", "lf", "length", "ft", "required",
        "4 to 2,000", "open side to be railed",
    )  # fmt: skip
    assert by_input["guard-rails", "rail_height"][5:7] == ("42", "39 to 45")


def test_cells_to_fill_in_are_formatted_as_text(template: Path) -> None:
    workbook = load_workbook(template)
    for sheet, last_column in (("Phases", 2), ("Items", 23)):
        for row in (2, 3, 30):
            for column in range(1, last_column + 1):
                assert workbook[sheet].cell(row, column).number_format == "@"


def test_no_word_of_the_tables_becomes_a_formula(tmp_path: Path) -> None:
    names = [row | {"name": f"=1+1 {row['name']}"} for row in MADE["assemblies"]]
    path = tmp_path / "empty.xlsx"
    write_template(made_tables(tmp_path, MADE | {"assemblies": names}), path)
    with zipfile.ZipFile(io.BytesIO(path.read_bytes())) as archive:
        sheets = [archive.read(name) for name in archive.namelist() if "worksheets" in name]
    assert any(b"=1+1 Slab" in sheet for sheet in sheets)
    assert not any(b"<f>" in sheet for sheet in sheets)


def test_a_scope_with_many_inputs_gets_columns_for_them(tmp_path: Path) -> None:
    tables = made_tables(tmp_path)
    written = scope_text(
        item(
            "010", "stone-fill", length="27 ft", width="10 ft", depth=["1 ft", "3 ft"],
            density="1.5 ton/cy", lost="4 %", load_size="11 ton", production_rate="20 ton/hr",
        ),
        item(
            "020", "floor-cut", length="1,027 ft", blade_life="100 ft/blade", strip="6 in",
            thickness="2 in", recovery="50 %", load_volume="18 cy/load",
            production_rate="20 lf/hr",
        ),
    )  # fmt: skip
    path = tmp_path / "barn.xlsx"
    write_scope(written, tables, path)
    read = read_scope(read_scope_workbook(path.read_bytes(), path.name), tables)
    assert scope_digest(read) == scope_digest(read_scope(written, tables))


def test_no_markups_stay_none(tmp_path: Path) -> None:
    tables = made_tables(tmp_path)
    entries = scope_text(item("010", "floor-cut", length="9 ft")).entries
    path = tmp_path / "barn.xlsx"
    write_scope(Section({**entries, "markups": Listing((), "")}, ""), tables, path)
    assert read_scope(read_scope_workbook(path.read_bytes(), "x.xlsx"), tables).markups == ()


def test_what_is_no_scope_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "barn.xlsx"
    with pytest.raises(ScopeFaulty):
        write_scope(Text("barn", "x"), made_tables(tmp_path), path)
    assert not path.exists()


def test_a_folder_that_is_not_there_is_a_sentence(shipped: Tables, tmp_path: Path) -> None:
    with pytest.raises(FileNotWritten, match="cannot be written"):
        write_template(shipped, tmp_path / "nowhere" / "empty.xlsx")


def test_sums_and_alternates_come_back_from_a_workbook(tmp_path: Path) -> None:
    tables = made_tables(tmp_path)
    bid = {
        "firm": "Millrace", "amount": "$18,400", "date": "2026-02-20", "valid_until": "2026-05-20",
        "includes": ["service", "panel"], "days": "6 day",
    }  # fmt: skip
    items = [
        {"code": "010", "name": "Power", "subcontract": bid},
        {"code": "020", "name": "Paint", "alternate": "A1", "lump_sum": {"deduct": "$1,900"}},
    ]
    phases = [{"code": "70", "name": "Power", "items": items}]
    alternates = [{"code": "A1", "name": "No paint", "accepted": "yes"}]
    written = located({"project": "Barn", "alternates": alternates, "phases": phases})
    assert isinstance(written, Section)
    path = tmp_path / "s.xlsx"
    write_scope(written, tables, path)
    read = read_scope(read_scope_workbook(path.read_bytes(), "s.xlsx"), tables)
    assert scope_digest(read) == scope_digest(read_scope(written, tables))
