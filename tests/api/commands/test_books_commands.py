"""The books from the command line, on a database that is made when it is first needed."""

from __future__ import annotations

import json
import os
import shutil

import pytest

from api.ledger.entry_kinds import ENTRY_KINDS
from tests.api.estimates.made import PITS
from tests.commands.running import groundsill

COST = (
    "log", "cost", "--vendor", "Ridge Road Quarry", "--document", "Q-1187", "--net", "1440.00",
    "--tax", "100.80", "--split", "30.020:material", "--happened", "2026-03-12",
)  # fmt: skip


@pytest.fixture
def scope(tmp_path, monkeypatch):
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
    path = tmp_path / "scope.yaml"
    path.write_text(PITS)
    return path


@pytest.fixture
def books(scope, pits_books, tmp_path):
    """The books of the scope, opened once for all tests; what the command said."""
    shutil.copytree(pits_books[0] / "data", tmp_path / "data")
    return pits_books[1]


def ran_well(*arguments):
    ran = groundsill(*arguments)
    assert ran.exit_code == 0, ran.err
    return ran.out


def test_one_command_opens_the_books_of_a_scope_and_tells_the_budget(books):
    assert books.out.splitlines()[0] == "The books of Harrow Lane Carbarn are open."
    assert ran_well("books", "list").endswith("Harrow Lane Carbarn\n")


@pytest.mark.skipif(os.name != "posix", reason="modes of files are those of POSIX")
def test_the_database_is_made_for_its_owner_alone(books, tmp_path):
    (file,) = (tmp_path / "data").glob("*.sqlite3")
    assert file.stat().st_mode & 0o777 == 0o600


def test_books_are_opened_once(books, scope):
    assert "are open already" in groundsill("books", "open", scope).err


def test_without_open_books_the_remedy_is_named(scope):
    assert "'groundsill books open SCOPE' opens them" in groundsill("track").err


def test_an_entry_is_posted_with_its_notes_and_shown_in_the_report(books):
    assert ran_well(*COST) == "Row 1 is posted: cost of 2026-03-12, $1,540.80\n"
    assert ran_well("log", "progress", "--code", "30.020", "--in-place", "60").startswith("Row 2")
    shown = ran_well("track")
    assert "30.020" in shown
    assert "Incurred                               $1,540.80" in shown
    assert json.loads(ran_well("track", "--json"))["project"]["incurred"] == "1540.80"


def test_phases_are_named_and_those_without_any_row_are_one_sentence(books):
    quiet = "Nothing has happened on 1 other phase; its budget is"
    before = ran_well("track").split("By phase, in whole dollars")[1].split("How sure")[0]
    assert "Pits filled" not in before
    assert (
        "Pits filled"
        in ran_well("track", "--all").split("By phase, in whole dollars")[1].split("How sure")[0]
    )
    ran_well(*COST)
    after = ran_well("track").split("By phase, in whole dollars")[1].split("How sure")[0]
    assert "30     Pits filled" in after
    assert (quiet in before, quiet in after) == (True, False)
    assert json.loads(ran_well("track", "--json"))["phases"][0]["name"] == "Pits filled"


def test_all_faults_of_an_entry_come_together_by_the_names_of_the_options(books):
    ran = groundsill(
        "log", "cost", "--vendor", "Q", "--net", "1,440", "--split", "30.02:stone",
        "--happened", "15.4.2026",
    )  # fmt: skip
    assert ran.exit_code == 1
    assert [line.split(":")[0] for line in ran.err.splitlines()[1:]] == [
        "- happened", "- net", "- splits 1, kind",
    ]  # fmt: skip


def test_a_row_is_taken_back_once(books):
    ran_well(*COST)
    assert ran_well("reverse", "1").endswith("-$1,540.80, reversing row 1\n")
    assert "row 1 is reversed already, by row 2" in groundsill("reverse", "1").err


