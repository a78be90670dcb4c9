import csv
import json
from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator.rates.folders import shipped_tables
from tests.commands.running import groundsill

SCOPE = "out/harrow-lane-carbarn.yaml"
INDEX = (
    "index,base,kinds,period,value,source\n"
    "wages,2025 = 100,labor,2025-01,100,invented\n"
    "wages,2025 = 100,labor,2026-01,104,invented\n"
    "wages,2025 = 100,labor,2026-07,107,invented\n"
)
PLACES = "location,kind,factor,source\nNorth Bay,all,1.02,invented\nNorth Bay,labor,1.11,invented\n"


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*.csv"))}


def rows_of(path: Path) -> dict[str, dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return {row["code"]: row for row in csv.DictReader(file)}


SHIPPED = shipped_tables().path
LABOR_RATES = sum(row["kind"] == "labor" for row in rows_of(SHIPPED / "resources.csv").values())
CAUTIONS = len(rows_of(SHIPPED / "cautions.csv"))


@pytest.fixture
def moved(tmp_path: Path) -> Path:
    """A folder with wages, moved to July 2026 by an index."""
    (tmp_path / "index.csv").write_text(INDEX, encoding="utf-8")
    ran = groundsill(
        "rates", "adjust", "moved", "--to", "2026-07-15", "--index", "index.csv", folder=tmp_path
    )
    assert ran.exit_code == 0, ran.err
    assert ran.out == f"Written to moved: {LABOR_RATES} rates of 2026-07-15.\n"
    return tmp_path / "moved"


def test_the_shipped_tables_go_out_and_come_back_byte_for_byte(tmp_path: Path) -> None:
    ran = groundsill("rates", "export", "rates.xlsx", folder=tmp_path)
    assert (ran.exit_code, ran.err) == (0, "The tables are in rates.xlsx.\n")
    ran = groundsill("rates", "import", "rates.xlsx", "mine", folder=tmp_path)
    assert ran.exit_code == 0, ran.err
    assert ran.out.splitlines()[-2:] == [f"cautions.csv: {CAUTIONS} rows", "Written to mine."]
    assert files_of(tmp_path / "mine") == files_of(shipped_tables().path)


def test_a_folder_of_quotes_goes_out_as_the_sheets_it_has(demo: Path, tmp_path: Path) -> None:
    ran = groundsill("rates", "export", "out/harrow-lane-quotes", tmp_path / "q.xlsx", folder=demo)
    assert ran.exit_code == 0, ran.err
    assert load_workbook(tmp_path / "q.xlsx").sheetnames == [
        "resources",
        "rents",
        "crews",
        "markups",
    ]


@pytest.mark.parametrize("arguments", [[], ["a", "b", "c.xlsx"], ["rates.csv"]])
def test_an_export_is_called_with_at_most_a_folder_and_a_workbook(arguments: list[str]) -> None:
    assert groundsill("rates", "export", *arguments).exit_code == 2


def export_quotes(demo: Path, folder: Path) -> None:
    """Write the quotes of the sample as a workbook, which takes a moment; all tables take long."""
    quotes = demo / "out" / "harrow-lane-quotes"
    assert groundsill("rates", "export", quotes, "rates.xlsx", folder=folder).exit_code == 0


def test_an_import_with_faults_tells_them_all_and_writes_nothing(
    demo: Path, tmp_path: Path
) -> None:
    export_quotes(demo, tmp_path)
    book = load_workbook(tmp_path / "rates.xlsx")
    book["resources"]["E3"] = "=E2*2"
    book["crews"]["B2"] = "labourer"
    book.save(tmp_path / "rates.xlsx")
    ran = groundsill("rates", "import", "rates.xlsx", "mine", folder=tmp_path)
    assert (ran.exit_code, ran.out) == (1, "")
    assert ran.err.splitlines() == [
        "2 problems found; nothing was changed.",
        "- sheet resources row 3: rate is a formula without a result; let a spreadsheet program "
        "work it out and save",
        "- sheet crews row 2: unknown resource 'labourer'; did you mean 'laborer'?",
    ]
    assert not (tmp_path / "mine").exists()


def test_an_import_never_writes_into_a_folder_that_holds_something(
    demo: Path, tmp_path: Path
) -> None:
    export_quotes(demo, tmp_path)
    ran = groundsill("rates", "import", "rates.xlsx", ".", folder=tmp_path)
    assert ran.exit_code == 1
    assert "holds files already, and nothing is ever written over them" in ran.err
    assert [path.name for path in tmp_path.iterdir()] == ["rates.xlsx"]


def test_moved_rates_say_from_which_row_they_come(moved: Path) -> None:
    mason = rows_of(moved / "resources.csv")["mason"]
    shipped = rows_of(shipped_tables().path / "resources.csv")["mason"]
    assert (shipped["rate"], shipped["date"]) == ("58.00", "2026-01-15")
    # 107 / 104 is 1.028846; 58.00 x 1.028846 is 59.673068
    assert (mason["rate"], mason["date"], mason["valid_until"]) == ("59.6731", "2026-07-15", "")
    assert "58.00 x 1.028846 (wages, 2025 = 100, 2026-01 to 2026-07: invented)" in mason["source"]


def test_moved_rates_pass_the_check_and_can_be_moved_to_a_place(
    moved: Path, tmp_path: Path
) -> None:
    assert groundsill("rates", "check", moved).exit_code == 0
    (tmp_path / "places.csv").write_text(PLACES, encoding="utf-8")
    ran = groundsill(
        "rates", "adjust", "north", "--to", "2026-07-15", "--rates", "moved", "--places",
        "places.csv", "--place", "North Bay", folder=tmp_path,
    )  # fmt: skip
    assert ran.exit_code == 0, ran.err
    north = rows_of(tmp_path / "north" / "resources.csv")
    # 59.6731 x 1.11 is 66.237141; sand 38.00 x 1.02
    assert north["mason"]["rate"] == "66.2371"
    assert north["masonry-sand"]["rate"] == "38.76"
    assert "abatement-allowance" not in north


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Give --index, --public, --yearly, or --places with --place."),
        (["--place", "North Bay"], "Give --places and --place together."),
        (["--yearly", "3", "--rates-of", "here"], "Give --rates-of with --places and --place."),
        (["--yearly", "400"], "400.0 is not in the range"),
    ],
)
def test_a_move_that_is_called_wrongly_says_how(
    tmp_path: Path, arguments: list[str], words: str
) -> None:
    ran = groundsill("rates", "adjust", "new", "--to", "2026-07-15", *arguments, folder=tmp_path)
    assert ran.exit_code == 2
    assert words in ran.err
    assert list(tmp_path.iterdir()) == []


