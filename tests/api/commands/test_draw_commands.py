"""Draws from the command line, on the sample: stored material, papers, short funding, release."""

from __future__ import annotations

import json
import shutil

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from tests.commands.running import groundsill


@pytest.fixture
def books(tmp_path, sample_books, monkeypatch):
    """The sample after two draws, in a folder of its own."""
    shutil.copytree(sample_books[0], tmp_path / "data")
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)


def ran_well(*arguments):
    ran = groundsill("draw", *arguments)
    assert ran.exit_code == 0, ran.err
    return ran.out


def told(*arguments):
    return json.loads(ran_well(*arguments, "--json"))


def test_a_draw_is_opened_cut_funded_short_and_the_rest_is_in_the_next(books):
    opened = told("open", "--through", "2026-06-14", "--interest", "212.40", "--leave-out", "818")
    reserve = opened["request"]["lines"][-1]
    assert (reserve["billed"], reserve["unbacked"]) == ("212.40", "212.40")
    asked = opened["request"]["totals"]["requested"]
    assert told("show")["request"]["lines"] == opened["request"]["lines"]
    assert told("submit")["request"]["totals"]["requested"] == asked
    cut = "4:1000.00:not compacted: come back"
    granted = told("decide", "3", "--cut", cut)["granted"]["totals"]
    assert granted["requested"] == f"{float(asked) - 900:.2f}"
    paid = f"{float(granted['loan']) - 350 - 75:.2f}"
    said = ran_well("fund", "3", "--day", "2026-06-26", "--amount", paid, "--fees", "350")
    assert "$75.00 short" in said
    again = told("open", "--through", "2026-06-14", "--interest", "0")["request"]
    assert again["totals"]["short_funded"] == "75.00"
    assert [one["billed"] for one in again["lines"] if one["line"] == "4"] == ["1000.00"]
    assert ran_well("list").splitlines()[2] == "Draw 3, version 1, through 2026-06-14: funded"
    assert groundsill("database", "verify").exit_code == 0


AMENDMENT = """since: 2026-06-10
reason: letter
terms: {ends: 2026-01-01, rates: [{since: 2026-07-01, percent: %s}]}
"""


def test_what_is_wrong_is_said_in_a_sentence_and_nothing_is_stored(books, tmp_path):
    letter = tmp_path / "letter.yaml"
    wrong = {
        ("draw", "open", "--through", "2026-05-30"): "2026-05-30 is before the end of draw 2",
        ("draw", "open", "--through", "2026-03-31"): "costs may be drawn from that day on",
        ("draw", "open", "--through", "2026-06-14", "--stored", "825:3933.72"): (
            "stored: row 825 has $3,933.71 on line 4; $3,933.72 of it cannot be stored"
        ),
        ("log", "progress", "--code", "20.080", "--in-place", "99", "--percent",
         "--happened", "2026-06-13"): "goes back from 1518 bricks on 2026-05-22 to 99 %; give the",
        ("draw", "amend", letter, "100.01"): "rates 1, percent: is too large; 100 is the most",
        ("draw", "amend", letter, "9"): "ends: 2026-01-01 is not after the closing on 2026-04-06",
        ("draw", "close"): "no draw is open",
    }  # fmt: skip
    before = groundsill("database", "verify").out
    for arguments, sentence in wrong.items():
        if "amend" in arguments:
            letter.write_text(AMENDMENT % arguments[-1])
            arguments = arguments[:-1]
        ran = groundsill(*arguments)
        assert (ran.exit_code, sentence in " ".join(ran.err.split())) == (1, True), ran.err
    assert groundsill("database", "verify").out == before
    told("open", "--through", "2026-06-14")
    assert "nothing of it was submitted" in ran_well("close")
    assert "no draw is open" in groundsill("draw", "show").err


def test_retainage_of_complete_lines_is_released_and_of_others_not(books):
    paid = ("--vendor", "Gantry Hill Scaffold", "--document", "G-9", "--net", "2349.06")
    split = ("--split", "10.040:equipment")
    assert groundsill("log", "cost", "--happened", "2026-06-13", *paid, *split).exit_code == 0
    told("open", "--through", "2026-06-13")
    told("submit")
    told("decide", "3")
    told("fund", "3", "--day", "2026-06-20")
    released = told("release", "--line", "2", "--through", "2026-06-14")
    # a tenth of the line's $47,767.58
    assert released["request"]["totals"]["requested"] == "4776.76"
    assert released["request"]["backup"] == []
    told("submit")
    told("decide", "4")
    told("fund", "4", "--day", "2026-06-26")
    ran = groundsill("draw", "release", "--line", "4", "--through", "2026-06-14")
    assert (ran.exit_code, "line 4 is not complete" in ran.err) == (1, True)
    later = told("open", "--through", "2026-06-14")["request"]["lines"]
    assert [one["retainage"] for one in later[1:2]] == ["0.00"]


def test_a_draw_shows_the_pictures_that_were_entered_before_it(books):
    """Two of the west pit were entered on 2026-06-13, after draw 2 was submitted."""
    shown = {}
    for name, request in (
        ("2", told("show", "2")),
        ("open", told("open", "--through", "2026-06-14")),
    ):
        codes = [code for line in request["request"]["lines"] for code in line["codes"]]
        (stone,) = [one for one in codes if one["code"] == "30.020"]
        shown[name] = sum(words.startswith("picture ") for words in stone["covered"])
    assert shown == {"2": 0, "open": 2}


