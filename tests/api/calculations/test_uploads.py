"""Workbooks that are sent: read within the limits that the settings give."""

from __future__ import annotations

import pytest

from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.bodies import upload_limits
from tests.api.service import Service
from tests.workbook.filled import CUT, filled

AT = "/v1/calculations/estimate-of-file"
AS_WORKBOOK = {"Content-Type": WORKBOOK_TYPE}


def sent(store, folder, content: bytes, **options: str):
    return Service(store, folder, options).post(AT, content, headers=AS_WORKBOOK)


@pytest.fixture(scope="module")
def long_workbook() -> bytes:
    return filled([CUT] * 10_000)


def test_a_lower_limit_of_time_refuses_what_the_usual_one_takes(
    sqlite_store, tmp_path, long_workbook
):
    rows = {"GROUNDSILL_MOST_ROWS": "10000"}
    usual = sent(sqlite_store, tmp_path, long_workbook, **rows)
    assert usual.json["code"] == "scope-faulty"  # so it was read, and its items looked at
    lower = sent(sqlite_store, tmp_path, long_workbook, GROUNDSILL_UPLOAD_SECONDS="1", **rows)
    assert lower.status_code == 422
    assert lower.json["code"] == "workbook-refused"
    assert lower.json["detail"] == (
        "is damaged, or takes too much time or memory to read; "
        "open it in a spreadsheet program and save it again."
    )


def test_the_memory_that_reading_may_take_is_what_the_settings_say(sqlite_store, tmp_path):
    """What is refused for it, tests/workbook/reading shows: the watch looks, it does not count."""
    lower = {"GROUNDSILL_UPLOAD_MEMORY_BYTES": "50000000"}
    for options, most_bytes in (({}, 256_000_000), (lower, 50_000_000)):
        service = Service(sqlite_store, tmp_path, options)
        with service.app.app_context():
            assert upload_limits().memory_bytes == most_bytes
