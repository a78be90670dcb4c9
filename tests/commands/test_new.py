"""A new project is a filled example that prices as it stands, and is never put over anything."""

import json
from pathlib import Path

from tests.commands.running import groundsill

SPRING = ("--on", "2026-03-02")


def test_a_new_project_prices_as_it_stands(tmp_path: Path) -> None:
    folder = tmp_path / "my-building"
    ran = groundsill("new", folder)
    assert ran.exit_code == 0, ran.err
    priced = groundsill("price", folder / "scope.yaml", "--json", *SPRING)
    assert priced.exit_code == 0, priced.err
    estimate = json.loads(priced.out)
    rows = {line["resource"]: line["rate_row"] for line in estimate["lines"]}
    assert rows["gutter-hanger"] == "own-rates resources.csv row 3"
    assert rows["crushed-stone-4"] == "quotes resources.csv row 2"
    assert rows["laborer"].startswith("shipped ")
    assert estimate["warnings"] == []


def test_the_assembly_of_ones_own_is_worked_out_by_hand(tmp_path: Path) -> None:
    """84 ft + 5 % are 88.2 lf; in 10 ft lengths 90 lf x $9.40 = $846.00; 42 x $3.15 = $132.30."""
    groundsill("new", tmp_path / "barn")
    priced = groundsill("price", tmp_path / "barn" / "scope.yaml", "--json", *SPRING)
    lines = {line["resource"]: line for line in json.loads(priced.out)["lines"]}
    assert lines["gutter-half-round"]["amount"] == "846.00"
    assert lines["gutter-hanger"]["amount"] == "132.30"


def test_every_figure_of_the_example_says_that_it_is_invented(tmp_path: Path) -> None:
    groundsill("new", tmp_path / "barn")
    tables = list((tmp_path / "barn").rglob("*.csv"))
    assert len(tables) == 5
    for table in tables:
        rows = table.read_text(encoding="utf-8").splitlines()[1:]
        assert rows
        assert all("invented example" in row for row in rows)


def test_its_tables_have_no_fault(tmp_path: Path) -> None:
    groundsill("new", tmp_path / "barn")
    assert groundsill("rates", "check", tmp_path / "barn" / "own-rates").exit_code == 0


def test_a_folder_that_holds_something_stays_as_it_is(tmp_path: Path) -> None:
    mine = tmp_path / "notes.txt"
    mine.write_text("mine", encoding="utf-8")
    ran = groundsill("new", tmp_path)
    assert ran.exit_code == 1
    assert ran.err.splitlines()[1] == (
        f"- {tmp_path}: holds files already, and nothing is ever written over them; "
        "name a new folder"
    )
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]
