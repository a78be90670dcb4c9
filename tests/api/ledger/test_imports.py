"""Sheets that were filled in are imported: previewed, known rows skipped, all or nothing."""

from __future__ import annotations

import json
from io import BytesIO
from shutil import copytree
from uuid import UUID

import pytest
from openpyxl import load_workbook

from api.calculations.scopes import WORKBOOK_TYPE
from api.ledger.changed_ledger import ledger_changes
from api.store.caller import Caller
from tests.api.ledger.made import cost as bill_of
from tests.api.ledger.made import open_books, posted
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
TITLES = (
    "Costs", "Payments", "Receipts", "Tickets", "Hours", "On rent", "Called off", "Machine hours",
    "Progress", "Orders", "Changes", "Hold points", "Hold results", "Day sheets",
)  # fmt: skip
DAY = "2026-03-02"
LIFT = {"happened": DAY, "machine": "lift", "vendor": "Mill Street Rental"}
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


@pytest.fixture(scope="module")
def open_and_empty(pits_books, tmp_path_factory):
    """A folder with open books, and an empty workbook of them."""
    folder = tmp_path_factory.mktemp("open")
    copytree(pits_books[0] / "data", folder / "data")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder / "data"))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        assert groundsill("track", "--xlsx", folder / "tracking.xlsx").exit_code == 0
    return folder


@pytest.fixture
def form(open_and_empty, tmp_path, monkeypatch):
    """Open books of the test's own, and a way to fill in their workbook."""
    copytree(open_and_empty / "data", tmp_path / "data")
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)

    def fill(name="filled.xlsx", **sheets):
        workbook = load_workbook(open_and_empty / "tracking.xlsx")
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
        "4 new, 0 already known, 0 changed.", "Nothing is posted yet: add --keep to post.",
    ]  # fmt: skip
    assert incurred() == "0.00"


def test_the_same_file_twice_changes_nothing(form):
    load = TICKET | {"came": "07:02", "left": "07:20", "waited minutes": "6", "placed": "yes"}
    file = form(Costs=[cost()], Tickets=[load], Hours=[HOURS], Progress=[PROGRESS])
    assert "The new ones are posted." in groundsill("books", "import", file, "--keep").out
    before = incurred()
    assert before == "1820.52"
    again = groundsill("books", "import", file, "--keep")
    assert again.out.startswith("0 new, 4 already known, 0 changed.")
    assert incurred() == before


def test_what_the_books_have_otherwise_is_reported_and_the_rest_is_posted(form):
    groundsill("books", "import", form(Costs=[cost()]), "--keep")
    more = form(Costs=[cost(net="1100.00"), cost(document="Q-1188")])
    ran = groundsill("books", "import", more, "--keep")
    assert ran.out.splitlines()[:2] == [
        "1 new, 0 already known, 1 changed.",
        "filled.xlsx Costs row 2: row 1 of the books stays: net was $1,000.00, now $1,100.00",
    ]
    assert incurred() == "2140.00"


NO_AMOUNTS = ("1e9999999999", "\u00b2", "--1", "1_000", "NaN", "\u0663")


def test_what_is_no_amount_on_a_bill_of_several_rows_is_a_fault_of_its_cell(form):
    nets = [(f"Q-{n}", net) for n, text in enumerate(NO_AMOUNTS) for net in (text, "1.00")]
    file = form(Costs=[cost(document=document, net=net) for document, net in nets])
    ran = groundsill("books", "import", file)
    assert ran.exit_code == 1
    at_net = [f"- filled.xlsx Costs F{row}: is not a decimal number" for row in range(2, 14, 2)]
    assert [ran.err.count(one) for one in at_net] == [1] * 6, ran.err


