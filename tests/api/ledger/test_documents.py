"""Documents: what they are by content, kept once, strung together by spot, handed out to keep."""

from __future__ import annotations

import struct
import zlib
from contextlib import suppress
from datetime import date
from io import BytesIO
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from api.ledger.documents.content_types import PDF, PNG, day_taken, read_content
from api.ledger.documents.document_statements import pictures_before
from api.store.caller import Caller
from estimator.errors import InputFaulty
from tests.api.estimates.made import keep_project
from tests.api.ledger.made import cost, open_books, posted
from tests.api.ledger.test_crew import share
from tests.api.service import Service, new_key

TODAY = date(2026, 3, 2)
SCRIPT = b"%PDF-1.7\n1 0 obj <</S /JavaScript /JS (app.alert(1))>> endobj\n%%EOF\n"
BILL = b"%PDF-1.4\n%%EOF\n"


def picture(form="JPEG", camera=None, color=(90, 80, 70)):
    """Return a picture, with what its camera wrote as the time it was taken."""
    exif = Image.Exif()
    if camera:
        exif.get_ifd(0x8769)[0x9003] = camera
    out = BytesIO()
    Image.new("RGB", (64, 48), color).save(out, form, exif=exif)
    return out.getvalue()


def bomb():
    """Return a PNG of a few bytes that says it is 60,000 by 60,000 pixels large."""

    def part(name, content):
        return struct.pack(">I", len(content)) + name + content + struct.pack(
            ">I", zlib.crc32(name + content)
        )  # fmt: skip

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    parts = part(b"IHDR", head), part(b"IDAT", zlib.compress(b"0" * 9)), part(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


@pytest.fixture
def books(service):
    return open_books(service)


@pytest.fixture
def own_books(embedded):
    return open_books(embedded)


def added(service, books, content, name="a.jpg", kind="image/jpeg", role="owner", **said):
    path = books.replace("/books", "/documents")
    headers = new_key() | {"Content-Type": kind}
    query = {"name": name, **said}
    return service.send("POST", path, content, role=role, headers=headers, query_string=query)


def listed(service, books, role="owner", **query):
    path = books.replace("/books", "/documents")
    return service.send("GET", path, role=role, query_string=query).json["documents"]


def refusal(answer):
    assert answer.status_code == 422, answer.text
    return answer.json["errors"][0]["what"]


def test_a_bill_comes_back_to_the_byte_as_a_file_to_keep(embedded, own_books):
    row = posted(embedded, own_books, "costs", **cost()).json["number"]
    told = added(embedded, own_books, BILL, "=1+1 счёт.pdf", "application/pdf", entry=row)
    assert told.status_code == 201, told.text
    assert (told.json["entry"], told.json["dated"], told.json["taken_on"]) == (
        1, "2026-03-02", None,
    )  # fmt: skip
    file = embedded.get(f"{told.headers['Location']}/content")
    assert file.data == BILL
    assert file.headers["X-Content-Type-Options"] == "nosniff"
    assert file.content_type == "application/octet-stream"
    assert file.headers["Content-Disposition"].startswith('attachment; filename="1 =1+1.pdf";')
    assert embedded.get(told.headers["Location"]).json == told.json


def test_pictures_of_a_spot_come_in_the_order_they_were_taken(service, books):
    """The camera's day counts; where it wrote none, the stated one, else the day of entry."""
    for color, (camera, said) in enumerate([
        ("2026:02:20 09:30:00", {}), (None, {"taken": "2026-01-08"}), (None, {}),
    ]):  # fmt: skip
        content = picture(camera=camera, color=(color, 0, 0))
        assert added(service, books, content, spot="North  Wall", **said).status_code == 201
    added(service, books, picture(color=(9, 9, 9)), spot="south wall")
    days = [one["dated"] for one in listed(service, books, spot="north wall")]
    assert days == ["2026-01-08", "2026-02-20", "2026-03-02"]
    first = service.get(books.replace("/books", "/documents?limit=1")).json
    more = listed(service, books, limit=3, cursor=first["next"])
    assert [first["documents"][0]["number"], *(one["number"] for one in more)] == [2, 1, 3, 4]


def test_the_picture_taken_before_is_the_last_of_each_spot(service, books):
    for day, spot in (("2026-01-05", "pit"), ("2026-02-05", "pit"), ("2026-02-20", "pit")):
        content = picture("PNG", color=(0, 0, int(day[-2:]) + int(day[6])))
        added(service, books, content, "a.png", PNG, spot=spot, taken=day, code="30.020")
    added(service, books, BILL, "b.pdf", PDF, code="30.020", taken="2026-02-10")
    project_id = UUID(books.split("/")[3])
    with service.store.reading(Caller(service.account_id)) as session:
        shown = pictures_before(session, project_id, date(2026, 2, 20), code="30.020")
        assert [one.number for one in shown] == [2]
        assert pictures_before(session, project_id, date(2026, 1, 5), spot="PIT") == []


def test_the_same_bytes_are_stored_once(service, books):
    content = picture()
    added(service, books, content, spot="pit")
    again = added(service, books, content, spot="Pit")
    assert refusal(again) == "the same file is document 1 already"
    other = added(service, books, content, spot="yard")
    assert other.json["notes"] == ["the same file is document 1 too"]
    with service.store.across_accounts() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM document_contents").scalar() == 1


def test_another_query_under_the_same_key_is_refused(embedded, own_books):
    path, headers = own_books.replace("/books", "/documents"), new_key() | {"Content-Type": PDF}
    sent = [embedded.send("POST", f"{path}?name={name}.pdf", BILL, headers=headers)
            for name in ("a", "a", "b")]  # fmt: skip
    assert [one.status_code for one in sent] == [201, 201, 422]
    assert (sent[0].json, sent[2].json["code"]) == (sent[1].json, "key-reused")


@pytest.mark.parametrize(("content", "name", "kind", "what"), [
    (picture(), "a.png", "image/png",
     "the file is a JPEG picture, but is named 'a.png'"),
    (picture(), "a.jpg", "image/png", "the file is a JPEG picture, but was sent as image/png"),
    (b"<html><script>alert(1)</script>", "a.pdf", PDF,
     "the file is neither a JPEG or PNG picture nor a PDF"),
    (b"GIF89a", "a.png", PNG, "the file is neither a JPEG or PNG picture nor a PDF"),
    (b"", "a.pdf", PDF, "the file is empty"),
    (b"%PDF-1.4\n", "a.pdf", PDF, "the PDF breaks off before its end"),
    (picture()[:40], "a.jpg", "image/jpeg",
     "the file begins as a JPEG picture but cannot be read as one"),
    (picture("PNG")[:-20], "a.png", PNG,
     "the file begins as a PNG picture but cannot be read as one"),
    (bomb(), "a.png", PNG, "the picture has more than 89,000,000 pixels"),
    (BILL, "../a.pdf", PDF, "the name holds a slash, or turns the direction of writing round"),
    (BILL, "a\u202efdp.pdf", PDF,
     "the name holds a slash, or turns the direction of writing round"),
    (BILL, "a\n.pdf", PDF, "has control characters"),
])  # fmt: skip
def test_what_is_not_what_it_says_is_refused(embedded, own_books, content, name, kind, what):
    assert refusal(added(embedded, own_books, content, name, kind)) == what
    assert listed(embedded, own_books) == []


def test_what_a_document_belongs_to_must_be_there_and_all_faults_come_together(embedded, own_books):
    answer = added(
        embedded, own_books, BILL, "a.pdf", PDF, entry=7, code="99.1", taken="2026-03-03"
    )
    assert [(one["where"], one["what"]) for one in answer.json["errors"]] == [
        ("entry", "there is no row 7"), ("taken", "2026-03-03 is in the future"),
        ("code", "there is no cost code '99.1'"),
    ]  # fmt: skip
    assert added(embedded, own_books, BILL, "a.htm", "text/html").status_code == 415


def test_before_the_books_are_open_the_codes_are_those_of_the_scope(embedded):
    books = f"{keep_project(embedded)}/books"
    assert added(embedded, books, BILL, "a.pdf", PDF, code="30.020").status_code == 201
    unknown = added(embedded, books, BILL, "a.pdf", PDF, code="30.021")
    assert refusal(unknown) == "there is no cost code '30.021'"


def test_one_that_states_no_type_is_taken_by_its_content(embedded, own_books):
    told = added(embedded, own_books, BILL, "A.PDF", "application/octet-stream")
    assert told.json["media_type"] == PDF


def test_a_pdf_with_a_script_is_stored_with_a_note(embedded, own_books):
    told = added(embedded, own_books, SCRIPT, "a.pdf", PDF).json
    assert told["notes"] == [
        "the PDF names a script or a program to start; nothing here runs it, a viewer might"
    ]


@pytest.mark.parametrize(("camera", "day", "note"), [
    ("2026:03:02 07:00:00", TODAY, ""),
    ("2031:05:01 07:00:00", None,
     "the camera's date 2031-05-01 is in the future: the day is unknown"),
    ("1900:01:01 00:00:00", None,
     "the camera's date 1900-01-01 is before 1990: the day is unknown"),
    ("0000:00:00 00:00:00", None,
     "the camera's date '0000:00:00 00:00:00' is not a date: the day is unknown"),
    ("=1+1", None, "the camera's date '=1+1' is not a date: the day is unknown"),
    (None, None, ""),
])  # fmt: skip
def test_the_day_of_a_camera_counts_if_it_can_be_right(camera, day, note):
    assert day_taken(read_content(picture(camera=camera)), TODAY) == (day, note)


@settings(max_examples=30)
@given(st.sampled_from([picture(camera="2026:02:20 09:30:00"), picture("PNG")]),
       st.integers(0, 400), st.binary(min_size=1, max_size=8))  # fmt: skip
def test_a_damaged_picture_is_read_or_refused_in_a_sentence(content, at, noise):
    broken = content[:at] + noise + content[at + len(noise) :]
    with suppress(InputFaulty):
        assert read_content(broken).media_type in (PNG, "image/jpeg")


def test_a_crew_adds_pictures_to_its_own_rows_and_sees_no_bill(service, books):
    posted(service, books, "costs", **cost())
    share(service, books)
    progress = {"happened": "2026-02-13", "code": "30.020", "in_place": "20", "unit": "ton"}
    service.post(f"{books}/progress", progress, role="crew", headers=new_key())
    bill = added(service, books, BILL, "a.pdf", PDF, entry=1)
    assert added(service, books, picture(), entry=2, role="crew").status_code == 201
    hidden = added(service, books, picture(), entry=1, role="crew")
    assert refusal(hidden) == "there is no row 1"
    assert [one["entry"] for one in listed(service, books, role="crew")] == [2]
    assert service.get(f"{bill.headers['Location']}/content", role="crew").status_code == 404
    assert service.get(bill.headers["Location"], role="lender").status_code == 403


def test_an_account_holds_so_many_bytes_and_no_file_is_longer_than_an_upload(embedded, tmp_path):
    limits = {"GROUNDSILL_MOST_DOCUMENT_BYTES": "1000000",
              "GROUNDSILL_LARGEST_UPLOAD_BYTES": "700000"}  # fmt: skip
    service = Service(embedded.store, tmp_path, limits, own=embedded.own)
    books = open_books(service)
    large = BILL[:9] + b" " * 600_000 + BILL[9:]
    assert added(service, books, large, "a.pdf", PDF).status_code == 201
    assert "would take more than 1,000,000 bytes" in refusal(
        added(service, books, large + b" ", "a.pdf", PDF)
    )
    assert added(service, books, large + large, "a.pdf", PDF).status_code == 413


def test_a_trace_shows_the_documents_of_its_code_and_rows(embedded, own_books):
    posted(embedded, own_books, "costs", **cost())
    posted(embedded, own_books, "costs", **cost(document="Q-2", splits=[
        {"code": "30.010", "kind": "material"},
    ]))  # fmt: skip
    added(embedded, own_books, BILL, "bill.pdf", PDF, entry=1)
    added(embedded, own_books, BILL, "bill.pdf", PDF, entry=2)
    added(embedded, own_books, picture(), code="30.020")
    told = embedded.get(f"{own_books}/trace?code=30.020").json["documents"]
    assert [one["number"] for one in told] == [1, 3]
    earlier = embedded.get(f"{own_books}/trace?code=30.020&as_of=2026-02-20").json["documents"]
    assert [one["number"] for one in earlier] == [1]
