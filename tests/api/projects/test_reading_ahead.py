"""Scopes and quotes are read outside the turn to write: others write meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from api.store.caller import Caller
from api.store.models import AuditRow
from api.store.store import Store
from api.store.verify import verify
from estimator.assemblies import tables
from estimator.scope import scope_reader
from tests.api.projects.made import AT, STONE, add_item, open_phase, open_project, statements
from tests.api.rates.made import STONE as QUOTE
from tests.api.rates.made import added, draft_of, opened_set, published, sent
from tests.api.service import Service, new_key

Meanwhile = Callable[[Callable[[], Any]], list[int]]
_NUMBERS = count()
_READERS = {"read_scope": scope_reader, "load_tables": tables}


@pytest.fixture(params=_READERS)
def meanwhile(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Meanwhile:
    """A way to have something done once, before the library reads a scope or tables."""
    read, readings = getattr(_READERS[request.param], request.param), []

    def do(something: Callable[[], Any]) -> list[int]:
        def read_then(*of: Any, **more: Any) -> Any:
            readings.append(1)
            if len(readings) == 1:
                something()
            return read(*of, **more)

        monkeypatch.setattr(_READERS[request.param], request.param, read_then)
        return readings

    return do


def body_of(*codes: str) -> dict[str, Any]:
    """Return a scope with quotes that no other test has sent, so that they are read anew."""
    items = [STONE | {"code": code} for code in codes]
    scope = {"project": "Carbarn", "phases": [{"code": "20", "name": "Fill", "items": items}]}
    row = QUOTE | {"note": f"quote {next(_NUMBERS)}"}
    columns = (*QUOTE, "low", "high", "valid_until", "note")
    cells = (",".join(columns), ",".join(row.get(column, "") for column in columns))
    return {"scope": scope, "quotes": {"resources.csv": "\n".join(cells)}}


def put(service: Service, path: str, body: Any) -> Any:
    tag = service.get(path).headers["ETag"]
    return service.send("PUT", path, body, headers={"If-Match": tag})


def test_others_write_while_a_scope_is_read_to_replace_another(
    service: Service, meanwhile: Meanwhile
) -> None:
    project = f"{AT}/{open_project(service)['id']}"
    readings = meanwhile(lambda: open_project(service, name="Shed"))
    answer = put(service, f"{project}/scope", body_of("010", "020"))
    assert answer.status_code == 200, answer.text
    assert (len(readings), len(service.get(AT).json["projects"])) == (1, 2)
    verify(service.store)


def test_others_write_while_a_scope_is_read_into_a_new_project(
    service: Service, meanwhile: Meanwhile
) -> None:
    open_project(service)
    readings = meanwhile(lambda: open_project(service, name="Shed"))
    answer = service.post(f"{AT}/from-scope", body_of("010"), headers=new_key())
    assert answer.status_code == 201, answer.text
    assert (len(readings), len(service.get(AT).json["projects"])) == (1, 3)


@pytest.mark.parametrize("meanwhile", ["load_tables"], indirect=True)
def test_others_write_while_quotes_are_read(service: Service, meanwhile: Meanwhile) -> None:
    project = f"{AT}/{open_project(service)['id']}"
    readings = meanwhile(lambda: open_project(service, name="Shed"))
    quotes = body_of()["quotes"]
    answer = put(service, f"{project}/quotes/tables", {"tables": quotes})
    assert answer.status_code == 200, answer.text
    assert (len(readings), len(service.get(AT).json["projects"])) == (1, 2)


@pytest.mark.parametrize("meanwhile", ["read_scope"], indirect=True)
def test_a_scope_is_read_again_if_the_rates_are_changed_meanwhile(
    service: Service, meanwhile: Meanwhile
) -> None:
    project = f"{AT}/{open_project(service)['id']}"
    readings = meanwhile(lambda: added(service, f"{project}/quotes", QUOTE))
    body = {"scope": body_of("010")["scope"]}
    assert put(service, f"{project}/scope", body).status_code == 200
    assert len(readings) == 2


def replaced_in(service: Service, project: str, count: int, name: str) -> int:
    """Replace a scope by one of so many items, and return how many statements that took."""
    body = {"scope": body_of(*(f"{n:03d}" for n in range(count)))["scope"]}
    for item in body["scope"]["phases"][0]["items"]:
        item["name"] = name
    with statements(service.store) as sent:
        assert put(service, f"{project}/scope", body).status_code == 200
    return len(sent)


def test_many_items_are_added_changed_and_dropped_in_as_many_statements_as_two(
    service: Service,
) -> None:
    few, many = (f"{AT}/{open_project(service)['id']}" for _ in range(2))
    for few_items, many_items, name in ((2, 40, "Added"), (2, 40, "Changed")):
        two = replaced_in(service, few, few_items, name)
        assert replaced_in(service, many, many_items, name) == two
    verify(service.store)
    before = len(audited(service))
    assert replaced_in(service, many, 40, "Changed again") == two
    assert len(audited(service)) == before + 41  # 40 items, and the project
    before = len(audited(service))
    assert replaced_in(service, many, 1, "Changed again") <= 40 + two
    assert len(audited(service)) == before + 40  # 39 items that went, and the project
    verify(service.store)


def audited(service: Service) -> list[Any]:
    with service.store.reading(Caller(service.account_id)) as session:
        return list(session.scalars(select(AuditRow.number)))


def test_a_project_holds_no_more_items_than_one_request_may_have(
    sqlite_store: Store, tmp_path: Path
) -> None:
    small = Service(sqlite_store, tmp_path, {"GROUNDSILL_MOST_ROWS": "10"})
    project = open_project(small)
    phase = open_phase(small, project)
    for n in range(10):
        add_item(small, project, phase, code=str(n))
    body = STONE | {"phase_id": phase["id"], "code": "10"}
    answer = small.post(f"{AT}/{project['id']}/items", body, headers=new_key())
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["detail"] == "the project has more than 10 items; open another project."


def noted(rate: str = "31.00") -> dict[str, str]:
    """Return a quote that no other test has sent, so that the tables with it are read anew."""
    return QUOTE | {"rate": rate, "note": f"quote {next(_NUMBERS)}"}


CHANGES_OF_A_QUOTE: dict[str, Callable[[Service, str, Any], Any]] = {
    "added": lambda service, quotes, _: added(service, quotes, noted() | {"code": "sand"}),
    "changed": lambda service, quotes, row: sent(
        service, "PATCH", f"{quotes}/{row['id']}", {"cells": noted("32.00")}
    ),
    "several": lambda service, quotes, row: service.post(
        f"{quotes}/changes", {"rows": [{"id": row["id"], "version": 1, "cells": noted("33.00")}]}
    ),
    "removed": lambda service, quotes, row: sent(service, "DELETE", f"{quotes}/{row['id']}"),
}


@pytest.mark.parametrize("meanwhile", ["load_tables"], indirect=True)
@pytest.mark.parametrize("how", CHANGES_OF_A_QUOTE)
def test_others_write_while_a_quote_is_checked_and_a_quote_of_theirs_is_checked_with_it(
    service: Service, meanwhile: Meanwhile, how: str
) -> None:
    quotes = f"{AT}/{open_project(service)['id']}/quotes"
    rows = added(service, quotes, noted(), noted() | {"code": "gravel"}).json["rows"]
    readings = meanwhile(lambda: added(service, quotes, noted() | {"code": "chips"}))
    answer = CHANGES_OF_A_QUOTE[how](service, quotes, rows[0])
    assert answer.status_code in (200, 201, 204), answer.text
    assert len(readings) == 3  # before the other's, the other's, and once more with it
    codes = sorted(row["cells"]["code"] for row in service.get(quotes).json["rows"])
    there = ["chips", "gravel", *([] if how == "removed" else ["stone-ballast"])]
    assert codes == sorted(there + (["sand"] if how == "added" else []))
    verify(service.store)


@pytest.mark.parametrize("meanwhile", ["load_tables"], indirect=True)
def test_others_write_while_a_draft_is_checked_and_it_is_not_published_if_they_changed_it(
    service: Service, meanwhile: Meanwhile
) -> None:
    draft = draft_of(service, opened_set(service))
    added(service, draft, noted())
    readings = meanwhile(lambda: added(service, draft, noted() | {"code": "chips"}))
    refused = sent(service, "POST", f"{draft}/publication", of=draft)
    assert (len(readings), refused.status_code) == (1, 412)
    assert service.get(draft).json["published_at"] is None
    assert published(service, draft)["row_count"] == 2
    verify(service.store)
