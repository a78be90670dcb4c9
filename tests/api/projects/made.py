"""Projects of the tests as somebody would make them over HTTP; all of it is invented."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from uuid import UUID

from sqlalchemy import event
from werkzeug.test import TestResponse

from api.estimates.stored_estimates import accept, store_estimate
from api.projects.rows import Project
from api.store.caller import Caller
from api.store.store import Store
from tests.api.service import NOON, Service, new_key
from tests.api.store.made import made_ready

AT = "/v1/projects"
NOBODYS = "00000000-0000-4000-8000-000000000000"
SAMPLE = Path("estimator/sample/harrow-lane-carbarn.yaml")
QUOTES = {
    path.name: path.read_text(encoding="utf-8")
    for path in sorted(Path("estimator/sample/harrow-lane-quotes").glob("*.csv"))
}
STONE: dict[str, Any] = {
    "code": "010",
    "name": "Stone fill, west pit",
    "assembly": "stone-fill-skid-steer",
    "inputs": {"length": "62 ft 6 in", "width": "22'-4\"", "depth": ["2 ft", "6 ft 3 in"]},
}


def created(answer: TestResponse) -> Any:
    """Return what was created."""
    assert answer.status_code == 201, answer.text
    return answer.json


def open_project(service: Service, **fields: Any) -> Any:
    """Begin a project."""
    body = {"name": "Harrow Lane Carbarn"} | fields
    return created(service.post(AT, body, headers=new_key()))


def open_phase(service: Service, project: Any, code: str = "20", **fields: Any) -> Any:
    """Add a phase."""
    body = {"code": code, "name": f"Phase {code}"} | fields
    path = f"{AT}/{project['id']}/phases"
    return created(service.post(path, body, headers=new_key()))


def add_item(service: Service, project: Any, phase: Any, **fields: Any) -> Any:
    """Add an item."""
    body = STONE | {"phase_id": phase["id"]} | fields
    path = f"{AT}/{project['id']}/items"
    return created(service.post(path, body, headers=new_key()))


def accept_made(service: Service, project: Any) -> None:
    """Accept an estimate of a project that has the cost codes 20.001, 20.002 and so on."""
    with service.store.unit_of_work(Caller(service.account_id), NOON) as work:
        row = work.existing(Project, UUID(project["id"]))
        accept(
            work,
            store_estimate(work, row, made_ready()),
        )
        work.commit()


def at_version(row: Any) -> dict[str, str]:
    """Return the header that names the version of a row."""
    return {"If-Match": f'"{row["version"]}"'}


def as_read(service: Service, project: Any) -> dict[str, str]:
    """Return the header that names the scope of a project as its owner reads it now."""
    read = service.get(f"{AT}/{project['id']}/scope")
    return {"If-Match": read.headers.get("ETag", '"1"')}


def entries(answer: TestResponse, status: int) -> list[tuple[str, str]]:
    """Return pointer and sentence of each fault of a problem."""
    assert answer.status_code == status, answer.text
    return [(one.get("pointer", ""), one["what"]) for one in answer.json["errors"]]


@contextmanager
def statements(store: Store) -> Iterator[list[str]]:
    """Note what is sent to the database."""
    sent: list[str] = []

    def note(_connection: Any, _cursor: Any, statement: str, *_: Any) -> None:
        sent.append(statement)

    event.listen(store.engine, "before_cursor_execute", note)
    yield sent
    event.remove(store.engine, "before_cursor_execute", note)
