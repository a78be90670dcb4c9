"""Projects and estimates of the tests; all of it is invented."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from werkzeug.test import TestResponse

from api.projects.rows import Project
from api.projects.stored_scope import store_scope
from api.rates.sent_quotes import store_quotes
from api.rates.table_rows import rows_of_texts
from api.store.caller import Caller
from estimator.scope.located import without_places
from estimator.scope.scope_yaml import read_yaml
from tests.api.service import Service, new_key

SAMPLE = Path("estimator/sample/harrow-lane-carbarn.yaml")
QUOTES = Path("estimator/sample/harrow-lane-quotes")
PITS = """\
project: Harrow Lane Carbarn
on: 2026-03-02
day_worth: $310/day
phases:
  - code: "30"
    name: Pits filled
    items:
      - code: "010"
        name: Fabric under the stone
        assembly: geotextile
        inputs: {area: 2950 sf}
      - code: "020"
        name: Stone fill, west pit
        assembly: stone-fill-skid-steer
        inputs: {length: 62 ft 6 in, width: 22'-4", depth: [2 ft, 6 ft 3 in]}
        methods:
          - name: wheeling it in by skid steer
          - name: throwing it in by conveyor truck
            assembly: stone-fill-conveyor-hired
"""


def keep_project(
    service: Service, scope: bytes = PITS.encode(), quotes: Path | None = None, **owner: Any
) -> str:
    """Keep a scope as a project, and return the project's path."""
    caller = Caller(owner.get("account_id", service.account_id))
    with service.store.unit_of_work(caller, service.clock.now) as work:
        project = Project(name="new", created_at=service.clock.now, markups=None)
        work.add(project)
        written = without_places(read_yaml(scope, "scope"))
        assert isinstance(written, dict)
        store_scope(work, project, written)
        if quotes is not None:
            files = {one.name: one.read_text(encoding="utf-8") for one in quotes.glob("*.csv")}
            store_quotes(work, project, rows_of_texts(files))
        work.commit()
        return f"/v1/projects/{project.id}"


def priced(service: Service, project: str, **body: Any) -> TestResponse:
    """Price a project."""
    answer = service.post(f"{project}/estimates", body, headers=new_key())
    assert answer.status_code == 201, answer.text
    return answer


def path_of(answer: TestResponse) -> str:
    """Return the path of what was created."""
    return answer.headers["Location"]
