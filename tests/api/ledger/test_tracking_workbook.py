"""The workbook of tracking: another program adds it up to the same cents, and it is live."""

from __future__ import annotations

import json
from csv import DictReader
from datetime import date, time
from decimal import Decimal
from io import BytesIO

import pytest
from openpyxl import load_workbook

from tests.api.ledger.made import cost, open_books, posted
from tests.commands.running import groundsill
from tests.workbook.spreadsheet import all_recalculated, cents, row_of, shown

AS_OF = ("--as-of", "2026-06-14", "--known-on", "2026-06-14")
TYPED = {
    "Tickets": {
        "A": date(2026, 6, 12), "B": "T-0099", "C": "Ridge Road Quarry", "E": "30.020",
        "F": "material", "G": 21.5, "H": "ton", "I": 570.52, "J": time(7, 2), "K": "7:20",
    },
    "Costs": {
        "A": "2026-06-12", "B": "Ridge Road Quarry", "C": "Q-0099", "D": "30.020",
        "E": "material", "F": 533.2, "G": "37.32", "J": "T-0099", "K": 1,
    },
    "Payments": {
        "A": date(2026, 6, 13), "B": "Ridge Road Quarry", "C": "Q-0099", "E": 570.52,
        "F": "check 204",
    },
    "On rent": {
        "A": "2026-06-12", "B": "lift", "C": "Mill Street Rental", "D": "30.020", "E": 295,
    },
    "Machine hours": {"A": "2026-06-12", "B": "lift", "C": "30.020", "D": 6.5},
}  # fmt: skip
COLUMNS = {
    "baseline": 2, "changes": 3, "budget": 4, "committed": 5, "billed": 6, "accrued": 7,
    "incurred": 8, "paid": 9, "open": 10, "planned_value": 14, "earned_value": 15, "forecast": 19,
}  # fmt: skip


@pytest.fixture(scope="module")
def workbook(opened, tmp_path_factory):
    path = tmp_path_factory.mktemp("tracking") / "tracking.xlsx"
    ran = groundsill("track", *AS_OF, "--xlsx", path)
    assert ran.exit_code == 0, ran.err
    return path


@pytest.fixture(scope="module")
def report(opened):
    return json.loads(groundsill("track", *AS_OF, "--json").out)


@pytest.fixture(scope="module")
def calculated(workbook, tmp_path_factory):
    first_bill = next(
        number for number, row in enumerate(shown(workbook)["Ledger"], 1) if row[2] == "bill"
    )
    more = {("Ledger", f"I{first_bill}"): 1_000_000.0}
    entries = {
        (sheet, f"{letter}2"): value
        for sheet, values in TYPED.items()
        for letter, value in values.items()
    }
    books = {
        "as it is": (workbook, {}), "another bill": (workbook, more),
        "filled in": (workbook, entries),
    }  # fmt: skip
    return all_recalculated(books, tmp_path_factory.mktemp("calculated"))


def test_sheets_that_another_program_saved_come_in_as_they_were_typed(calculated, tmp_path_factory):
    file = next(tmp_path_factory.getbasetemp().glob("calc*/calculated/bare filled in.xlsx"))
    ran = groundsill("books", "import", file)
    assert ran.out.splitlines()[0] == "5 new, 0 already known, 0 changed.", ran.err


def test_another_program_comes_to_the_cents_of_the_report(calculated, report):
    items = calculated["as it is"]["Items"]
    for code in report["codes"]:
        row = row_of(items, code["code"])
        for name, column in COLUMNS.items():
            assert cents(row[column]) == cents(float(code[name])), (code["code"], name)
    whole = row_of(items, "The whole job")
    for name, column in COLUMNS.items():
        assert cents(whole[column]) == cents(float(report["project"][name])), name


def test_every_value_that_comes_with_the_file_is_what_another_program_makes_of_it(
    workbook, calculated
):
    ours, theirs = shown(workbook), calculated["as it is"]
    for title, rows in ours.items():
        for row, other in zip(rows, theirs[title], strict=False):
            for value, again in zip(row, other, strict=False):
                if isinstance(value, float):
                    assert again == pytest.approx(value, abs=1e-6), title


def test_a_changed_line_of_the_ledger_changes_items_and_attention(calculated, report):
    before, after = (
        calculated[name]["Attention"] for name in ("as it is", "another bill")
    )  # fmt: skip
    assert row_of(before, "Incurred", 1)[0] == float(report["project"]["incurred"])
    assert row_of(after, "Incurred", 1)[0] > 1_000_000


