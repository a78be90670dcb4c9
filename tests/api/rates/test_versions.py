"""Rate tables go from draft to published version; nothing published ever changes."""

from __future__ import annotations

import io

import openpyxl
import pytest

from api.calculations.scopes import WORKBOOK_TYPE
from api.store.verify import verify
from tests.api.rates.made import AT, RESOURCES, STONE, added, draft_of, opened_set, published, sent
from tests.api.service import new_key

TABLES = {"resources.csv": RESOURCES}


@pytest.fixture
def rate_set(service):
    return opened_set(service)


@pytest.fixture
def draft(service, rate_set):
    return draft_of(service, rate_set, tables=TABLES)


def whats(answer, status):
    assert answer.status_code == status, answer.text
    return [one["what"] for one in answer.json["errors"]]


def test_tables_come_back_as_they_were_sent(service, draft):
    assert service.get(f"{draft}/tables").json == {"tables": TABLES}
    told = service.get(draft).json
    assert (told["number"], told["row_count"], told["published_at"]) == (1, 2, None)


def test_a_published_version_is_final(service, rate_set, draft):
    told = published(service, draft)
    assert told["published_at"] == "2026-03-02T12:00:00Z"
    row = service.get(f"{draft}/rows").json["rows"][0]["id"]
    for method, path, body in (
        ("PUT", f"{draft}/tables", {"tables": TABLES}),
        ("PATCH", draft, {"note": "later"}),
        ("DELETE", draft, None),
        ("POST", f"{draft}/publication", None),
        ("PATCH", f"{draft}/rows/{row}", {"cells": {"rate": "1"}}),
        ("DELETE", f"{draft}/rows/{row}", None),
    ):
        of = path if "/rows/" in path else draft
        refused = sent(service, method, path, body, of=of)
        assert (path, whats(refused, 409)) == (path, ["version 1 is published"])
    assert whats(added(service, draft, STONE), 409) == ["version 1 is published"]
    assert service.get(f"{draft}/tables").json == {"tables": TABLES}
    verify(service.store)


def test_a_set_has_one_draft_at_a_time(service, rate_set, draft):
    again = service.post(f"{rate_set}/versions", {}, headers=new_key())
    assert whats(again, 409) == ["the set has a draft already"]
    published(service, draft)
    assert draft_of(service, rate_set) != draft


def test_an_old_version_is_restored_by_a_draft_of_its_rows(service, rate_set, draft):
    first = published(service, draft)
    second = draft_of(service, rate_set, from_version=first["id"], note="spring")
    row = service.get(f"{second}/rows?key=stone-ballast").json["rows"][0]
    assert (
        sent(service, "PATCH", f"{second}/rows/{row['id']}", {"cells": {"rate": "33"}}).json[
            "cells"
        ]["rate"]
        == "33"
    )
    published(service, second)
    third = draft_of(service, rate_set, from_version=first["id"])
    assert service.get(f"{third}/tables").json == {"tables": TABLES}
    assert service.get(third).json["content_digest"] == first["content_digest"]
    listed = service.get(f"{rate_set}/versions").json["versions"]
    assert [(one["number"], one["note"]) for one in listed] == [(3, ""), (2, "spring"), (1, "")]


def test_a_draft_with_faults_is_not_published_and_all_of_them_are_reported(service, rate_set):
    text = RESOURCES.replace("31.00", "cheap").replace(",ton,", ",tonne-ish,")
    draft = draft_of(service, rate_set, tables={"resources.csv": text})
    refused = sent(service, "POST", f"{draft}/publication", of=draft)
    assert (refused.status_code, refused.json["code"]) == (422, "tables-faulty")
    places = {one["where"] for one in refused.json["errors"]}
    assert places == {"Valley 1 resources.csv row 2", "Valley 1 resources.csv row 2, unit"}
    assert service.get(draft).json["published_at"] is None


def test_an_empty_draft_is_not_published(service, rate_set):
    draft = draft_of(service, rate_set)
    refused = sent(service, "POST", f"{draft}/publication", of=draft)
    assert whats(refused, 409) == ["the draft has no row"]


@pytest.mark.parametrize(
    ("tables", "what"),
    [
        ({"prices.csv": "code\n"}, "'prices.csv' is not a rate table"),
        ({"resources.csv": ""}, "is empty"),
        ({"resources.csv": "code,colour\n"}, "has no column 'name'"),
        ({"../../etc/passwd": "x"}, "'../../etc/passwd' is not a rate table"),
    ],
)
def test_what_is_no_table_is_refused_and_the_rows_stay(service, draft, tables, what):
    refused = sent(service, "PUT", f"{draft}/tables", {"tables": tables})
    assert what in whats(refused, 422)
    assert {one["pointer"] for one in refused.json["errors"]} == {"#/tables"}
    assert service.get(f"{draft}/tables").json == {"tables": TABLES}


