"""Sheets that were filled in are imported: previewed, known rows skipped, all or nothing."""

from __future__ import annotations

import json
from io import BytesIO

import pytest
from openpyxl import load_workbook

from api.calculations.scopes import WORKBOOK_TYPE
from tests.api.estimates.made import PITS
from tests.api.ledger.made import open_books
from tests.api.service import new_key
from tests.commands.running import groundsill

BILL = ("2026-03-02", "Ridge Road Quarry", "Q-1187", "30.020")
TICKET = {
    "happened": "2026-03-02", "number": "T-5501", "vendor": "Ridge Road Quarry", "code": "30.020",
    "kind": "material", "quantity": "21.5", "unit": "ton", "amount": "570.52",
}  # fmt: skip
HOURS = {
    "happened": "2026-03-02", "person": "AB", "trade": "laborer", "code": "30.020",
    "hours": "7.5", "rate": "24.00",
}  # fmt: skip
PROGRESS = {"happened": "2026-03-02", "code": "30.020", "in place": "20", "unit": "ton"}


def cost(code="30.020", kind="material", net="1000.00", tax="70.00", **more):
    return {
        "happened": "2026-03-02", "vendor": "Ridge Road Quarry", "document": "Q-1187",
        "code": code, "kind": kind, "net": net, "tax": tax,
    } | more  # fmt: skip


def fill_in(workbook, sheets):
    for title, rows in sheets.items():
        sheet = workbook[title]
        columns = {cell.value: cell.column for cell in sheet[1]}
        for number, row in enumerate(rows, 2):
            for field, value in row.items():
                sheet.cell(number, columns[field], value)


@pytest.fixture
def form(tmp_path, monkeypatch):
    """An empty workbook of open books, and a way to fill it in."""
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
    (tmp_path / "scope.yaml").write_text(PITS)
    assert groundsill("books", "open", tmp_path / "scope.yaml").exit_code == 0
    empty = tmp_path / "tracking.xlsx"
    assert groundsill("track", "--xlsx", empty).exit_code == 0

    def fill(name="filled.xlsx", **sheets):
        workbook = load_workbook(empty)
        fill_in(workbook, sheets)
        workbook.save(tmp_path / name)
        return tmp_path / name

    return fill


def filled_over_http(service, books, **sheets):
    workbook = load_workbook(BytesIO(service.get(f"{books}/workbook").data))
    content = BytesIO()
    fill_in(workbook, sheets)
    workbook.save(content)
    return content.getvalue()


def incurred():
    return json.loads(groundsill("track", "--json").out)["project"]["incurred"]


def test_a_preview_posts_nothing_and_says_what_would_come(form):
    file = form(Costs=[cost()], Tickets=[TICKET], Hours=[HOURS], Progress=[PROGRESS])
    shown = groundsill("books", "import", file)
    assert shown.exit_code == 0, shown.err
    assert shown.out.splitlines() == [
        "4 new, 0 already known, 0 changed.", "Nothing is posted yet: --keep does it.",
    ]  # fmt: skip
    assert incurred() == "0.00"


def test_the_same_file_twice_changes_nothing(form):
    file = form(Costs=[cost()], Tickets=[TICKET], Hours=[HOURS], Progress=[PROGRESS])
    assert "The new ones are posted." in groundsill("books", "import", file, "--keep").out
    before = incurred()
    assert before == "1820.52"
    again = groundsill("books", "import", file, "--keep")
    assert again.out.startswith("0 new, 4 already known, 0 changed.")
    assert incurred() == before


def test_what_the_books_have_otherwise_is_told_and_the_rest_is_posted(form):
    groundsill("books", "import", form(Costs=[cost()]), "--keep")
    more = form(Costs=[cost(net="1100.00"), cost(document="Q-1188")])
    ran = groundsill("books", "import", more, "--keep")
    assert ran.out.splitlines()[:2] == [
        "1 new, 0 already known, 1 changed.",
        "filled.xlsx Costs row 2: row 1 says otherwise; reverse it, or correct the sheet",
    ]
    assert incurred() == "2140.00"


def test_with_one_fault_nothing_is_posted_and_each_is_told_with_its_cell(form):
    file = form(
        Costs=[cost(), cost(document="Q-2", net="ten", code="30.099")],
        Tickets=[TICKET | {"came": "10:00", "left": "09:00"}],
        Progress=[PROGRESS | {"unit": "cy"}],
    )
    ran = groundsill("books", "import", file, "--keep")
    assert ran.exit_code == 1
    told = [line.split(": ")[0] for line in ran.err.splitlines()[1:]]
    assert told == [
        "- filled.xlsx Costs F3", "- filled.xlsx Tickets K2", "- filled.xlsx Progress D2",
    ]  # fmt: skip
    assert incurred() == "0.00"


def test_rows_of_one_document_are_one_bill_that_is_split(form):
    file = form(Costs=[cost(), cost(kind="haul", net="200.00", tax="14.00")])
    assert groundsill("books", "import", file, "--keep").out.startswith("1 new")
    report = json.loads(groundsill("track", "--json").out)
    kinds = {
        kind: one["billed"] for kind, one in report["kinds"].items() if one["billed"] != "0.00"
    }
    assert kinds == {"material": "1070.00", "haul": "214.00"}


def test_a_workbook_without_sheets_of_entries_is_refused(form, tmp_path):
    workbook = load_workbook(form())
    for title in ("Costs", "Tickets", "Hours", "Progress"):
        del workbook[title]
    workbook.save(tmp_path / "other.xlsx")
    ran = groundsill("books", "import", tmp_path / "other.xlsx")
    assert "has no sheet of entries; they are called Costs, Tickets, Hours, Progress" in ran.err


def test_a_reversed_row_may_be_imported_anew(form):
    file = form(Costs=[cost()])
    groundsill("books", "import", file, "--keep")
    groundsill("reverse", "1")
    assert groundsill("books", "import", file, "--keep").out.startswith("1 new")
    assert incurred() == "1070.00"


def test_over_http_a_preview_says_what_the_import_then_does_once(service):
    books = open_books(service)
    content = filled_over_http(service, books, Costs=[cost()], Progress=[PROGRESS])
    kind = {"Content-Type": WORKBOOK_TYPE}
    preview = service.post(f"{books}/import-previews", content, headers=kind)
    assert (preview.status_code, preview.json["new"], preview.json["faulty"]) == (200, 2, [])
    assert service.get(f"{books}/entries").json["entries"] == []
    key = kind | new_key()
    posted = service.post(f"{books}/imports", content, headers=key)
    assert posted.status_code == 201, posted.text
    assert [one["number"] for one in posted.json["entries"]] == [1, 2]
    assert service.post(f"{books}/imports", content, headers=key).data == posted.data
    again = service.post(f"{books}/imports", content, headers=kind | new_key()).json
    assert (again["entries"], [one["number"] for one in again["known"]]) == ([], [1, 2])


def test_over_http_faults_come_with_their_cells_and_nothing_is_posted(service):
    books = open_books(service)
    content = filled_over_http(service, books, Costs=[cost(), cost(document="Q-2", code="30.099")])
    kind = {"Content-Type": WORKBOOK_TYPE}
    preview = service.post(f"{books}/import-previews", content, headers=kind).json
    assert [one["what"] for one in preview["faulty"]] == ["there is no cost code '30.099'"]
    refused = service.post(f"{books}/imports", content, headers=kind | new_key())
    assert refused.status_code == 422
    assert "workbook Costs" in refused.text
    assert service.get(f"{books}/entries").json["entries"] == []
