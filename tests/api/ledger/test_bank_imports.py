"""Exports of a bank or card: each line is proposed, and posted only where that is accepted."""

from __future__ import annotations

import json
from shutil import copytree

import pytest

from api.ledger.bank_routes import STATEMENT_TYPE
from tests.api.ledger.made import cost, open_books, posted
from tests.api.service import new_key
from tests.commands.running import groundsill

CSV = """Account 1234,,,
Posted,Payee,Amount,Check
03/03/2026,RIDGE ROAD QUARRY 0042,"-1,540.80",204
03/04/2026,MILL STREET RENTAL,-321.00,
03/05/2026,CORNER GROCER,-18.20,
03/06/2026,CORNER HARDWARE,-12.50,
03/06/2026,CORNER HARDWARE,-12.50,
03/09/2026,A SAWYER,620.00,
"""
MAP = "date=Posted,description=Payee,amount=Amount,reference=Check,dates=us"
RENTAL = "mill street=30.020:equipment:Mill Street Rental"
GROCER = "CORNER GROCER=skip"
OFX = b"""OFXHEADER:100
DATA:OFXSGML
VERSION:102
SECURITY:NONE
ENCODING:USASCII
CHARSET:1252
COMPRESSION:NONE
OLDFILEUID:NONE
NEWFILEUID:NONE

<OFX><CREDITCARDMSGSRSV1><CCSTMTTRNRS><CCSTMTRS><CURDEF>USD<BANKTRANLIST>
<STMTTRN><TRNTYPE>DEBIT<DTPOSTED>20260303233000[-5:EST]<TRNAMT>-1540.80<FITID>A1<NAME>RIDGE ROAD QUARRY</STMTTRN>
<STMTTRN><TRNTYPE>DEBIT<DTPOSTED>20260304<TRNAMT>-12.5<FITID>A2<NAME>CAF\xc9</STMTTRN>
</BANKTRANLIST></CCSTMTRS></CCSTMTTRNRS></CREDITCARDMSGSRSV1></OFX>"""  # noqa: E501


@pytest.fixture(scope="module")
def one_bill(pits_books, tmp_path_factory):
    """A folder with books of one open bill."""
    folder = tmp_path_factory.mktemp("bank")
    copytree(pits_books[0] / "data", folder / "data")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder / "data"))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        logged = groundsill(
            "log", "cost", "--happened", "2026-03-02", "--vendor", "Ridge Road Quarry",
            "--document", "Q-1187", "--net", "1440.00", "--tax", "100.80",
            "--split", "30.020:material",
        )  # fmt: skip
        assert logged.exit_code == 0, logged.err
    return folder / "data"


@pytest.fixture
def bank(one_bill, tmp_path, monkeypatch):
    """Books of the test's own with one open bill, and a way to import an export into them."""
    copytree(one_bill, tmp_path / "data")
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)

    def run(content, *options):
        file = tmp_path / "export.csv"
        file.write_bytes(content if isinstance(content, bytes) else content.encode())
        return groundsill("books", "import", file, "--bank", "checking", *options)

    return run


def project():
    return json.loads(groundsill("track", "--json").out)["project"]


def test_lines_are_proposed_then_posted_as_accepted_and_known_from_then_on(bank):
    shown = bank(CSV, "--map", MAP, "--rule", RENTAL, "--rule", GROCER)
    assert shown.out.splitlines() == [
        "6 lines: 0 already known, 1 left out, 1 to be posted.",
        "line 3: 2026-03-03 -$1,540.80 RIDGE ROAD QUARRY 0042",
        "  payment: $1,540.80 is open, 1 day after it",
        "  row 1: Ridge Road Quarry Q-1187 of 2026-03-02, $1,540.80 open",
        "line 4: 2026-03-04 -$321.00 MILL STREET RENTAL",
        "  cost: mill street is Mill Street Rental",
        "  becomes cost 5, payment 6",
        "line 6: 2026-03-06 -$12.50 CORNER HARDWARE",
        "  needs a code: no open bill is for that amount, and no rule fits",
        "line 7: 2026-03-06 -$12.50 CORNER HARDWARE",
        "  needs a code: no open bill is for that amount, and no rule fits",
        "line 8: 2026-03-09 $620.00 A SAWYER",
        "  receipt: money that came in",
        "Nothing is posted yet: add --keep to post.",
    ], shown.err
    assert project()["paid"] == "0.00"
    options = ("--map", MAP, "--rule", RENTAL, "--rule", GROCER, "--line", "6=30.020:fee")
    bank(CSV, *options, "--accept", "--keep")
    report = project()
    # 1,540.80 + 321.00 + 12.50 are paid; the second 12.50 still needs a code
    assert (report["incurred"], report["paid"]) == ("1874.30", "1874.30")
    again = bank(CSV, "--accept", "--keep")  # the columns and the rules are remembered
    assert again.out.splitlines()[:2] == [
        "6 lines: 4 already known, 1 left out, 0 posted.",
        "line 7: 2026-03-06 -$12.50 CORNER HARDWARE",
    ]
    assert project() == report


