from pathlib import Path

from tests.commands.console import agrees, shown_commands
from tests.commands.running import groundsill

PAGE = Path("docs/rate-tables.md").read_text(encoding="utf-8")


def test_the_shipped_tables_have_no_fault() -> None:
    ran = groundsill("rates", "check")
    assert ran.exit_code == 0
    assert ran.out.splitlines()[-1].startswith("No problems: ")


def test_every_fault_of_a_folder_is_reported_with_file_and_row(tmp_path: Path) -> None:
    (tmp_path / "resources.csv").write_text(
        "code,name,kind,unit,rate,low,high,date,valid_until,paid,source,note\n"
        "odd-stone,Stone,material,perch,-5,,,2026-02-01,,yes,,\n"
        "odd-sand,Sand,matter,ton,abc,,,2026-02-31,,maybe,me,\n",
        encoding="utf-8",
    )
    (tmp_path / "recources.csv").write_text("code\n", encoding="utf-8")
    ran = groundsill("rates", "check", tmp_path)
    assert ran.exit_code == 1
    here = tmp_path.name
    for words in (
        "'recources.csv' is not a rate table; did you mean 'resources.csv'?",
        f"{here} resources.csv row 2, unit: unit 'perch' is ambiguous",
        f"{here} resources.csv row 2: rate '-5' is negative",
        f"{here} resources.csv row 2: source is missing",
        f"{here} resources.csv row 3: kind 'matter' is not known; did you mean 'material'?",
        f"{here} resources.csv row 3: rate 'abc' is not a plain number",
        f"{here} resources.csv row 3: date '2026-02-31' is not a date",
        f"{here} resources.csv row 3: paid 'maybe' is not known",
    ):
        assert words in ran.err


def test_what_prices_and_nobody_would_sign_is_noted_and_not_called_faultless(
    tmp_path: Path,
) -> None:
    (tmp_path / "crews.csv").write_text(
        "crew,resource,number,order_multiple,ordered_per,source,note\n"
        "telehandler-fill,laborer,2,,,own,\n"
        "telehandler-fill,telehandler,1,1,phase,own,\n",
        encoding="utf-8",
    )
    ran = groundsill("rates", "check", tmp_path)
    assert ran.exit_code == 0
    *notes, result = ran.out.splitlines()
    assert notes == [
        "note: assembly 'stone-fill-telehandler': telehandler has no operator; add one, or say in "
        "its note why there is none"
    ]
    assert result.startswith("No faults, 1 to look at: ")


def test_of_thousands_of_faults_the_first_are_shown_and_the_rest_counted(tmp_path: Path) -> None:
    row = "gang,labourer,1,,,invented,\n"
    header = "crew,resource,number,order_multiple,ordered_per,source,note\n"
    (tmp_path / "crews.csv").write_text(header + row * 3_000, encoding="utf-8")
    ran = groundsill("rates", "check", tmp_path)
    assert ran.exit_code == 1
    assert ran.err.startswith("5,999 problems found; nothing was changed.\n")
    assert ran.err.endswith("\nand 5,949 more\n")
    assert len(ran.err.splitlines()) == 52


def test_every_assembly_can_be_shown_in_80_columns() -> None:
    listed = groundsill("rates", "assemblies").out.splitlines()
    codes = [line.split()[0] for line in listed[2:] if line and not line.startswith((" ", "'"))]
    assert len(codes) >= 30
    for code in codes[::6]:
        ran = groundsill("rates", "assemblies", code)
        assert ran.exit_code == 0, ran.err
        assert max(len(line) for line in ran.out.splitlines()) <= 80


def test_an_unknown_assembly_is_a_sentence_with_the_nearest_code() -> None:
    ran = groundsill("rates", "assemblies", "geotextil")
    assert ran.exit_code == 1
    assert "there is no assembly 'geotextil'; did you mean 'geotextile'?" in ran.err


def test_labor_is_printed_beside_public_wages_as_the_page_shows() -> None:
    (shown,) = (
        lines
        for command, lines in shown_commands(PAGE)
        if command == "groundsill rates check --against-public --year 2026"
    )
    ran = groundsill("rates", "check", "--against-public", "--year", "2026")
    assert agrees(shown, ran.out.splitlines()), ran.out + ran.err


def test_labor_rates_of_a_state_are_written_and_price_a_scope(tmp_path: Path) -> None:
    ran = groundsill("rates", "base", "--state", "oh", "--year", "2026", "--out", tmp_path / "ohio")
    assert ran.exit_code == 0, ran.err
    (carpenter,) = (one for one in ran.out.splitlines() if one.startswith("carpenter"))
    assert carpenter.split()[1:3] == ["$29.47", "$42.24"]
    assert groundsill("rates", "check", tmp_path / "ohio").exit_code == 0
    again = groundsill("rates", "base", "--year", "2026", "--out", tmp_path / "ohio")
    assert again.exit_code == 1
    assert "nothing is ever written over them" in again.err


def test_insurance_that_is_no_amount_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    out = tmp_path / "rates"
    ran = groundsill("rates", "base", "--year", "2026", "--out", out, "--compensation", "nine")
    assert ran.exit_code == 1
    assert "nine" in ran.err
    assert not out.exists()
