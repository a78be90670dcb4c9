"""Files of rate tables as spreadsheets, phones and accidents leave them."""

import csv

import pytest

from estimator.errors import Faults
from estimator.rates.csv_file import csv_text_rows
from estimator.rates.folders import TableFolder, shipped_tables
from tests.factories import MADE, faults_of, with_cells, with_rows, write_folder

HEADER = "material,density,unit,state,date,source,note"
STONE = "stone,1.35,ton/cy,in place,,invented,"


def density_faults(path, content):
    folder = write_folder(path / "made", {})
    data = content if isinstance(content, bytes) else content.encode()
    (folder.path / "densities.csv").write_bytes(data)
    return faults_of(folder)


@pytest.mark.parametrize(
    "content",
    [
        f"{HEADER}\n{STONE}\n",
        f"{HEADER}\n{STONE}",
        f"\ufeff{HEADER}\n{STONE}\n",
        f"{HEADER}\r\n{STONE}\r\n",
        f"{HEADER}\r{STONE}\r",
        f"{HEADER}\n\n , ,,,,,\n{STONE}\n\n",
        f"{HEADER.replace(',', ' , ')}\n{STONE.replace(',', ' , ')}\n",
        "source,note,material,state,density,unit,date\ninvented,,stone,in place,1.35,ton/cy,\n",
        f"{HEADER}\n",
    ],
)
def test_a_table_reads_the_same_from_any_spreadsheet(tmp_path, content):
    assert density_faults(tmp_path, content) == []


@pytest.mark.parametrize(
    ("content", "sentences"),
    [
        ("", [f"made densities.csv: is empty; its first row names the columns: {HEADER}"]),
        ("\ufeff", [f"made densities.csv: is empty; its first row names the columns: {HEADER}"]),
        (f"{HEADER}\n{STONE}".encode("utf-16"),
         ["made densities.csv: is not UTF-8 text at byte 0; save it as CSV UTF-8"]),
        (f"{HEADER}\nst\u00e4in,1,ton/cy,bank,,x,".encode("latin-1"),
         ["made densities.csv: is not UTF-8 text at byte 47; save it as CSV UTF-8"]),
        ("material,density,unit,state,date,source\nstone,1.35,ton/cy,bank,,x\n",
         ["made densities.csv row 1: has no column 'note'"]),
        (f"{HEADER},colour\n{STONE},red\n",
         ["made densities.csv row 1: has an unknown column 'colour'; use one of 'date', "
          "'density', 'material', 'note', 'source', 'state', 'unit'"]),
        ("material,densty,unit,state,date,source,note\n",
         ["made densities.csv row 1: has no column 'density'",
          "made densities.csv row 1: has an unknown column 'densty'; did you mean 'density'?"]),
        (f"{HEADER},note\n{STONE},\n", ["made densities.csv row 1: names the column 'note' twice"]),
        (f"{HEADER}\nstone,1.35\n{STONE},,\n",
         ["made densities.csv row 2: has 2 cells where the table has 7 columns",
          "made densities.csv row 3: has 9 cells where the table has 7 columns"]),
        (f'{HEADER}\nstone,1.35,ton/cy,bank,,"two\nlines",\nsoil,0,ton/cy,bank,,x,\n',
         ["made densities.csv row 2: source has control characters; type the text again",
          "made densities.csv row 3: density is zero"]),
        (f"{HEADER}\nstone,1.35,ton/cy,bank,,x\x00y,\n",
         ["made densities.csv row 2: source has control characters; type the text again"]),
        (f"{HEADER}\nstone,1.35,ton/cy,bank,,x\u202ey,\n",
         ["made densities.csv row 2: source has control characters; type the text again"]),
        (f"{HEADER}\nstone,1.35,ton/cy,bank,,{'x' * 2001},\n",
         ["made densities.csv row 2: source is longer than 2000 characters"]),
        (f"{HEADER}\nstone,1.3\x005,ton/cy,bank,,x,\n",
         ["made densities.csv row 2: density has control characters; type the text again"]),
        (f"{HEADER}\nstone,{'1' * 2001},ton/cy,bank,,x,\n",
         ["made densities.csv row 2: density is longer than 2000 characters"]),
        (f"{HEADER}\n{STONE}\nsoil,1,ton/cy,bank,,{'x' * 140_000},\n",
         ["made densities.csv after row 2: is not CSV: field larger than field limit (131072)"]),
        (f'{HEADER}\nstone,1.35,ton/cy,bank,,"never closed,\n',
         ["made densities.csv after row 1: is not CSV: unexpected end of data"]),
        (f'{HEADER}\nstone,1.35,ton/cy,bank,,"a"b,\n',
         ["made densities.csv after row 1: is not CSV: ',' expected after '\"'"]),
    ],
)  # fmt: skip
def test_a_damaged_table_is_reported_by_file_and_row(tmp_path, content, sentences):
    assert density_faults(tmp_path, content) == sentences


