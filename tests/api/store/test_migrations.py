"""The schema goes up, down and up with data in it, and is what the models say."""

from __future__ import annotations

import hashlib
import json
import re
import sqlite3
from pathlib import Path
from uuid import UUID

import pytest
from sqlalchemy import Column, MetaData, Table, inspect, select, text

from api.estimates.rows import EstimateStudy
from api.estimates.stored_estimates import ready_estimate, store_estimate
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.store.columns import Json, canonical_json
from api.store.engine import make_engine, read_url
from api.store.errors import StillNeeded, StoreFaulty, StoreUnfit, Unchangeable
from api.store.migrations.current_step import newest_step, step_of
from api.store.migrations.final import guards
from api.store.migrations.steps import EMPTY, check_schema, downgrade, upgrade
from api.store.models import Base, table_of
from api.store.refusals import store_errors
from api.store.store import Store, open_store
from api.store.trail import TrailChange, open_trail, plain
from api.store.verify import verify, verify_connection
from tests.api.store.made import AT, before_step_11, filled, made_files, priced

VERSIONS = Path("api/store/migrations/versions")
MADE_STEPS = Path(__file__).parent / "later_steps"
STEPS = sorted(path.stem[1:5] for path in VERSIONS.glob("v*.py"))


@pytest.fixture
def engine(empty_url):
    engine = make_engine(read_url(empty_url), 10)
    yield engine
    engine.dispose()


def described(engine):
    """Return all that the database knows of its schema, in a form that can be compared."""
    inspector = inspect(engine)
    found = {}
    for table in sorted(inspector.get_table_names()):
        if table == "alembic_version":
            continue
        found[table] = {
            "columns": {
                one["name"]: (str(one["type"]), one["nullable"], one["default"])
                for one in inspector.get_columns(table)
            },
            "key": inspector.get_pk_constraint(table),
            "unique": by_name(inspector.get_unique_constraints(table)),
            "foreign": by_name(inspector.get_foreign_keys(table)),
            "checks": by_name(inspector.get_check_constraints(table)),
            "indexes": by_name(inspector.get_indexes(table)),
        }
    return found


def by_name(listed):
    return sorted((str(one["name"]), str(sorted(in_words(one).items()))) for one in listed)


def in_words(said):
    """Return a description with its SQL as text instead of as objects."""
    return {
        key: in_words(value) if isinstance(value, dict) else str(value)
        for key, value in said.items()
    }


def test_steps_are_numbered_without_a_gap_and_each_follows_the_one_before():
    assert [f"{number:04d}" for number in range(1, len(STEPS) + 1)] == STEPS
    for number, path in enumerate(sorted(VERSIONS.glob("v*.py")), start=1):
        text_of = path.read_text(encoding="utf-8")
        before = "None" if number == 1 else f'"{number - 1:04d}"'
        assert f'revision = "{number:04d}"\ndown_revision = {before}\n' in text_of
    assert newest_step() == STEPS[-1]


def test_the_migrated_schema_is_what_the_models_say(engine, tmp_path, request):
    upgrade(engine)
    check_schema(engine)
    if engine.dialect.name == "sqlite":
        fresh = make_engine(read_url(f"sqlite:///{tmp_path}/models.sqlite3"), 10)
    else:
        fresh = make_engine(read_url(request.getfixturevalue("server").empty()), 10)
    Base.metadata.create_all(fresh)
    assert described(engine) == described(fresh)
    assert len(described(engine)) == len(Base.metadata.tables)
    fresh.dispose()


def test_a_model_that_differs_is_noticed(store):
    with store.engine.begin() as connection:
        connection.execute(text("ALTER TABLE projects ADD COLUMN colour VARCHAR(9)"))
    with pytest.raises(Exception, match="colour"):
        check_schema(store.engine)


def rows_by_table(engine):
    """Return all rows as the database has them, without what is null, of tables that have any."""
    schema, found = MetaData(), {}
    schema.reflect(engine)
    with engine.connect() as connection:
        for table in schema.sorted_tables:
            rows = connection.execute(select(table)).mappings()
            found[table.name] = sorted(
                str({key: value for key, value in row.items() if value is not None}) for row in rows
            )
    del found["alembic_version"]
    return {name: rows for name, rows in found.items() if rows}


def with_plans(made, store):
    """Say of a project what it waits for, how long it takes and how sure it is."""
    with store.unit_of_work(made.caller, AT) as work:
        phase = work.existing(ProjectPhase, made.phase_id)
        phase.after, phase.duration = [], ["8 day", "12 day", "25 day"]
        work.existing(ProjectItem, made.item_id).risk = {"pace": ["75 %", "110 %"]}
        work.existing(Project, made.project_id).risk = {"start": "2026-04-06"}
        work.commit()


