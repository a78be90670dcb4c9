"""Scopes and quotes are read outside the turn to write: others write meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import Any

import pytest

from api.store.verify import verify
from estimator.assemblies import tables
from estimator.scope import scope_reader
from tests.api.projects.made import AT, STONE, open_project
from tests.api.rates.made import STONE as QUOTE
from tests.api.rates.made import added
from tests.api.service import Service, new_key

Meanwhile = Callable[[Callable[[], Any]], list[int]]
_NUMBERS = count()
_READERS = {"read_scope": scope_reader, "load_tables": tables}


@pytest.fixture(params=_READERS)
def meanwhile(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Meanwhile:
    """A way to have something done once, before the library reads a scope or tables."""
    read, readings = getattr(_READERS[request.param], request.param), []

    def do(something: Callable[[], Any]) -> list[int]:
        def read_then(*of: Any) -> Any:
            readings.append(1)
            if len(readings) == 1:
                something()
            return read(*of)

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
    readings = meanwhile(lambda: open_project(service, name="Shed"))
    answer = service.post(f"{AT}/from-scope", body_of("010"), headers=new_key())
    assert answer.status_code == 201, answer.text
    assert (len(readings), len(service.get(AT).json["projects"])) == (1, 2)


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
