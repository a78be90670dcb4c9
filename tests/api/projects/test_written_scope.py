"""A scope that is kept and read back says what the file said, to the digest and to the byte."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sqlalchemy import select

from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.projects.stored_scope import store_scope
from api.projects.written_scope import read_written, written_scope
from api.store.accounts import open_account
from api.store.caller import Caller
from api.store.errors import StillNeeded
from api.store.models import AuditRow
from api.store.verify import verify
from estimator.assemblies.tables import load_tables
from estimator.pricing.estimate_json import estimate_json
from estimator.rates.folders import TableFolder, shipped_tables
from estimator.scheduling.dated_estimate import price
from estimator.scope.located import without_places
from estimator.scope.scope_digest import scope_digest
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from estimator.studies.risk.job_risk import job_risk
from estimator.studies.risk.risk_json import risk_fields
from tests.api.projects.made import statements
from tests.api.store.made import filled, piece

AT = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
SAMPLE = Path("estimator/sample/harrow-lane-carbarn.yaml")
QUOTES = Path("estimator/sample/harrow-lane-quotes")
SPOTTED = """\
project: Ofen & Töpferei 窯
markups: []
shift: 10 hr/day
risk:
  correlation: {labor: 50 %, equipment: 40 %, between: 30 %}
phases:
  - code: A
    name: First
    after: []
    items:
      - code: "010"
        name: Stone,
          thrown in
        assembly: stone-fill-skid-steer
        inputs:
          width: 22'-4"
          length: 62 ft 6 in
          depth: {spots: [[0 ft, 0 ft, 1 ft], [60 ft, 0 ft, 5 ft], [0 ft, 20 ft, 3 ft]]}
"""


@pytest.fixture(scope="module")
def tables():
    return load_tables([shipped_tables(), TableFolder("quotes", QUOTES)])


@pytest.fixture
def caller(store):
    return Caller(open_account(store, "Rail & Kiln", AT))


def kept(store, caller, located):
    """Keep a scope in a project of its own, and return the project's id."""
    with store.unit_of_work(caller, AT) as work:
        project = Project(name="new", created_at=AT, markups=None)
        work.add(project)
        store_scope(work, project, without_places(located))
        work.commit()
    return project.id


def written_of(store, caller, project_id):
    with store.reading(caller) as session:
        return written_scope(session, session.existing(Project, project_id))


def test_the_sample_comes_back_with_its_digest_and_its_estimate_with_its_bytes(
    store, caller, tables
):
    located = read_yaml(SAMPLE.read_bytes(), "sample")
    there = read_scope(located, tables)
    back = read_written(written_of(store, caller, kept(store, caller, located)), tables)
    assert scope_digest(back) == scope_digest(there)
    assert back.on == there.on
    on = date(2026, 3, 2)
    estimates = [price(scope, tables, on) for scope in (there, back)]
    assert estimate_json(estimates[0]) == estimate_json(estimates[1])
    risks = [estimate_json(one, risk_fields(job_risk(one, 0.8, 7))) for one in estimates]
    assert risks[0] == risks[1]
    verify(store)


def test_what_is_written_comes_back_as_it_was_written(store, caller, tables):
    located = read_yaml(SPOTTED.encode(), "barn")
    written = written_of(store, caller, kept(store, caller, located))
    expected = without_places(located)
    assert expected["phases"][0]["items"][0]["name"] == "Stone, thrown in"
    assert written == expected
    assert scope_digest(read_written(written, tables)) == scope_digest(read_scope(located, tables))


def test_what_a_scope_leaves_out_is_left_out(store, caller, tables):
    least = SPOTTED[: SPOTTED.index("markups")] + SPOTTED[SPOTTED.index("phases") :].replace(
        "    after: []\n", ""
    )
    located = read_yaml(least.encode(), "barn")
    written = written_of(store, caller, kept(store, caller, located))
    assert sorted(written) == ["phases", "project"]
    assert sorted(written["phases"][0]) == ["code", "items", "name"]
    assert written == without_places(located)


def test_a_phase_without_items_is_left_out(store, caller):
    located = read_yaml(SPOTTED.encode(), "barn")
    project_id = kept(store, caller, located)
    with store.unit_of_work(caller, AT) as work:
        work.add(ProjectPhase(project_id=project_id, code="B", name="Later", position=2))
        work.commit()
    assert written_of(store, caller, project_id) == without_places(located)


def test_a_scope_takes_two_statements_however_large_it_is(store, caller):
    for text in (SPOTTED.encode(), SAMPLE.read_bytes()):
        project_id = kept(store, caller, read_yaml(text, "scope"))
        with store.reading(caller) as session:
            project = session.existing(Project, project_id)
            with statements(store) as sent:
                written_scope(session, project)
        assert len(sent) == 2


def ids(store, caller):
    with store.reading(caller) as session:
        phases = {one.code: (one.id, one.version) for one in session.scalars(select(ProjectPhase))}
        items = {one.code: (one.id, one.version) for one in session.scalars(select(ProjectItem))}
    return phases, items


def audit_rows(store, caller):
    with store.reading(caller) as session:
        rows = session.scalars(select(AuditRow).order_by(AuditRow.number)).all()
        return [(row.action, row.subject) for row in rows]


def two_items(first="62 ft 6 in", second="020"):
    scope = without_places(read_yaml(SPOTTED.encode(), "barn"))
    item = scope["phases"][0]["items"][0]
    item["inputs"]["length"] = first
    scope["phases"][0]["items"] = [item, item | {"code": second}]
    return scope


def kept_again(store, caller, project_id, written):
    with store.unit_of_work(caller, AT) as work:
        store_scope(work, work.existing(Project, project_id), written)
        work.commit()


def test_what_keeps_its_code_keeps_its_row_and_only_what_differs_gets_a_version(store, caller):
    project_id = kept(store, caller, read_yaml(SPOTTED.encode(), "barn"))
    before, told = ids(store, caller), len(audit_rows(store, caller))
    kept_again(store, caller, project_id, two_items())
    phases, items = ids(store, caller)
    assert phases == before[0]
    assert items["010"] == before[1]["010"]
    assert audit_rows(store, caller)[told:] == [("created", "items")]
    kept_again(store, caller, project_id, two_items("70 ft"))
    assert ids(store, caller)[1]["010"] == (before[1]["010"][0], 2)
    kept_again(store, caller, project_id, two_items("70 ft", "030"))
    assert sorted(ids(store, caller)[1]) == ["010", "030"]
    assert audit_rows(store, caller)[-2:] == [("deleted", "items"), ("created", "items")]
    verify(store)


def test_the_same_scope_again_changes_nothing(store, caller):
    project_id = kept(store, caller, read_yaml(SAMPLE.read_bytes(), "sample"))
    told = audit_rows(store, caller)
    kept_again(store, caller, project_id, without_places(read_yaml(SAMPLE.read_bytes(), "sample")))
    assert audit_rows(store, caller) == told


def test_a_scope_that_drops_an_accepted_item_is_refused_by_name(store):
    made = filled(store)
    with store.unit_of_work(made.caller, AT) as work:
        work.add(piece(work.existing(ProjectPhase, made.phase_id), "001"))
        work.commit()
    with (
        store.unit_of_work(made.caller, AT) as work,
        pytest.raises(StillNeeded, match=r"^item 20\.001 is in an accepted estimate; leave it"),
    ):
        store_scope(work, work.existing(Project, made.project_id), two_items())