def test_a_bill_is_split_by_amounts_that_add_up(books):
    split = ("--split", "30.020:material:1000.00", "--split", "30.020:haul:440.00")
    base = [one for one in COST if one not in ("--split", "30.020:material")]
    assert "$1,540.80" in ran_well(*base, *split)
    wrong = groundsill(*base[:-2], "--document", "Q-2", *split[:2], "--split", "30.020:haul:1.00")
    assert "add up to $1,001.00, not to the net of $1,440.00" in wrong.err


def test_a_change_is_written_in_parts(books):
    ran_well(
        "log", "change", "--reason", "soft ground", "--part", "30.020:material:432.00:18:3",
        "--part", "contingency:-432.00",
    )  # fmt: skip
    shown = json.loads(ran_well("track", "--json"))
    assert shown["project"]["changes"] == "0.00"


def test_one_code_is_shown_by_kind(books):
    ran_well(*COST)
    assert "material" in ran_well("track", "--code", "30.020")
    assert "did you mean '30.020'?" in groundsill("track", "--code", "30.02").err


def test_a_past_day_is_shown_as_it_was(books):
    ran_well(*COST)
    assert (
        "books of the project are not open" in groundsill("track", "--known-on", "2026-03-01").err
    )
    assert '"incurred": "0.00"' in ran_well("track", "--as-of", "2026-03-11", "--json")


def test_every_kind_of_entry_has_a_command_with_help(books):
    listed = ran_well("log", "--help").split("Commands:\n")[1].split("\n")
    names = [line.split()[0] for line in listed if line[2:3].strip()]  # what goes on is indented
    assert len(names) == len(ENTRY_KINDS) + 1  # and the closing of a week
    for name in names:
        assert ("--ends" if name == "week" else "--happened") in ran_well("log", name, "--help")


def test_a_workweek_is_closed_with_terms_that_were_logged_before(books):
    """7.5 hr at $24: $180.00; Medicare $2.61, insurance at 9 % $16.20: $198.81."""
    ran_well(
        "log", "payroll-terms", "--happened", "2026-01-01", "--tax", "Medicare:0.0145",
        "--insurance", "compensation:9.00",
    )  # fmt: skip
    ran_well(
        "log", "hours", "--happened", "2026-03-11", "--person", "AB", "--trade", "laborer",
        "--code", "30.020", "--hours", "7.5", "--rate", "24.00",
    )  # fmt: skip
    assert "$180.00, without overtime and burden" in " ".join(ran_well("track").split())
    assert ran_well("log", "week", "--ends", "2026-03-15") == (
        "Row 3 is posted: cost of 2026-03-15, $198.81\n"
    )
    assert "there are no hours" in groundsill("log", "week", "--ends", "2026-03-15").err
    assert "write NAME:FRACTION" in groundsill("log", "payroll-terms", "--tax", "Medicare").err


def test_a_machine_on_rent_is_shown_with_what_has_accrued(books):
    rent = ("--machine", "lift", "--vendor", "Yard", "--code", "30.020", "--day", "295.00")
    ran_well("log", "rent", "--happened", "2026-03-09", *rent)
    shown = ran_well("track", "--as-of", "2026-03-11")
    (line,) = [line for line in shown.splitlines() if "2026-03-09" in line and "lift" in line]
    assert line.split() == ["1", "lift", "2026-03-09", "2026-03-11", "885.00", "885.00"]
    ran_well("log", "call-off", "--rent", "1", "--happened", "2026-03-09")
    assert "295.00" in ran_well("track", "--as-of", "2026-03-11")


def test_the_credit_is_shown_with_its_test_and_who_must_be_asked(books):
    ran_well(*COST)
    told = ["credit", "--basis", "$1,000", "--in-service", "2026-10-01"]
    shown = ran_well(*told, "--entries")
    assert "Normally counts                                $1,540.80" in shown
    assert max(map(len, shown.splitlines())) <= 80
    assert "misses the test by $3,459.20" in " ".join(shown.split())
    assert "$308.16" in shown
    assert "for a tax adviser" in " ".join(shown.split())
    assert (
        "write it without the minus sign"
        in groundsill("credit", "--basis", "-$5", "--in-service", "2026-10-01").err
    )
    ran_well(
        "log", "credit-answer", "--cost", "1", "--answer", "no", "--reason", "site work",
        "--decides", "tax adviser",
    )  # fmt: skip
    assert json.loads(ran_well(*told, "--json"))["by_answer"]["no"] == "1540.80"


