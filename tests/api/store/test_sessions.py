"""A session sees one account, whatever is asked; what it cannot hold to that, it refuses."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from traceback import format_exception

import pytest
from sqlalchemy import delete, exists, func, insert, literal, select, text, union_all, update
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import aliased

from api.estimates.rows import EstimateLine, StoredEstimate
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.store.account_limits import BypassRefused
from api.store.caller import Caller
from api.store.errors import (
    AlreadyThere,
    NotFound,
    StillNeeded,
    StoreBusy,
    StoreUnfit,
    Unchangeable,
    ValueRefused,
    VersionStale,
)
from api.store.models import (
    Account,
    AuditEnd,
    AuditRow,
    Base,
    OfAccount,
    OfProject,
    OfSite,
    Private,
    StoredSubmission,
    Token,
)
from api.store.refusals import TAKEN, unique_columns
from api.store.verify import verify
from tests.api.store.made import AT, NEVER_SEEN, filled, phase, piece, project

MODELS = sorted((one.class_ for one in Base.registry.mappers), key=lambda one: one.__tablename__)
LATER = AT + timedelta(minutes=1)


def owner_of(row):
    return row.id if isinstance(row, Account) else row.account_id


def owner_column(model):
    return model.account_id if hasattr(model, "account_id") else model.id


def ways_to_ask(model):
    """Return statements that each give owners of rows, in every form that a developer writes."""
    other = aliased(model)
    inner = select(owner_column(model)).subquery()
    common = select(owner_column(model).label("owner")).cte()
    return {
        "columns": select(owner_column(model)),
        "alias": select(owner_column(other)),
        "join": select(owner_column(other)).join_from(Account, other, literal(True)),
        "subquery": select(inner.c[0]),
        "cte": select(common.c.owner),
        "union": union_all(select(owner_column(model)), select(owner_column(model))),
        "distinct": select(owner_column(model)).distinct(),
        "ordered": select(owner_column(model)).order_by(owner_column(model)),
    }


def test_every_model_but_the_account_itself_belongs_to_an_account():
    assert [one for one in MODELS if not issubclass(one, OfAccount)] == [Account]
    assert len(MODELS) >= 18


def test_every_model_is_either_of_a_project_or_private_or_said_to_be_neither():
    rest = {one for one in MODELS if not issubclass(one, OfProject | OfSite | Private)}
    assert rest == {Account, Project, StoredSubmission}


def test_no_form_of_select_on_any_model_gives_a_row_of_another_account(two):
    store, ours, _ = two
    mine = ours.caller.account_id
    with store.reading(ours.caller) as session, store.across_accounts() as everything:
        for model in MODELS:
            rows = session.scalars(select(model)).all()
            assert rows, f"nothing of {model.__tablename__} to be seen: the test shows nothing"
            assert {owner_of(row) for row in rows} == {mine}
            asked = select(func.count()).select_from(model)
            assert session.scalar(asked) == len(rows)
            assert everything.scalar(asked) == 2 * len(rows)
            for form, statement in ways_to_ask(model).items():
                owners = set(session.scalars(statement))
                assert owners == {mine}, f"{model.__tablename__} by {form}"


def test_no_key_of_another_account_is_found(two):
    store, ours, theirs = two
    with store.reading(theirs.caller) as session:
        keys = {model: [row_key(row) for row in session.scalars(select(model))] for model in MODELS}
    with store.reading(ours.caller) as session:
        for model, of_theirs in keys.items():
            for key in of_theirs:
                assert session.get(model, key) is None
                nothing = select(exists().where(*(
                    column == value
                    for column, value in zip(primary_key(model), key, strict=True)
                )))  # fmt: skip
                assert session.scalar(nothing) is False


def primary_key(model):
    return [getattr(model, column.key) for column in model.__table__.primary_key]


def row_key(row):
    return tuple(getattr(row, column.key) for column in row.__table__.primary_key)


def test_another_accounts_row_is_missed_in_the_same_words_as_one_that_is_nowhere(two):
    store, ours, theirs = two
    told = []
    with store.reading(ours.caller) as session:
        for key in (theirs.project_id, NEVER_SEEN):
            with pytest.raises(NotFound) as refused:
                session.existing(Project, key)
            told.append(str(refused.value).replace(str(key), "KEY"))
    assert told[0] == told[1] == "there is no 'KEY' in projects"


def test_a_lender_sees_the_projects_shared_with_their_token_and_nothing_private(two):
    store, ours, _ = two
    with store.reading(ours.lender) as session:
        assert [row.id for row in session.scalars(select(Project))] == [ours.project_id]
        for model in MODELS:
            seen = session.scalars(select(model)).all()
            if issubclass(model, Private | OfSite):
                assert seen == []
            if issubclass(model, OfProject):
                assert {row.project_id for row in seen} == {ours.project_id}
        assert session.get(Project, ours.unshared_id) is None
        assert session.scalar(select(func.count()).select_from(Token)) == 0
        assert session.scalar(select(func.count(EstimateLine.position))) > 0


def test_a_crew_sees_the_books_of_the_projects_shared_with_their_token_and_nothing_private(two):
    store, ours, _ = two
    crew = Caller(ours.caller.account_id, "crew", ours.lender.token_id)
    with store.reading(crew) as session:
        for model in MODELS:
            seen = session.scalars(select(model)).all()
            if issubclass(model, Private):
                assert seen == []
            if issubclass(model, OfProject | OfSite):
                assert {row.project_id for row in seen} == {ours.project_id}


@pytest.mark.parametrize("role", ["crew", "lender"])
def test_nobody_sees_a_project_that_is_shared_with_another_token(two, role):
    store, ours, _ = two
    stranger = Caller(ours.caller.account_id, role, NEVER_SEEN)
    with store.reading(stranger) as session:
        for model in MODELS:
            if issubclass(model, OfProject | OfSite | Private | Project):
                assert session.scalars(select(model)).all() == []


@pytest.mark.parametrize(
    "statement",
    [
        text("SELECT name FROM projects"),
        select(Project.__table__),
        select(Project, Token.__table__.c.digest),
        select(Project.id).where(exists(select(Token.__table__.c.id))),
        select(Token.__table__.alias().c.digest),
        select(Project).join(Token.__table__, literal(True)),
        select(Project).select_from(Token.__table__),
        union_all(select(Project.name), select(Token.__table__.c.holder)),
        select(Project.name, select(func.max(Token.__table__.c.holder)).scalar_subquery()),
        select(select(Token.__table__).cte().c.holder),
        select(Project).from_statement(text("SELECT * FROM projects")),
        update(Project).values(name="x"),
        delete(Project),
        insert(Project).values(name="x"),
    ],
    ids=str,
)
def test_what_cannot_be_held_to_one_account_is_refused(sqlite_store, statement):
    for opened in (
        sqlite_store.reading(Caller(NEVER_SEEN)),
        sqlite_store.unit_of_work(Caller(NEVER_SEEN), AT),
    ):
        with opened as session, pytest.raises(BypassRefused):
            session.execute(statement)


def test_a_row_of_another_account_cannot_be_written(two):
    store, ours, theirs = two
    with store.unit_of_work(ours.caller, LATER) as work, pytest.raises(BypassRefused):
        work.add(project(account_id=theirs.caller.account_id))
    with store.unit_of_work(ours.caller, LATER) as work:
        barn = work.existing(Project, ours.project_id)
        barn.account_id = theirs.caller.account_id
        with pytest.raises(BypassRefused):
            work.commit()


def test_a_row_cannot_hang_on_another_accounts_project(two):
    store, ours, theirs = two
    stranger = ProjectPhase(project_id=theirs.project_id, code="99", name="x", position=0)
    with store.unit_of_work(ours.caller, LATER) as work, pytest.raises(StillNeeded):
        work.add(stranger)


def test_a_reading_session_writes_nothing(two):
    store, ours, _ = two
    with store.reading(ours.caller) as session:
        session.existing(Project, ours.project_id).name = "Another"
        with pytest.raises(BypassRefused):
            session.flush()


@pytest.mark.parametrize("model", [AuditRow, AuditEnd, StoredSubmission])
def test_what_the_store_keeps_for_itself_is_written_by_nobody_else(two, model):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        row = work.scalars(select(model)).first()
        with pytest.raises(BypassRefused):
            work.delete(row)


def test_nothing_is_stored_without_a_commit(two):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        work.add(project("Left"))
    with pytest.raises(ZeroDivisionError):
        store.carry_out(ours.caller, LATER, fail_after_adding)
    with store.reading(ours.caller) as session:
        names = set(session.scalars(select(Project.name)))
    assert names == {"Harrow Lane Carbarn", "Shed"}


def fail_after_adding(work):
    work.add(project("Failed"))
    return 1 / 0


def test_what_is_changed_after_the_commit_is_not_stored(two):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        work.add(project("Kept"))
        work.commit()
        work.existing(Project, ours.project_id).name = "Too late"
    with store.reading(ours.caller) as session:
        names = set(session.scalars(select(Project.name)))
    assert names == {"Harrow Lane Carbarn", "Shed", "Kept"}


def test_reading_sees_one_moment_though_others_write(two):
    store, ours, _ = two
    with store.reading(ours.caller) as session:
        before = session.scalar(select(func.count()).select_from(Project))
        with store.unit_of_work(ours.caller, LATER) as work:
            work.add(project("New"))
            work.commit()
        assert session.scalar(select(func.count()).select_from(Project)) == before


def test_every_change_raises_the_version_and_a_stale_one_is_refused(two):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        row = work.existing(Project, ours.project_id)
        work.expect(row, 1)
        row.name = "Second"
        work.commit()
        assert row.version == 2
    with store.unit_of_work(ours.caller, LATER) as work:
        row = work.existing(Project, ours.project_id)
        with pytest.raises(VersionStale, match="is at version 2, and version 1 was given"):
            work.expect(row, 1)


def test_final_rows_are_refused_before_the_database_has_to(two):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        estimate = work.existing(StoredEstimate, ours.estimate_id)
        estimate.cash_cents += 1
        with pytest.raises(Unchangeable, match="estimates are final"):
            work.flush()
    with store.unit_of_work(ours.caller, LATER) as work:
        estimate = work.existing(StoredEstimate, ours.estimate_id)
        with pytest.raises(Unchangeable):
            work.delete(estimate)


def test_a_violated_rule_is_a_sentence(two):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        again = phase(work.existing(Project, ours.project_id))
        with pytest.raises(AlreadyThere, match="the project has a phase of that code already"):
            work.add(again)
    with store.unit_of_work(ours.caller, LATER) as work:
        again = piece(work.existing(ProjectPhase, ours.phase_id))
        with pytest.raises(AlreadyThere, match="the phase has an item of that code already"):
            work.add(again)
    with store.unit_of_work(ours.caller, LATER) as work:
        pits = work.existing(ProjectPhase, ours.phase_id)
        with pytest.raises(StillNeeded, match="other rows depend on it"):
            work.delete(pits)


def test_every_unique_rule_that_a_user_can_break_has_its_sentence():
    names = {name for table in Base.metadata.tables.values() for name, _ in unique_columns(table)}
    for_keys_only = {name for name in names if name.endswith("_id_id")}
    assert names - for_keys_only == set(TAKEN)


def refusal_of(work, row):
    """Return why a row is refused; nothing if it is not."""
    try:
        work.add(row)
    except ValueRefused as error:
        return str(error)
    return ""


def test_a_value_that_a_database_would_cut_or_change_is_refused(two):
    store, ours, _ = two
    refusals = []
    for field, value, told in (
        ("name", "", "has 0 letters; 1 to 200 are kept"),
        ("name", "x" * 201, "has 201 letters"),
        ("name", "a\x00b", "holds the character NUL"),
        ("name", "a\ud800", "holds half a character"),
        ("created_at", AT.replace(tzinfo=None), "has no zone"),
    ):
        with store.unit_of_work(ours.caller, LATER) as work:
            refusals.append((told, refusal_of(work, project(**{field: value}))))
    assert [(told, why) for told, why in refusals if told not in why] == []


def test_a_number_that_is_not_whole_or_out_of_bounds_is_refused(two):
    store, ours, _ = two
    taken = []
    for value in ("1", 1.5, True, 10**18 + 1, -1):
        with store.unit_of_work(ours.caller, LATER) as work:
            pits = work.existing(ProjectPhase, ours.phase_id)
            if not refusal_of(work, piece(pits, "020", position=value)):
                taken.append(value)
    assert taken == []


def test_texts_json_and_times_come_back_as_they_went(two):
    store, ours, _ = two
    inputs = {"z": "1/2 in", "a": ["é", "\u2028", "'--"], "n": {"x": 10**17}}
    with store.unit_of_work(ours.caller, LATER) as work:
        work.add(piece(work.existing(ProjectPhase, ours.phase_id), "020", inputs=inputs))
        work.commit()
    with store.reading(ours.caller) as session:
        row = session.scalars(select(ProjectItem).where(ProjectItem.code == "020")).one()
        assert row.inputs == inputs
        assert session.existing(Project, ours.project_id).created_at == AT


def test_codes_sort_letter_by_letter_on_either_database(two):
    store, ours, _ = two
    codes = ["a", "B", "é", "Z", "_", "10", "9"]
    with store.unit_of_work(ours.caller, LATER) as work:
        barn = work.existing(Project, ours.project_id)
        work.add_all([phase(barn, code) for code in codes])
        work.commit()
    with store.reading(ours.caller) as session:
        listed = session.scalars(select(ProjectPhase.code).order_by(ProjectPhase.code)).all()
    assert listed == ["10", "20", "9", "B", "Z", "_", "a", "é"]


def test_rows_are_set_together_each_with_its_version_and_its_audit_row(two):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        barn = work.existing(Project, ours.project_id)
        rows = [phase(barn, code) for code in ("7", "8", "9")]
        work.add_all(rows)
        before = work.trail.number
        work.put_all([(rows[0], {"name": "Pits"}), (rows[1], {"name": "Yard"})])
        work.put_all([(rows[2], {"name": rows[2].name})])
        assert work.trail.number == before + 2
        work.commit()
    with store.reading(ours.caller) as session:
        kept = [session.existing(ProjectPhase, row.id) for row in rows]
        assert [(row.name, row.version) for row in kept[:2]] == [("Pits", 2), ("Yard", 2)]
        assert kept[2].version == 1
    verify(store)


def test_rows_that_were_changed_since_are_not_set_together(two):
    store, ours, _ = two
    with store.reading(ours.caller) as session:
        stale = session.existing(Project, ours.project_id)
    store.carry_out(ours.caller, LATER, lambda work: rename(work, ours.project_id))
    with store.unit_of_work(ours.caller, LATER) as work, pytest.raises(VersionStale):
        work.put_all([(stale, {"name": "Barn"})])
    verify(store)


def test_a_unit_that_is_carried_out_is_stored(two):
    store, ours, _ = two
    name = store.carry_out(ours.caller, LATER, lambda work: rename(work, ours.project_id))
    with store.reading(ours.caller) as session:
        assert session.existing(Project, ours.project_id).name == name == "Renamed"


def test_a_change_that_clashed_is_tried_again_five_times_at_most(server, opened):
    store = opened(server.migrated())
    caller, tries = filled(store).caller, []
    clash = "DO $$ BEGIN RAISE EXCEPTION 'x' USING ERRCODE = 'serialization_failure'; END $$"

    def change(work):
        tries.append(work)
        work.add(project(f"Try {len(tries)}"))
        if len(tries) < needed:
            work.connection().exec_driver_sql(clash)
        return len(tries)

    needed = 3
    assert store.carry_out(caller, LATER, change) == 3
    with store.reading(caller) as session:
        names = set(session.scalars(select(Project.name)))
    assert names == {"Harrow Lane Carbarn", "Shed", "Try 3"}
    needed = 1_000
    tries.clear()
    with pytest.raises(StoreBusy):
        store.carry_out(caller, LATER, change)
    assert len(tries) == 5


def test_only_the_store_and_the_sign_in_look_across_accounts():
    allowed = ("api/store/", "api/access/")
    found = [
        str(path)
        for path in Path("api").rglob("*.py")
        if not str(path).startswith(allowed)
        and "across_accounts" in path.read_text(encoding="utf-8")
    ]
    assert found == []


@pytest.mark.parametrize("value", [{"x": float("nan")}, {"x": object()}, {"x": b"bytes"}])
def test_what_is_no_json_is_refused(two, value):
    store, ours, _ = two
    with store.unit_of_work(ours.caller, LATER) as work:
        stone = piece(work.existing(ProjectPhase, ours.phase_id), "020", inputs=value)
        with pytest.raises(ValueRefused, match="cannot be kept as JSON"):
            work.add(stone)


def rename(work, key):
    row = work.existing(Project, key)
    row.name = "Renamed"
    return row.name


def test_a_row_of_another_parent_looks_like_one_that_nobody_has(two):
    store, ours, _ = two
    with store.reading(ours.caller) as session:
        at_home = session.existing(ProjectPhase, ours.phase_id, project_id=ours.project_id)
        assert at_home.id == ours.phase_id
        for key, parent in ((ours.phase_id, ours.unshared_id), (NEVER_SEEN, ours.project_id)):
            with pytest.raises(NotFound, match=f"^there is no '{key}' in phases$"):
                session.existing(ProjectPhase, key, project_id=parent)


def test_no_value_that_was_sent_stands_in_what_the_database_refused(store):
    """Its error goes to the log with its trace."""
    with pytest.raises((StoreUnfit, DBAPIError)) as refused, store.across_accounts() as connection:
        connection.execute(text("SELECT :sent FROM nowhere"), {"sent": "hunter2"})
    written = "".join(format_exception(refused.value))
    assert "SELECT" in written
    assert "hunter2" not in written.replace('"sent": "hunter2"', "")