def test_steps_down_and_up_leave_content_and_chain_as_they_were(store):
    filled(store, is_studied=False)
    before, content, schema = verify(store), rows_by_table(store.engine), described(store.engine)
    assert downgrade(store.engine, "0004") == "0004"
    assert described(store.engine) != schema
    assert rows_by_table(store.engine) == content
    with (
        store.across_accounts() as connection,
        pytest.raises(StoreUnfit, match=f"stands at step 0004, this program needs {newest_step()}"),
    ):
        verify_connection(connection)
    assert upgrade(store.engine) == newest_step()
    assert described(store.engine) == schema
    assert verify(store) == before
    assert rows_by_table(store.engine) == content


def test_a_step_down_that_would_lose_books_is_refused(store):
    filled(store, is_studied=False, has_books=True, has_draws=False)
    with pytest.raises(StillNeeded, match="table book_entries holds rows"):
        downgrade(store.engine, "0006")


def test_a_step_down_that_would_lose_draws_is_refused(store):
    filled(store, is_studied=False, has_books=True, has_documents=False, has_amendments=False)
    with pytest.raises(StillNeeded, match="table draw_backup holds rows"):
        downgrade(store.engine, "0010")


def test_a_step_down_that_would_lose_documents_is_refused(store):
    filled(store, is_studied=False, has_books=True, has_amendments=False)
    with pytest.raises(StillNeeded, match="table documents holds rows"):
        downgrade(store.engine, "0016")


def test_a_step_down_that_would_lose_amendments_is_refused(store):
    filled(store, is_studied=False, has_books=True)
    with pytest.raises(StillNeeded, match="table paper_withdrawals holds rows"):
        downgrade(store.engine, "0017")


def test_a_step_down_is_refused_where_the_trail_tells_of_studies_by_the_new_name(store):
    filled(store, has_books=False)
    with pytest.raises(StillNeeded, match="estimate_studies holds rows that the audit trail"):
        downgrade(store.engine, "0020")
    verify(store)


def test_a_study_of_before_its_body_was_called_so_goes_up_down_and_up(store):
    made = filled(store, is_studied=False)
    assert downgrade(store.engine, "0020") == "0020"
    add_study_of_step_20(store, made)
    content = rows_by_table(store.engine)
    assert upgrade(store.engine) == newest_step()
    verified = verify(store)
    with store.reading(made.caller) as session:
        study = session.scalars(select(EstimateStudy)).one()
        assert (study.body, study.document) == ({"confidence": "0.8"}, "{}\n")
    assert downgrade(store.engine, "0020") == "0020"
    assert rows_by_table(store.engine) == content
    with pytest.raises(StillNeeded, match="table estimate_studies holds rows that"):
        downgrade(store.engine, "0003")
    assert upgrade(store.engine) == newest_step()
    assert verify(store) == verified


def add_study_of_step_20(store, made):
    """Store a study as the program of that step did, with its row of the trail."""
    study = {
        "id": UUID(int=20), "account_id": made.caller.account_id, "project_id": made.project_id,
        "estimate_id": made.estimate_id, "kind": "ranges", "number": 1, "created_at": AT,
        "created_by": "owner", "asked": {"confidence": "0.8"}, "digest": "0" * 64,
        "document": "{}\n",
    }  # fmt: skip
    table = Table("estimate_studies", MetaData(), *(
        Column("asked", Json) if one.name == "body" else Column(one.name, one.type)
        for one in table_of(EstimateStudy).columns
    ))  # fmt: skip
    told = canonical_json({key: plain(value) for key, value in study.items()} | {
        "document": "sha256 " + hashlib.sha256(b"{}\n").hexdigest()
    })  # fmt: skip
    with store.across_accounts(writes=True) as connection:
        connection.execute(table.insert(), study)
        trail = open_trail(connection, made.caller.account_id)
        change = TrailChange("created", "estimate_studies", study["id"], None, told)
        trail.add(connection, [change], AT, "owner")
        trail.store_end(connection)


def test_a_step_down_that_would_lose_a_note_of_an_estimate_is_refused(store):
    made = filled(store, is_studied=False)
    with store.unit_of_work(made.caller, AT) as work:
        barn = work.existing(Project, made.project_id)
        ready = ready_estimate(priced(), "project: made\n", {"made": made_files()}, "2 ft longer")
        store_estimate(work, barn, before_step_11(ready))
        work.commit()
    with pytest.raises(StillNeeded, match="column note of table estimates holds data"):
        downgrade(store.engine, "0004")
    verify(store)


def test_a_step_down_that_would_lose_what_an_estimate_rests_on_is_refused(store):
    made = filled(store, is_studied=False)
    with store.unit_of_work(made.caller, AT) as work:
        ready = ready_estimate(priced(), "project: made\n", {"made": made_files()})
        store_estimate(work, work.existing(Project, made.project_id), ready)
        work.commit()
    with pytest.raises(StillNeeded, match="column sales_cents of table estimates holds data"):
        downgrade(store.engine, "0010")
    verify(store)