def test_the_last_week_of_the_course_is_the_report(workbook, report):
    course = [row for row in shown(workbook)["S-curve"] if row[3] is not None][1:]
    assert [cents(amount) for amount in course[-1][1:4]] == [
        cents(float(report["project"][name]))
        for name in ("planned_value", "earned_value", "incurred")
    ]
    assert len(course) == 10


def test_a_week_of_the_course_is_what_the_report_of_that_day_says(workbook):
    course = shown(workbook)["S-curve"]
    (week,) = [row for row in course if str(row[0]).startswith("2026-05-03")]
    ran = groundsill("track", "--as-of", "2026-05-03", "--known-on", "2026-06-14", "--json")
    then = json.loads(ran.out)["project"]
    assert [cents(one) for one in week[1:4]] == [
        cents(float(then[name])) for name in ("planned_value", "earned_value", "incurred")
    ]


def test_the_rows_of_money_add_up_to_the_report_in_csv_and_json_alike(opened, report, tmp_path):
    files = [tmp_path / "rows.csv", tmp_path / "rows.json"]
    for file in files:
        ran = groundsill("track", *AS_OF, "--rows", file)
        assert ran.exit_code == 0, ran.err
    with files[0].open(encoding="utf-8", newline="") as file:
        lines = list(DictReader(file))
    rows = json.loads(files[1].read_text(encoding="utf-8"))["rows"]
    assert [
        {name: "" if value is None else str(value) for name, value in row.items()} for row in rows
    ] == lines
    billed = [one for one in lines if one["entry"] in ("bill", "credit", "payroll")]
    for name, of in {"billed": billed, "paid": [one for one in lines if one["pays"]]}.items():
        assert sum(Decimal(one["amount"]) for one in of) == Decimal(report["project"][name])
    assert all(
        Decimal(one["net"]) + Decimal(one["tax"]) == Decimal(one["amount"]) for one in billed
    )
    assert {one["entry"] for one in lines} >= {"payment", "receipt", "ticket", "order", "change"}


def test_the_months_add_up_to_the_report_and_another_program_agrees(calculated, report, opened):
    ran = groundsill("track", *AS_OF, "--months", "--json")
    months = json.loads(ran.out)
    names = ("planned", "earned", "incurred", "paid")
    state = [report["project"][n] for n in ("planned_value", "earned_value", "incurred", "paid")]
    assert [months["total"][name] for name in names] == state
    assert [one["month"] for one in months["months"]] == ["2026-04", "2026-05", "2026-06"]
    together = row_of(calculated["as it is"]["Months"], "Together")
    assert [cents(one) for one in together[2:6]] == [cents(float(one)) for one in state]


def test_the_workbook_comes_over_http_too_and_offers_its_lists(service):
    books = open_books(service)
    posted(service, books, "costs", **cost(vendor="=1+1"))
    answer = service.get(f"{books}/workbook?as_of=2026-03-01")
    assert answer.status_code == 200
    assert "tracking.xlsx" in answer.headers["Content-Disposition"]
    sheets = load_workbook(BytesIO(answer.data))
    assert sheets["Ledger"]["D5"].value == "=1+1"
    assert sheets["Ledger"]["D5"].data_type == "s"
    rules = {
        str(one.sqref): one.formula1 for one in sheets["Costs"].data_validations.dataValidation
    }
    assert "D2:D2000" in rules
    assert rules["D2:D2000"].startswith("'Lists'!$A$2:$A$")


def test_the_rows_and_months_come_over_http_with_reversals_and_no_live_formula(service):
    books = open_books(service)
    bill = posted(service, books, "costs", **cost(vendor="=1+1")).json
    posted(service, books, "payments", cost=1, amount="1540.80", means="check")
    back = posted(service, books, f"entries/{bill['id']}/reversal").json
    assert back["notes"] == ["$1,540.80 is paid on row 1: take that back as well, or move it"]
    rows = service.get(f"{books}/rows").json["rows"]
    assert [(one["row"], one["amount"], one["reverses"], one["pays"]) for one in rows] == [
        (1, "1540.80", None, None), (2, "1540.80", None, 1), (3, "-1540.80", 1, None),
    ]  # fmt: skip
    sheet = service.get(f"{books}/rows.csv").get_data(as_text=True).splitlines()
    assert sheet[1].split(",")[4:6] == ["'=1+1", "Q-1187"]
    cells = dict(zip(*(one.split(",") for one in (sheet[0], sheet[3])), strict=True))
    assert [cells[name] for name in ("net", "tax", "amount", "reverses")] == [
        "-1440.00", "-100.80", "-1540.80", "1",
    ]  # fmt: skip
    months = service.get(f"{books}/months").json
    assert (months["total"]["incurred"], months["total"]["paid"]) == ("0.00", "1540.80")