def test_the_basis_is_as_the_books_state_it_or_must_be_stated(books):
    refused = groundsill("credit", "--in-service", "2026-10-01")
    assert refused.exit_code == 1
    assert "groundsill log basis" in refused.err
    ran_well("log", "basis", "--happened", "2026-01-02", "--amount", "5100.00")
    shown = json.loads(ran_well("credit", "--in-service", "2026-10-01", "--json"))
    assert shown["windows"][0]["to_exceed"] == "5100.00"


def test_a_code_is_traced_to_its_rows_and_to_the_rates_of_its_budget(books):
    ran_well(*COST)
    shown = ran_well("trace", "30.020")
    assert "Q-1187" in shown
    assert "Budget as accepted" in shown
    assert "Sales tax: " in shown
    assert "Rate" in shown or "rate" in shown
    assert json.loads(ran_well("trace", "30.020", "--json"))["rows"][0]["row"] == 1
    assert "there is no cost code '30.02'" in groundsill("trace", "30.02").err


def test_learned_prices_are_shown_and_written_only_on_a_yes(books, tmp_path):
    assert "nothing to learn from" in ran_well("rates", "learn")
    for number, net in enumerate(("500.00", "510.00", "520.00")):
        ran_well(
            "log", "cost", "--vendor", "Quarry", "--document", f"Q-{number}", "--net", net,
            "--split", "30.020:material", "--quantity", "20", "--unit", "ton",
            "--happened", "2026-03-12",
        )  # fmt: skip
    assert "crushed-stone-4" in ran_well("rates", "learn")
    folder = tmp_path / "learned"
    assert groundsill("rates", "learn", "--to", folder).exit_code == 1
    assert not folder.exists()
    ran_well("rates", "learn", "--to", folder, "--yes")
    assert "own record: 3 observations" in (folder / "resources.csv").read_text(encoding="utf-8")
    shown = ran_well("rates", "difference", "shipped", folder, "--scope", tmp_path / "scope.yaml")
    assert "crushed-stone-4" in shown or "Crushed stone" in shown


def test_a_day_sheet_is_printed_without_a_dollar_and_typed_in_later(books):
    plan = ("--start", "2026-03-16", "--finish", "2026-03-20", "--happened", "2026-03-12")
    ran_well("log", "plan", "--code", "30.020", *plan)
    page = ran_well("books", "daysheet", "2026-03-17")
    assert page.splitlines()[0].endswith("Day sheet, Tuesday 2026-03-17")
    assert "30.020 Stone fill, west pit" in page
    assert "30.010" not in page
    assert "Nobody behind a backing truck" in page
    assert "$" not in page
    assert max(map(len, page.splitlines())) == 80
    assert "No item is planned" in ran_well("books", "daysheet", "2026-05-01")
    sheet = ("--happened", "2026-03-12", "--weather", "=rain()", "--person", "AB", "--person", "CD")
    told = ran_well("log", "day", *sheet, "--lost", "6:rain", "--temperature-f", "-4.5")
    assert told == "Row 2 is posted: day of 2026-03-12\n"
    ran_well("log", "day", "--happened", "2026-03-13", "--lost", "1.5:rain")
    assert "Hours lost, in no figure above: 7.5 hr rain" in ran_well("track")
    assert json.loads(ran_well("track", "--json"))["lost_hours"] == {"rain": "7.5"}
    shown = ran_well("books", "quantities")
    assert "30.020  Stone fill, west pit" in shown
    assert "$" not in shown
    assert "Hours lost: 7.5 hr rain" in shown