def test_rows_with_plans_hold_together_and_say_them_in_the_trail(store):
    made = filled(store, is_studied=False)
    with_plans(made, store)
    verify(store)
    asked = "SELECT after FROM audit_rows WHERE subject = 'phases' ORDER BY number DESC"
    with store.engine.connect() as connection:
        told = json.loads(connection.scalars(text(asked)).first())
    assert (told["after"], told["duration"]) == ([], ["8 day", "12 day", "25 day"])


def test_a_step_down_that_would_lose_rows_is_refused_and_changes_nothing(store):
    filled(store, is_studied=False)
    content, schema = rows_by_table(store.engine), described(store.engine)
    with pytest.raises(StillNeeded, match="table accepted_estimates holds rows"):
        downgrade(store.engine, "0001")
    assert described(store.engine) == schema
    assert rows_by_table(store.engine) == content
    verify(store)


def test_every_step_goes_down_and_up_again(engine):
    upgrade(engine)
    schema = described(engine)
    for step in [*reversed(STEPS[:-1]), EMPTY]:
        assert downgrade(engine, step) == step
    assert described(engine) == {}
    for step in STEPS:
        assert upgrade(engine, step) == step
    assert described(engine) == schema


def test_a_table_that_a_later_step_builds_anew_keeps_rows_keys_and_triggers(store):
    made = filled(store, is_studied=False)
    before = verify(store)
    assert upgrade(store.engine, "9001", str(MADE_STEPS)) == "9001"
    with store.engine.begin() as connection:
        names = {one["name"] for one in inspect(connection).get_check_constraints("estimates")}
        assert "ck_estimates_made_rule" in names
        assert connection.scalar(text("SELECT count(*) FROM estimates")) == 1
    for statement in ("UPDATE estimates SET number = 7", "DELETE FROM estimates"):
        with pytest.raises(Unchangeable), store_errors(), store.engine.begin() as connection:
            connection.execute(text(statement))
    assert downgrade(store.engine, newest_step(), str(MADE_STEPS)) == newest_step()
    assert verify(store) == before
    assert made.estimate_id


def test_a_step_that_fails_leaves_nothing_behind(engine):
    upgrade(engine)
    schema = described(engine)
    with pytest.raises(StoreFaulty, match="step that fails"):
        upgrade(engine, "9002", str(MADE_STEPS))
    assert described(engine) == schema
    with engine.connect() as connection:
        assert step_of(connection) == newest_step()


def test_a_database_of_a_newer_program_is_left_alone(engine):
    upgrade(engine)
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '7000'"))
    with pytest.raises(StoreUnfit, match="step '7000', which this program does not know"):
        upgrade(engine)
    with pytest.raises(StoreUnfit, match="'7000'"):
        Store(engine, None).check()


def test_a_database_with_tables_of_others_is_left_alone(engine):
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE assemblies (name VARCHAR(9))"))
    with pytest.raises(StoreUnfit, match="tables that are not ours, such as 'assemblies'"):
        upgrade(engine)


def test_a_postgresql_database_that_cannot_hold_every_letter_is_refused(server):
    engine = make_engine(read_url(server.in_ascii()), 10)
    with pytest.raises(StoreUnfit, match="keeps text as SQL_ASCII; make it with 'createdb"):
        upgrade(engine)
    engine.dispose()


def test_an_empty_database_is_not_opened(empty_url):
    with pytest.raises(StoreUnfit, match="run 'groundsill database upgrade'"):
        open_store(empty_url)


def test_every_guard_of_the_newest_schema_was_made_by_a_step(store):
    with store.engine.connect() as connection:
        if store.engine.dialect.name == "sqlite":
            asked = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        else:
            asked = "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal"
        standing = set(connection.scalars(text(asked)))
    dialect = store.engine.dialect.name
    assert standing == {one.name for one in guards() if one.body(dialect)}
    assert len(standing) >= 20


def test_keys_are_checked_again_after_a_step(sqlite_store):
    upgrade(sqlite_store.engine)
    with sqlite_store.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1


@pytest.mark.parametrize(
    ("pragma", "value"),
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("recursive_triggers", 1)],
)
def test_every_sqlite_connection_keeps_its_settings(sqlite_store, pragma, value):
    with sqlite_store.engine.connect() as one, sqlite_store.engine.connect() as other:
        for connection in (one, other):
            assert connection.exec_driver_sql(f"PRAGMA {pragma}").scalar() == value


def test_the_installed_package_carries_its_steps():
    listed = Path("setup.cfg").read_text(encoding="utf-8")
    for package in ("api.store.migrations", "api.store.migrations.versions"):
        assert re.search(rf"^    {re.escape(package)}$", listed, re.MULTILINE)
    assert sqlite3.sqlite_version_info >= (3, 37)