def test_a_yearly_change_that_is_no_number_is_one_sentence(tmp_path: Path) -> None:
    ran = groundsill(
        "rates", "adjust", "new", "--to", "2026-07-15", "--yearly", "nan", folder=tmp_path
    )
    assert ran.exit_code == 1
    assert ran.err.splitlines()[0] == "1 problem found; nothing was changed."
    assert "yearly_change: is not a finite number" in ran.err


def test_an_index_that_does_not_reach_names_every_rate_that_asks_for_it(tmp_path: Path) -> None:
    (tmp_path / "index.csv").write_text(INDEX, encoding="utf-8")
    ran = groundsill(
        "rates", "adjust", "new", "--to", "2027-03-01", "--index", "index.csv", folder=tmp_path
    )
    assert ran.exit_code == 1
    assert ran.err.splitlines()[0] == f"{LABOR_RATES} problems found; nothing was changed."
    assert "mason: index wages has no figure for 2027-03; the nearest that it has: 2026-07" in (
        ran.err
    )
    assert not (tmp_path / "new").exists()


def test_a_comparison_shows_old_and_new_rates_in_80_columns(moved: Path) -> None:
    ran = groundsill("rates", "difference", "shipped", moved)
    assert ran.exit_code == 0, ran.err
    lines = ran.out.splitlines()
    assert lines[0].startswith("Before: shipped, digest ")
    assert lines[1].startswith(f"After:  {moved.name} over shipped, digest ")
    (mason,) = [line for line in lines if line.startswith("mason ")]
    assert mason.split() == ["mason", "2026-07-15", "added", "58.00", "59.6731", "+2.9", "%"]
    assert max(len(line) for line in lines) <= 80


def test_a_set_compared_with_itself_has_no_change(moved: Path) -> None:
    ran = groundsill("rates", "difference", moved, moved)
    assert ran.exit_code == 0
    assert ran.out.splitlines()[-1] == "No row that sets a price changed."


def test_changed_cells_are_shown_old_and_new(tmp_path: Path) -> None:
    for name, note in (("old", "by hand"), ("new", "by machine")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "cautions.csv").write_text(
            "code,caution,defer_to,source,note\nlead-paint,Old paint holds lead.,abatement "
            f"contractor,invented,{note}\n",
            encoding="utf-8",
        )
    ran = groundsill("rates", "difference", "old", "new", folder=tmp_path)
    assert ran.exit_code == 0, ran.err
    assert "  lead-paint, note: by hand -> by machine" in ran.out.splitlines()


def test_with_a_scope_both_prices_stand_side_by_side(demo: Path, moved: Path) -> None:
    ran = groundsill(
        "rates", "difference", "shipped", moved, "--scope", SCOPE, "--on", "2026-08-01", folder=demo
    )
    assert ran.exit_code == 0, ran.err
    (total,) = [line for line in ran.out.splitlines() if line.startswith("Full cost ")]
    old, new, rise = (Decimal(word.replace(",", "")) for word in total.split()[2:5])
    assert old + rise == new
    assert rise > 0
    assert max(len(line) for line in ran.out.splitlines()) <= 80


def test_as_json_the_rises_of_the_items_add_up_to_those_of_the_totals(
    demo: Path, moved: Path
) -> None:
    ran = groundsill(
        "rates", "difference", "shipped", moved, "--scope", SCOPE, "--on", "2026-08-01", "--json",
        folder=demo,
    )  # fmt: skip
    told = json.loads(ran.out)
    totals = {total["name"]: Decimal(total["rise"]) for total in told["scope"]["totals"]}
    assert len(told["changes"]) == LABOR_RATES
    assert sum(Decimal(item["rise"]) for item in told["scope"]["items"]) == (
        totals["Direct cost"] + totals["Unpaid value (own labor and material)"]
    )


def test_rates_of_a_later_day_do_not_price_an_earlier_one(demo: Path, moved: Path) -> None:
    ran = groundsill(
        "rates", "difference", "shipped", moved, "--scope", SCOPE, "--on", "2026-07-14", "--json",
        folder=demo,
    )  # fmt: skip
    assert json.loads(ran.out)["scope"]["items"] == []


def test_a_comparison_with_a_folder_that_is_not_there_is_called_wrongly() -> None:
    ran = groundsill("rates", "difference", "shipped", "no-such-folder")
    assert ran.exit_code == 2
    assert "'no-such-folder' is not a folder; name one, or 'shipped'." in ran.err