def test_with_one_fault_nothing_is_posted_and_each_is_reported_with_its_cell(form):
    file = form(
        Costs=[cost(), cost(document="Q-2", net="ten", code="30.099")],
        Tickets=[TICKET | {"came": "10:00", "left": "09:00"}],
        Progress=[PROGRESS | {"unit": "cy"}],
    )
    ran = groundsill("books", "import", file, "--keep")
    assert ran.exit_code == 1
    told = [line.split(": ")[0] for line in ran.err.splitlines()[1:]]
    assert told == [
        "- filled.xlsx Tickets K2", "- filled.xlsx Progress D2", "- filled.xlsx Costs F3",
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


def test_every_sheet_comes_in_with_bills_over_tickets_and_rents_and_payments_on_bills(form):
    file = form(**{
        "Payments": [
            {"happened": DAY, "vendor": "Ridge Road Quarry", "document": "Q-1187",
             "amount": "500.00", "means": "check 204"},
        ],
        "Costs": [
            cost(net="533.20", tax="37.32", tickets="T-5501"),
            cost("30.020", "equipment", "295.00", "20.65", vendor="Mill Street Rental",
                 document="M-1", rents="lift"),
        ],
        "Receipts": [
            {"happened": DAY, "payer": "a sawyer", "reason": "old joists", "amount": "1178.00"},
        ],
        "Tickets": [TICKET],
        "Hours": [HOURS],
        "On rent": [LIFT | {"code": "30.020", "day": "295.00", "week": "1040.00"}],
        "Called off": [LIFT],
        "Machine hours": [
            {"happened": DAY, "machine": "lift", "code": "30.020", "run": "6.5", "standing": "1"},
        ],
        "Progress": [PROGRESS],
    })  # fmt: skip
    ran = groundsill("books", "import", file, "--keep")
    assert ran.out.startswith("10 new"), ran.out + ran.err
    report = json.loads(groundsill("track", "--json").out)
    # billed 570.52 + 315.65 replaces the ticket and the rent; 7.5 hr at $24.00 are accrued
    said = [report["project"][name] for name in ("billed", "accrued", "incurred", "paid")]
    assert said == ["886.17", "180.00", "1066.17", "500.00"]
    assert report["receipts"] == "1178.00"
    assert report["rents"][0]["called_off"] == DAY
    again = groundsill("books", "import", file, "--keep").out
    assert again.startswith("0 new, 10 already known, 0 changed."), again


def test_what_cannot_be_posted_is_reported_with_its_cell(form):
    paid = {"happened": DAY, "vendor": "Ridge Road Quarry", "amount": "1", "means": "cash"}
    file = form(**{
        "Costs": [
            cost(net="4,50"), cost(document="Q-2", happened="3/2/2026"),
            cost(document="Q-3", happened="1899-12-30"),
            cost(document="Q-4", tickets="T-1, T-5501"),
        ],
        "Tickets": [TICKET],
        "Payments": [paid | {"document": "Q-9"}, paid],
        "Called off": [LIFT],
    })  # fmt: skip
    ran = groundsill("books", "import", file, "--keep")
    assert ran.exit_code == 1
    for cell, what in {
        "Costs F2": "is not a decimal number", "Costs A3": "is not a date",
        "Costs A4": "is not a date", "Costs J5": "'T-1' is no ticket of 'Ridge Road Quarry'",
        "Called off B2": "'lift' from 'Mill Street Rental' is not on rent by 2026-03-02",
        "Payments C2": "there is no bill 'Q-9' from 'Ridge Road Quarry'",
        "Payments B3": "names no bill",
    }.items():  # fmt: skip
        assert f"filled.xlsx {cell}: {what}" in ran.err, ran.err
    assert incurred() == "0.00"


def test_contradicting_rows_of_a_bill_and_formulas_are_reported_with_their_cells(
    form,
):
    rows = [cost(order="PO-1"), cost(kind="haul", order="PO-2"), cost(document="Q-2", net="=1+1")]
    ran = groundsill("books", "import", form(Costs=rows), "--keep")
    assert "filled.xlsx Costs N3: is not what another row of the entry says" in ran.err
    assert "filled.xlsx Costs F4: is a formula whose result the file does not hold" in ran.err


def test_a_row_that_is_said_otherwise_is_replaced_where_that_is_requested(form):
    groundsill("books", "import", form(Costs=[cost()], Progress=[PROGRESS]), "--keep")
    more = form(Costs=[cost(net="1100.00")], Progress=[PROGRESS | {"in place": "22"}])
    ran = groundsill("books", "import", more, "--replace", "2", "--keep")
    assert "Costs row 2: row 4 replaces row 2: net was $1,000.00, now $1,100.00" in ran.out
    assert "Progress row 2: row 1 of the books stays: in place was 20, now 22" in ran.out
    assert incurred() == "1170.00"
    groundsill("books", "import", more, "--replace", "all", "--keep")
    again = groundsill("books", "import", more, "--keep")
    assert again.out.startswith("0 new, 2 already known, 0 changed.")
    assert "row 9 is not among the changed ones" in (
        groundsill("books", "import", more, "--replace", "9").err
    )


def test_rows_are_replaced_one_after_the_other_among_new_ones(form):
    """What is replaced is taken back by a row of its own: the next is numbered after it."""
    old = [cost(), cost(document="Q-2")]
    groundsill("books", "import", form(Costs=old), "--keep")
    rows = [
        cost(document="Q-3"), cost(net="1100.00"), cost(document="Q-2", net="1200.00"),
        cost(document="Q-4"),
    ]  # fmt: skip
    ran = groundsill("books", "import", form(Costs=rows), "--replace", "all", "--keep")
    assert ran.exit_code == 0
    assert "Costs row 3: row 5 replaces row 1" in ran.out
    assert "Costs row 4: row 7 replaces row 2" in ran.out
    assert incurred() == "4580.00"  # 1,000 + 1,100 + 1,200 + 1,000, and 70.00 of tax on each


CISTERN = {"happened": DAY, "number": "CO-1", "reason": "a cistern"}
CODE = {"happened": DAY, "code": "30.020"}
SITE = {
    "Changes": [
        CISTERN | {"code": "30.070", "kind": "subcontract", "amount": "3900.00"},
        CISTERN | {"code": "30.070", "kind": "material", "amount": "1250.00", "days": "2"},
        CISTERN | {"code": "contingency", "amount": "-5150.00"},
    ],
    "Orders": [CODE | {"number": "PO-1", "vendor": "Lockport Pumping", "kind": "material",
                       "amount": "900.00", "code": "30.070"}],
    "Hold points": [CODE | {"name": "density", "needs": "95 %", "decides": "engineer"}],
    "Hold results": [CODE | {"name": "density", "passed": "yes", "note": "96.4 %"}],
    "Progress": [PROGRESS],
    "Day sheets": [
        {"happened": DAY, "weather": "rain", "people": "AB, CD", "temperature f": "41",
         "lost hours": "6", "lost why": "rain"},
        {"happened": DAY, "lost hours": "1.5", "lost why": "waited for the engineer"},
    ],
}  # fmt: skip


def test_changes_orders_holds_and_day_sheets_are_typed_in_and_known_again(form):
    """The order is on a code that the change brings, the progress waits for the hold's result."""
    file = form(**SITE)
    ran = groundsill("books", "import", file, "--keep")
    assert ran.out.startswith("6 new, 0 already known, 0 changed."), ran.err
    told = json.loads(groundsill("track", "--json").out)
    (cistern,) = [one for one in told["codes"] if one["code"] == "30.070"]
    assert (cistern["changes"], cistern["committed"]) == ("5150.00", "900.00")
    assert told["lost_hours"] == {"rain": "6", "waited for the engineer": "1.5"}
    again = groundsill("books", "import", file, "--keep")
    assert again.out.startswith("0 new, 6 already known, 0 changed.")
    more = form(Orders=[SITE["Orders"][0] | {"amount": "950.00"}])
    ran = groundsill("books", "import", more, "--replace", "all", "--keep")
    assert "row 2 would not be replaced: another one adds to it" in ran.err


def test_a_code_that_a_change_brings_is_known_after_a_row_is_replaced(form):
    groundsill("books", "import", form(Progress=[PROGRESS]), "--keep")
    cistern = PROGRESS | {"code": "30.070", "in place": "60", "unit": "%", "percent": "yes"}
    rows = [PROGRESS | {"in place": "22"}, cistern]
    more = form(Changes=SITE["Changes"], Progress=rows)
    ran = groundsill("books", "import", more, "--replace", "all", "--keep")
    assert ran.exit_code == 0, ran.err
    assert "Progress row 2: row 3 replaces row 1: in place was 20, now 22" in ran.out


def test_faults_of_changes_and_holds_have_their_cells(form):
    changes = [
        CISTERN | {"code": "30.020", "amount": "5.00"},
        CISTERN | {"code": "30.021", "kind": "material", "amount": "5"},
    ]
    other = [CODE | {"number": "CO-2", "reason": "x", "kind": "stone", "amount": "1.00"}]
    ran = groundsill("books", "import", form(Changes=changes + other))
    assert "filled.xlsx Changes row 2: names no kind of cost" in ran.err
    assert "filled.xlsx Changes E4: is not known; use one of 'consumable'" in ran.err
    results = [CODE | {"name": "density", "passed": "maybe"}]
    ran = groundsill("books", "import", form(**{"Hold results": results}))
    assert "filled.xlsx Hold results D2: is neither yes nor no" in ran.err


def test_a_bill_that_is_paid_does_not_give_way(form):
    paid = {"happened": DAY, "vendor": "Ridge Road Quarry", "document": "Q-1187",
            "amount": "500.00", "means": "check 204"}  # fmt: skip
    groundsill("books", "import", form(Costs=[cost()], Payments=[paid]), "--keep")
    ran = groundsill("books", "import", form(Costs=[cost(net="9.00")]), "--replace", "all")
    assert "row 1 is paid, in part or in full; take the payment back first" in ran.err


def test_the_same_row_twice_in_a_file_is_posted_once_and_said(form):
    ran = groundsill("books", "import", form(Tickets=[TICKET, TICKET]), "--keep")
    assert ran.out.splitlines()[:2] == [
        "1 new, 1 already known, 0 changed.",
        "filled.xlsx Tickets row 3: the same as another row of the file, skipped",
    ]


def test_a_workbook_without_sheets_of_entries_is_refused(form, tmp_path):
    workbook = load_workbook(form())
    for title in TITLES:
        del workbook[title]
    workbook.save(tmp_path / "other.xlsx")
    ran = groundsill("books", "import", tmp_path / "other.xlsx")
    assert (
        "has no sheet of entries; they are called Costs, Payments, Receipts, Tickets, Hours"
        in ran.err
    )


def test_a_reversed_row_may_be_imported_anew(form):
    file = form(Costs=[cost()])
    groundsill("books", "import", file, "--keep")
    groundsill("reverse", "1")
    assert groundsill("books", "import", file, "--keep").out.startswith("1 new")
    assert incurred() == "1070.00"


def test_over_http_a_preview_says_what_the_import_then_does_once(service):
    books = open_books(service)
    old = PROGRESS | {"written": DAY}
    content = filled_over_http(service, books, Costs=[cost()], Progress=[old])
    kind = {"Content-Type": WORKBOOK_TYPE}
    preview = service.post(f"{books}/import-previews", content, headers=kind)
    assert (preview.status_code, preview.json["new"], preview.json["faulty"]) == (200, 2, [])
    assert preview.json["notes"] == ["workbook Progress row 2: note: written down on 2026-03-02"]
    assert service.get(f"{books}/entries").json["entries"] == []
    key = kind | new_key()
    posted = service.post(f"{books}/imports", content, headers=key)
    assert posted.status_code == 201, posted.text
    assert [one["number"] for one in posted.json["entries"]] == [1, 2]
    assert service.post(f"{books}/imports", content, headers=key).data == posted.data
    other = service.post(f"{books}/imports?replace=all", content, headers=key)
    assert (other.status_code, other.json["code"]) == (422, "key-reused")
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


def test_changed_lines_of_the_ledger_are_reported_with_sheet_row_and_column(service):
    """The bill over the ticket came after the workbook, and half of it is paid: no change."""
    books = open_books(service)
    ticket = {name: one for name, one in TICKET.items() if name != "happened"}
    posted(service, books, "tickets", **ticket)
    posted(service, books, "costs", **bill_of(document="Q-1"))
    workbook = load_workbook(BytesIO(service.get(f"{books}/workbook").data))
    posted(service, books, "costs", **bill_of(document="Q-2", tickets=[1]))
    posted(service, books, "payments", cost=2, amount="800.00", means="check")
    kind = {"Content-Type": WORKBOOK_TYPE}

    def changes(**cells):
        for address, value in cells.items():
            workbook["Ledger"][address] = value
        content = BytesIO()
        workbook.save(content)
        came = service.post(f"{books}/import-previews", content.getvalue(), headers=kind).json
        return came["changed"], came["notes"]

    assert changes() == ([], [])
    changed, notes = changes(D5="Quarry", K6=1540.8, A7=99, K7=5)
    assert changed == [
        {"where": "workbook Ledger D5", "number": 1,
         "differences": "Party was Ridge Road Quarry, now Quarry"},
        {"where": "workbook Ledger K6", "number": 2,
         "differences": "Paid was $800.00, now $1,540.80"},
    ]  # fmt: skip
    assert notes == [
        "workbook Ledger A7: 1 line from here down with no matching row in the books",
        "the sheet Ledger only shows the books, and nothing is posted from it: write what should "
        "change on the sheet of its kind, such as Costs, Payments, Tickets or Hours",
    ]


def test_a_ledger_of_many_lines_is_looked_at_as_far_as_is_said(embedded):
    books = open_books(embedded)
    for document in ("Q-1", "Q-2"):
        posted(embedded, books, "costs", **bill_of(document=document))
    content, project = embedded.get(f"{books}/workbook").data, UUID(books.split("/")[-2])
    with embedded.store.reading(Caller(embedded.account_id)) as session:
        whole, part = (ledger_changes(session, project, content, "t.xlsx", n) for n in (2, 1))
    assert (whole.changed, whole.notes) == ([], ())
    assert part.notes == ("t.xlsx Ledger: only the first 1 line checked against the books",)
