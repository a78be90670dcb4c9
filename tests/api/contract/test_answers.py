"""Answers: safe headers everywhere, large ones packed, files named safely."""

from __future__ import annotations

import gzip
import json
from urllib.parse import unquote

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.calculations import examples
from api.contract.answers import attachment

ESTIMATE = "/v1/calculations/estimate"


@pytest.mark.parametrize("path", ["/v1/account", "/v1/none", "/v1/problems", "/health/live"])
def test_every_answer_has_the_safe_headers(embedded, path):
    headers = embedded.get(path).headers
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cache-Control"] == "no-store"
    assert headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert headers["Referrer-Policy"] == "no-referrer"
    assert headers["X-Frame-Options"] == "DENY"
    assert "Strict-Transport-Security" not in headers
    assert "Set-Cookie" not in headers
    assert "Access-Control-Allow-Origin" not in headers


def test_https_is_remembered(embedded):
    answer = embedded.get("/v1/account", base_url="https://groundsill.example")
    assert answer.headers["Strict-Transport-Security"] == "max-age=31536000"


def test_a_large_answer_is_packed_for_who_takes_that(embedded):
    plain = embedded.post(ESTIMATE, examples.ESTIMATE)
    packed = embedded.post(ESTIMATE, examples.ESTIMATE, headers={"Accept-Encoding": "br, gzip"})
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert int(packed.headers["Content-Length"]) == len(packed.data) < len(plain.data) / 3
    assert gzip.decompress(packed.data) == plain.data
    assert "Accept-Encoding" in plain.headers["Vary"]
    refused = embedded.post(ESTIMATE, examples.ESTIMATE, headers={"Accept-Encoding": "gzip;q=0"})
    assert "Content-Encoding" not in refused.headers


def test_a_small_answer_stays_as_it_is(embedded):
    answer = embedded.get("/v1/account", headers={"Accept-Encoding": "gzip"})
    assert "Content-Encoding" not in answer.headers


@pytest.mark.parametrize(
    ("name", "plain", "full"),
    [
        ("Harrow Lane Carbarn", "Harrow Lane Carbarn.xlsx", "Harrow Lane Carbarn.xlsx"),
        ("Brûlerie “Nord”", "Brlerie Nord.xlsx", "Brûlerie “Nord”.xlsx"),
        ("车库", "estimate.xlsx", "车库.xlsx"),
        ("../../etc/passwd", "etcpasswd.xlsx", "etcpasswd.xlsx"),
        ('a"; filename="b', "a; filename=b.xlsx", "a; filename=b.xlsx"),
        ("gpj\u202excod", "gpjxcod.xlsx", "gpjxcod.xlsx"),
        ("...", "estimate.xlsx", "estimate.xlsx"),
        ("", "estimate.xlsx", "estimate.xlsx"),
    ],
)
def test_a_file_is_named_after_its_project_as_far_as_that_is_safe(name, plain, full):
    told = attachment(name, ".xlsx")
    first, _, encoded = told.partition("; filename*=UTF-8''")
    assert first == f'attachment; filename="{plain}"'
    assert unquote(encoded) == full


@given(st.text())
def test_no_name_breaks_out_of_its_header(name):
    told = attachment(name, ".xlsx")
    assert told.isascii()
    assert told.isprintable()
    assert told.count('"') == 2
    assert len(told) < 2_000


def test_an_estimate_workbook_is_named_after_its_project(embedded):
    answer = embedded.post("/v1/calculations/estimate-workbook", examples.ESTIMATE)
    assert answer.status_code == 200
    assert 'filename="Harrow Lane Carbarn.xlsx"' in answer.headers["Content-Disposition"]
    assert answer.data.startswith(b"PK\x03\x04")


def test_answers_are_utf_8_as_they_are(embedded):
    scope = examples.SCOPE_TEXT.replace("Harrow Lane Carbarn", "Brûlerie 车库")
    answer = embedded.post(ESTIMATE, {"scope": scope})
    assert "Brûlerie 车库" in answer.data.decode()
    assert json.loads(answer.data)["project"] == "Brûlerie 车库"