def test_a_payment_that_was_logged_by_hand_is_not_posted_again(bank):
    logged = groundsill(
        "log", "payment", "--happened", "2026-03-02", "--cost", "1", "--amount", "1540.80",
        "--means", "check 204",
    )  # fmt: skip
    assert logged.exit_code == 0, logged.err
    ran = bank(CSV, "--map", MAP, "--accept", "--keep")
    assert ran.out.splitlines()[1:3] == [
        "line 3: 2026-03-03 -$1,540.80 RIDGE ROAD QUARRY 0042",
        "  logged by hand: row 2 of 2026-03-02 is of the same amount",
    ], ran.err
    assert project()["paid"] == "1540.80"


def test_decisions_that_do_not_fit_a_line_are_reported_and_nothing_is_posted(bank):
    before = project()
    ran = bank(
        CSV.replace("2026", "2025"), "--map", MAP, "--line", "3=receipt", "--line", "6=99",
        "--line", "8=30.020:fee", "--line", "90=skip", "--keep",
    )  # fmt: skip
    assert ran.exit_code == 1
    for line in (
        "line 90: is not in the file", "line 3: is money that went out",
        "line 6: there is no cost in row 99", "line 8: is money that came in",
    ):  # fmt: skip
        assert line in ran.err, ran.err
    assert "'4-13' cannot be read" in bank(CSV, "--line", "4-13").err
    assert project() == before


@pytest.mark.parametrize(
    ("content", "mapping", "words"),
    [
        ("", MAP, "is empty"),
        ("<html><body>sign in</body></html>", MAP, "is a web page, not an export"),
        (b"PK\x03\x04", MAP, "is a workbook; save the transactions as CSV"),
        (CSV, MAP.replace("Payee", "Who"), "has no row of headings with 'Amount', 'Check'"),
        (CSV, MAP.replace(",dates=us", ",dates=iso"), "'03/03/2026' may be month first or day"),
        (CSV.replace("03/04", "13/04"), MAP, "'13/04/2026' is not a date; dates are read as us"),
        (CSV.replace("-12.50", '"4,50"'), MAP, "'4,50' is not an amount; write it as 1,234.50"),
        (CSV.replace("03/04/2026", "01/01/1900"), MAP, "line 4: 1900-01-01 is over 10 years ago"),
        (CSV.replace("03/04/2026", "01/01/2150"), MAP, "line 4: 2150-01-01 is in the future"),
        (CSV + "x" * 10_000_000, MAP, "is longer than 10,000,000 bytes"),
        (b"OFXHEADER:100\n\n<html>", "", "is not OFX that can be read"),
        (OFX.replace(b"USD", b"EUR"), "", "is in EUR; only dollars are read"),
        (OFX.replace(b"-12.5", b"NaN"), "", "transaction 2: 'NaN' is not an amount"),
        (OFX.replace(b"20260304", b"19001301"), "", "transaction 2: '19001301' is not a date"),
    ],
)
def test_a_file_that_is_not_what_it_should_be_is_refused_in_a_sentence(
    bank, content, mapping, words
):
    ran = bank(content, *(("--map", mapping) if mapping else ()))
    assert ran.exit_code == 1
    assert words in " ".join(ran.err.split()), ran.err


def test_other_delimiters_encodings_signs_and_columns_are_read(bank):
    text = "Datum;Text;Soll;Haben\n23.01.2026;Caf\xe9 =1+1;1.234,50;\n24.01.2026;Gutschrift;;4,50\n"
    columns = "date=Datum,description=Text,debit=Soll,credit=Haben"
    mapping = f"{columns},dates=day first,decimal=comma"
    ran = bank(text.encode("cp1252"), "--map", mapping, "--line", "2=30.020:fee", "--keep")
    assert "line 2: 2026-01-23 -$1,234.50 Caf\xe9 =1+1" in ran.out, ran.err
    assert "line 3: 2026-01-24 $4.50 Gutschrift" in ran.out


def test_an_ofx_file_over_http_is_previewed_and_posted_once(service):
    books = open_books(service)
    posted(service, books, "costs", **cost(happened="2026-03-01"))
    kind = {"Content-Type": STATEMENT_TYPE}
    content = OFX.replace(b"202603", b"202602").replace(b"20260304", b"20260205")
    where = f"{books}/bank-previews?bank=visa"
    shown = service.post(where, content, headers=kind)
    assert shown.status_code == 200, shown.text
    assert [(one["day"], one["amount"], one["proposed"]) for one in shown.json["lines"]] == [
        ("2026-02-03", "-1540.80", "needs a choice"), ("2026-02-04", "-12.50", "needs a code"),
    ]  # fmt: skip
    decided = f"{books}/bank-imports?bank=visa&lines=1=1;2=30.020:fee"
    key = kind | new_key()
    kept = service.post(decided, content, headers=key)
    assert kept.status_code == 201, kept.text
    assert [one["kind"] for one in kept.json["entries"]] == ["payments", "costs", "payments"]
    assert kept.json["entries"][1]["row"]["vendor"] == "CAF\xc9"
    assert service.post(decided, content, headers=key).data == kept.data
    again = service.post(where, content, headers=kind).json["lines"]
    assert [one["proposed"] for one in again] == ["known", "known"]
    unknown = service.post(where, CSV.encode(), headers=kind)
    assert unknown.status_code == 422
    assert "nothing says how the files of 'visa' are read" in unknown.text