def test_rows_count_as_in_a_spreadsheet_whatever_a_cell_holds(tmp_path):
    content = f'{HEADER}\n\nstone,1.35,ton/cy,bank,," padded\n",\nsoil,0,ton/cy,bank,,x,\n'
    assert density_faults(tmp_path, content) == ["made densities.csv row 4: density is zero"]


def test_a_table_of_more_than_20_mb_is_not_read(tmp_path):
    folder = write_folder(tmp_path / "made", {})
    with (folder.path / "cautions.csv").open("wb") as file:
        file.truncate(20_000_001)
    assert faults_of(folder) == ["made cautions.csv: is larger than 20 MB"]


def test_a_folder_that_is_missing_empty_or_holds_a_strange_table_is_reported(tmp_path):
    (tmp_path / "empty").mkdir()
    (tmp_path / "strange").mkdir()
    (tmp_path / "strange" / "resource.csv").write_text("code\n", encoding="utf-8")
    folders = [TableFolder(name, tmp_path / name) for name in ("absent", "empty", "strange")]
    shown = {name: f"folder '{quote(tmp_path / name)}'" for name in ("absent", "empty", "strange")}
    assert faults_of(*folders) == [
        f"{shown['absent']}: is not a folder of rate tables",
        f"{shown['empty']}: holds no rate table; docs/rate-tables.md lists the file names",
        f"{shown['strange']}: 'resource.csv' is not a rate table; did you mean 'resources.csv'?",
    ]


def quote(path):
    text = str(path)
    return text if len(text) <= 60 else text[:60] + "..."


def test_a_set_may_hold_only_the_rows_that_differ(tmp_path):
    own = {"resources": [MADE["resources"][3] | {"rate": "23.10"}]}
    assert faults_of(shipped_tables(), write_folder(tmp_path / "own", own)) == []


def test_a_spreadsheet_that_quotes_every_cell_changes_nothing(tmp_path):
    folder = write_folder(tmp_path / "made", MADE)
    for path in folder.path.glob("*.csv"):
        rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
        with path.open("w", encoding="utf-8-sig", newline="") as file:
            csv.writer(file, quoting=csv.QUOTE_ALL).writerows(rows)
    assert faults_of(folder) == []


def test_each_repeated_row_is_one_fault_however_many_there_are(tmp_path):
    for stem in MADE:
        rows = with_rows(stem, *[MADE[stem][0]] * 30)
        assert (stem, len(faults_of(write_folder(tmp_path / stem, rows)))) == (stem, 30)


def test_of_fifty_thousand_strange_columns_a_thousand_are_listed():
    faults = Faults()
    heading = ",".join(f"{n}x" for n in range(50_000))
    assert list(csv_text_rows(heading, "crews.csv", "quotes", ["code", "number"], faults)) == []
    assert (len(faults.entries), faults.count) == (1_000, 50_002)


@pytest.mark.parametrize(
    ("stem", "column"),
    [
        ("assemblies", "quantity"),
        ("assembly_inputs", "formula"),
        ("assembly_lines", "formula"),
        ("assembly_lines", "waste"),
        ("assembly_lines", "order_multiple"),
        ("assembly_lines", "minimum"),
    ],
)
def test_a_number_of_290_hexadecimal_digits_is_a_fault_of_its_cell(tmp_path, stem, column):
    tables = with_cells(stem, 2, **{column: "0x" + "f" * 290})
    (told, *_) = [one for one in faults_of(write_folder(tmp_path, tables)) if "0xff" in one]
    assert told.startswith(f"made {stem}.csv row 2, {column}: formula '0xff")
    assert "which is not a plain number; write it as 1234.50" in told