def test_a_draft_begins_from_a_version_or_tables_of_its_own_set_only(service, rate_set, draft):
    other = opened_set(service, "Hills")
    foreign = service.get(draft).json["id"]
    asked = service.post(f"{other}/versions", {"from_version": foreign}, headers=new_key())
    assert asked.status_code == 422
    assert asked.json["errors"][0]["pointer"] == "#/from_version"
    both = {"from_version": foreign, "tables": TABLES}
    assert service.post(f"{rate_set}/versions", both, headers=new_key()).status_code == 422


def test_a_workbook_goes_out_and_comes_in_with_the_same_rows(service, rate_set, draft):
    content = service.get(f"{draft}/workbook")
    assert content.headers["Content-Disposition"].startswith('attachment; filename="Valley 1.xlsx"')
    sheet = openpyxl.load_workbook(io.BytesIO(content.data))["resources"]
    notes = [cell for row in sheet.iter_rows() for cell in row if cell.value == "ä 窯 =1+1"]
    assert [cell.data_type for cell in notes] == ["s"]
    emptied = sent(service, "PUT", f"{draft}/tables", {"tables": {}})
    assert emptied.json["row_count"] == 0
    blank = openpyxl.load_workbook(io.BytesIO(service.get(f"{draft}/workbook").data))
    assert "resources" in blank.sheetnames
    tag = service.get(draft).headers["ETag"]
    headers = {"If-Match": tag, "Content-Type": WORKBOOK_TYPE}
    answer = service.send("PUT", f"{draft}/workbook", content.data, headers=headers)
    assert answer.status_code == 200, answer.text
    rows = service.get(f"{draft}/rows").json["rows"]
    assert {one["key"] for one in rows} == {"stone-ballast 2026-01-15", "geotextile 2026-02-01"}
    published(service, draft)


@pytest.mark.parametrize("content", [b"", b"PK", b"code,name\n"])
def test_what_is_no_workbook_is_refused(service, draft, content):
    headers = {"If-Match": '"2"', "Content-Type": WORKBOOK_TYPE}
    answer = service.send("PUT", f"{draft}/workbook", content, headers=headers)
    assert answer.status_code in (400, 422)
    assert service.get(f"{draft}/tables").json == {"tables": TABLES}


def test_what_changed_is_shown_as_pricing_sees_it(service, rate_set, draft):
    first = published(service, draft)
    shipped = service.get(f"{draft}/difference?against=shipped").json
    manners = {(one["key"][0], one["manner"]) for one in shipped["changes"]}
    assert ("stone-ballast", "added") in manners
    second = draft_of(service, rate_set, from_version=first["id"])
    row = service.get(f"{second}/rows?key=stone-ballast").json["rows"][0]
    sent(service, "PATCH", f"{second}/rows/{row['id']}", {"cells": {"rate": "32.55"}})
    told = service.get(f"{second}/difference").json
    (change,) = told["changes"]
    assert change["fields"] == [{"column": "rate", "old": "31.00", "new": "32.55"}]
    assert change["rate_change"] == "0.050000"
    assert service.get(f"{second}/difference?against={first['id']}").json == told
    assert service.get(f"{second}/difference?against=x").status_code == 422


def test_a_set_is_renamed_listed_by_name_and_taken_away_while_unused(service, rate_set, draft):
    hills = opened_set(service, "Hills 窯")
    assert [one["name"] for one in service.get(AT).json["rate_sets"]] == ["Hills 窯", "Valley"]
    taken = service.post(AT, {"name": "Valley"}, headers=new_key())
    assert whats(taken, 409) == ["there is a set of that name already"]
    assert sent(service, "PATCH", hills, {"name": "Hills"}).json["name"] == "Hills"
    assert sent(service, "DELETE", hills).status_code == 204
    assert service.get(hills).status_code == 404
    assert sent(service, "DELETE", rate_set).status_code == 204  # with its draft
    verify(service.store)


def test_a_set_that_is_used_or_published_stays(service, rate_set, draft):
    key = service.get(rate_set).json["id"]
    body = {"name": "Barn", "rate_set_id": key}
    project = service.post("/v1/projects", body, headers=new_key()).headers["Location"]
    assert whats(sent(service, "DELETE", rate_set), 409) == ["a project is priced with it"]
    sent(service, "PATCH", project, {"rate_set_id": None})
    published(service, draft)
    assert whats(sent(service, "DELETE", rate_set), 409) == ["a version of it is published"]


def test_a_stale_version_of_a_draft_changes_nothing(service, draft):
    tag = service.get(draft).headers["ETag"]
    added(service, draft, STONE | {"date": "2026-02-02"})
    headers = {"If-Match": tag}
    for method, path, body in (
        ("PUT", f"{draft}/tables", {"tables": TABLES}),
        ("POST", f"{draft}/publication", None),
        ("DELETE", draft, None),
    ):
        assert service.send(method, path, body, headers=headers).status_code == 412
        assert service.send(method, path, body).status_code == 428
    assert service.get(draft).json["row_count"] == 3
