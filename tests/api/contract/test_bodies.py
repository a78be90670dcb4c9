"""Bodies at the door: length, size, kind, and files that are built to do harm."""

from __future__ import annotations

import io
import zipfile
from functools import cache

import pytest

from api.calculations import examples
from api.calculations.scopes import FILE_TYPES, WORKBOOK_TYPE, YAML_TYPE
from api.subjects import ALLOWED
from tests.api.service import Service, filled_path, guarded_routes, new_key
from tests.workbook.filled import filled

RENTAL = "/v1/calculations/rental"
NOBODYS = "00000000-0000-4000-8000-000000000000"
FILE = "/v1/calculations/estimate-of-file"
STONE = [
    ["20", "010", "Geotextile", "geotextile", "area", "2,950 sf"],
]


@pytest.fixture
def small(sqlite_store, tmp_path):
    limits = {
        "GROUNDSILL_LARGEST_BODY_BYTES": "10000",
        "GROUNDSILL_LARGEST_UPLOAD_BYTES": "20000",
        "GROUNDSILL_MOST_ROWS": "10",
    }
    return Service(sqlite_store, tmp_path, limits)


def test_a_body_in_pieces_of_unknown_length_is_refused_on_every_route(embedded):
    for route in guarded_routes(embedded.app):
        method, path = filled_path(route, NOBODYS)
        answer = embedded.send(method, path, headers={"Transfer-Encoding": "chunked"})
        assert (route, answer.status_code) == (route, 411)
        assert answer.json["code"] == "length-missing"


def test_a_body_that_is_too_long_is_refused_unread_and_never_cut(small):
    most = b'{"days": 1, "x": "' + b"a" * 9_980 + b'"}'
    assert len(most) == 10_000
    assert small.post(RENTAL, most).status_code == 422
    refused = small.post(RENTAL, most + b" ")
    assert (refused.status_code, refused.json["code"]) == (413, "body-too-large")
    assert refused.json["errors"][0]["what"] == "the body is longer than 10,000 bytes"


def test_a_file_has_a_limit_of_its_own(small):
    text = examples.SCOPE_TEXT.encode() + b"#" * 15_000
    assert small.post(FILE, text, headers={"Content-Type": YAML_TYPE}).status_code == 200
    longer = text + b"#" * 5_000
    assert small.post(FILE, longer, headers={"Content-Type": YAML_TYPE}).status_code == 413


def test_a_scope_of_too_many_items_is_refused(small):
    items = "".join(
        f'      - {{code: "{n:03d}", name: Permits, assembly: permits, '
        'inputs: {valuation: "$9,000", street_permits: 1 permit}}\n'
        for n in range(11)
    )
    scope = f"project: Barn\nphases:\n  - code: '10'\n    name: Permits\n    items:\n{items}"
    answer = small.post("/v1/calculations/estimate", {"scope": scope, "on": "2026-03-02"})
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["errors"] == [
        {
            "pointer": "#/scope",
            "what": "the scope has more than 10 items",
            "remedy": "send it in parts",
        }
    ]


@pytest.mark.parametrize(
    "kind",
    ["", "text/plain", "application/xml", "application/json; charset=utf-16", "application/jsonp",
     "multipart/form-data", "application/x-www-form-urlencoded"],
)  # fmt: skip
def test_a_body_of_another_kind_is_refused(embedded, kind):
    answer = embedded.post(RENTAL, b"{}", headers={"Content-Type": kind})
    assert (answer.status_code, answer.json["code"]) == (415, "media-type-unfit")
    assert answer.json["errors"][0]["header"] == "Content-Type"


def test_a_packed_body_is_refused(embedded):
    answer = embedded.post(RENTAL, b"{}", headers={"Content-Encoding": "gzip"})
    assert answer.status_code == 415


@pytest.mark.parametrize("kind", ["application/json; charset=UTF-8", "APPLICATION/JSON"])
def test_json_may_say_that_it_is_utf_8(embedded, kind):
    answer = embedded.post(RENTAL, examples.RENTAL, headers={"Content-Type": kind})
    assert answer.status_code == 200


def test_a_workbook_prices_as_the_scope_it_holds(embedded):
    content, headers = filled(STONE), {"Content-Type": WORKBOOK_TYPE}
    answer = embedded.post(f"{FILE}?on=2026-03-02", content, headers=headers)
    assert answer.status_code == 200
    assert answer.json["on"] == "2026-03-02"
    assert answer.json["items"][0]["quantity"].startswith("2950")


@cache
def bomb():
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b" " * 60_000_000)
    return content.getvalue()


@pytest.mark.parametrize("kind", FILE_TYPES)
@pytest.mark.parametrize(
    "content", [b"\x00\xff\xfe", b"PK\x03\x04", b"PK\x03\x04" + b"\x00" * 500, bomb],
    ids=["bytes", "cut off", "zeros", "bomb"],
)  # fmt: skip
def test_a_hostile_file_gets_a_sentence_and_the_worker_lives(embedded, kind, content):
    content = content if isinstance(content, bytes) else content()
    answer = embedded.post(FILE, content, headers={"Content-Type": kind})
    assert answer.status_code == 422
    assert answer.json["code"] in ("workbook-refused", "scope-faulty")
    assert len(answer.json["errors"]) == 1
    assert embedded.get("/v1/account").status_code == 200


def test_an_empty_file_is_refused(embedded):
    answer = embedded.post(FILE, b"", headers={"Content-Type": YAML_TYPE})
    assert (answer.status_code, answer.json["code"]) == (400, "body-faulty")


def test_a_query_parameter_that_a_route_does_not_know_is_refused_by_every_route(embedded):
    taken = []
    for route in sorted(ALLOWED):
        method, path = filled_path(route, NOBODYS)
        headers = new_key() | {"If-Match": '"1"'}
        body = {} if method in ("POST", "PUT", "PATCH") else None
        answer = embedded.send(method, f"{path}?nothing=1", body, headers=headers)
        faults = answer.json.get("errors", []) if answer.status_code == 422 else []
        if "nothing" not in {one.get("parameter") for one in faults}:
            taken.append((route, answer.status_code, answer.text))
    assert taken == []