def test_stored_material_is_drawn_with_its_bill_of_sale(books):
    opened = told("open", "--through", "2026-06-14", "--stored", "825:500.00")
    line = next(one for one in opened["request"]["lines"] if one["line"] == "4")
    assert line["stored"] == "500.00"
    assert "bill of sale is missing (row 825, on site)" in opened["notes"]
    assert "Paper" in ran_well(
        "evidence", "--kind", "bill of sale", "--name", "B-1", "--issued", "2026-06-10",
        "--row", "825",
    )  # fmt: skip
    assert not [one for one in told("show")["notes"] if "bill of sale" in one]


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("open", "--through", "2026-06-14", "--stored", "x:5"), "stored 1, row: is not right"),
        (("open", "--through", "2026-06-14", "--stored", "\u00b2:5"), "stored 1, row: is not r"),
        (("open", "--through", "2026-06-14", "--interest", "5e3"), "interest: is not a decimal"),
        (("fund", "2", "--day", "2026-06-26"), "draw 2 is funded"),
        (("decide", "2"), "draw 2 was decided already"),
        (("show", "7"), "draw 7 was not submitted"),
        (("show",), "no draw is open"),
        (("release", "--line", "99", "--through", "2026-06-14"), "there is no line '99'"),
    ],
)
def test_what_cannot_be_is_a_sentence(books, arguments, sentence):
    ran = groundsill("draw", *arguments)
    assert (ran.exit_code, sentence in ran.err) == (1, True), ran.err


def test_the_package_is_written_for_a_draw_that_is_open_and_for_one_that_is_funded(books, tmp_path):
    ran_well("open", "--through", "2026-06-14")
    for number, state in ((None, "open, not submitted"), (2, "funded, digest")):
        paths = [tmp_path / f"{number}{ending}" for ending in (".pdf", ".xlsx", ".csv")]
        named = [word for path in paths for word in (f"--{path.suffix[1:]}", path)]
        ran = groundsill("draw", "show", *([number] if number else []), *named)
        assert (ran.exit_code, "Written: " in ran.err) == (0, True), ran.err
        pages = [page.extract_text() for page in PdfReader(paths[0]).pages]
        assert all(state in page and "INVENTED SAMPLE" in page for page in pages)
        assert load_workbook(paths[1]).sheetnames[::8] == ["Cover", "Balance"]
        assert "The loan is in balance" in pages[-1] or "The loan is out of balance" in pages[-1]
        assert paths[2].read_text().count("\n") == 12


def test_the_loan_is_extended_and_a_wrong_paper_is_taken_back(books, tmp_path):
    (tmp_path / "letter.yaml").write_text(
        "since: 2026-06-12\nreason: letter of the bank\nterms: {ends: 2027-09-30}\n"
    )
    said = ran_well("amend", tmp_path / "letter.yaml")
    assert "Amendment 1 from 2026-06-12: letter of the bank" in said
    assert "- ends: 2027-09-30, before 2027-04-05" in said
    assert "drawn until 2027-09-30" in ran_well("loan")
    assert ran_well("withdraw", "5", "--reason", "of another job").startswith("Paper 5 is taken")
    assert "   taken back on " in ran_well("papers")
    again = groundsill("draw", "withdraw", "5", "--reason", "again")
    assert (again.exit_code, "paper 5 was taken back already" in again.err) == (1, True)


def test_a_file_of_somebody_else_is_not_written_over(books, tmp_path):
    (tmp_path / "draw.pdf").write_bytes(b"%PDF-1.4 mine")
    ran = groundsill("draw", "show", "1", "--pdf", tmp_path / "draw.pdf")
    assert (ran.exit_code, "was not made by Groundsill" in ran.err) == (1, True)
    assert (tmp_path / "draw.pdf").read_bytes() == b"%PDF-1.4 mine"


def test_balance_and_cash_fit_80_columns_and_the_cash_is_drawn(books, tmp_path):
    at = ["--as-of", "2026-06-14"]
    shown = ran_well("balance", *at)
    balanced = told("balance", *at)
    assert balanced["sentence"] in " ".join(shown.split())
    chart = tmp_path / "cash.svg"
    cash = ran_well("cash", *at, "--own-cash", "30000.00", "--days-to-pay", "14", "--chart", chart)
    assert "equity and own cash, $81,000.00" in chart.read_text()
    assert max(map(len, (shown + cash).splitlines())) <= 80
    course = told("cash", *at, "--at", "P80", "--twice-a-month")
    assert float(course["peak"]["paid"]) < float(told("cash", *at, "--at", "P80")["peak"]["paid"])
    refused = groundsill("draw", "cash", *at, "--days-to-pay", "x")
    assert (refused.exit_code, "days-to-pay" in refused.err) == (1, True)
    late = groundsill("draw", "cash", *at, "--expected", "5.00", "--expected-on", "2026-06-14")
    assert "expected_on: is 2026-06-14; a day after 2026-06-14" in late.err
