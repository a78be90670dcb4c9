"""Promises 7 and 14: every change has its audit row, and tampering shows."""

from __future__ import annotations

import hashlib
import json
import random
from datetime import timedelta
from shutil import copy
from time import perf_counter

import pytest
from sqlalchemy import insert, select, text

from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.store.accounts import open_account
from api.store.caller import Caller
from api.store.columns import utc_text
from api.store.errors import StoreFaulty, ValueRefused
from api.store.migrations.final import guards
from api.store.migrations.guards import create_guards, drop_guards
from api.store.models import AuditEnd, AuditRow, table_of
from api.store.store import open_store
from api.store.trail import chained
from api.store.verify import verify
from tests.api.figures import figure, tries
from tests.api.store.made import AT, phase, piece, project

LONG = figure(2_000, 100_000)


def rows_of(store, caller):
    with store.reading(caller) as session:
        return session.scalars(select(AuditRow).order_by(AuditRow.number)).all()


def test_the_chain_is_what_its_description_says(one):
    store, made = one
    digest = "0" * 64
    for number, row in enumerate(rows_of(store, made.caller), start=1):
        said = [
            row.account_id.hex, number, utc_text(row.at), row.actor, row.action, row.subject,
            row.subject_id.hex, row.before, row.after,
        ]  # fmt: skip
        text_of = json.dumps(said, ensure_ascii=True, separators=(",", ":"))
        digest = hashlib.sha256(f"{digest}\n{text_of}".encode()).hexdigest()
        assert (row.number, row.digest) == (number, digest)
    assert number >= 15


def test_a_change_tells_who_when_what_before_and_after(one):
    store, made = one
    later = AT + timedelta(hours=3)
    with store.unit_of_work(made.caller, later) as work:
        work.existing(Project, made.project_id).name = "Kiln hall"
        work.commit()
    row = rows_of(store, made.caller)[-1]
    assert (row.at, row.actor) == (later, f"token {made.caller.token_id}")
    assert (row.action, row.subject, row.subject_id) == ("changed", "projects", made.project_id)
    before, after = json.loads(row.before), json.loads(row.after)
    assert {key: (before[key], after[key]) for key in after if before[key] != after[key]} == {
        "name": ("Harrow Lane Carbarn", "Kiln hall"),
        "version": (1, 2),
    }


def test_what_is_undone_leaves_no_audit_row(one):
    store, made = one
    before = len(rows_of(store, made.caller))
    with store.unit_of_work(made.caller, AT) as work:
        work.add(project("Left"))
        work.flush()
    assert len(rows_of(store, made.caller)) == before
    verify(store)


def test_a_unit_that_changes_nothing_writes_no_audit_row(one):
    store, made = one
    before = len(rows_of(store, made.caller))
    with store.unit_of_work(made.caller, AT) as work:
        row = work.existing(Project, made.project_id)
        row.name = row.name
        work.commit()
    assert len(rows_of(store, made.caller)) == before


def test_no_token_stands_in_the_trail(one):
    store, made = one
    kept = hashlib.sha256(made.token.encode()).hexdigest()
    said = " ".join(f"{row.before} {row.after}" for row in rows_of(store, made.caller))
    assert made.token not in said
    assert kept not in said


@tries("changes", 120, 500)
def test_random_changes_and_audit_rows_are_one_to_one(changes, store):
    caller = Caller(open_account(store, "Random", AT))
    chance = random.Random(8_765)  # noqa: S311 -- repeatable, not secret
    expected = [("created", "accounts")]
    for step in range(changes):
        with store.unit_of_work(caller, AT + timedelta(seconds=step)) as work:
            done = [one_change(work, chance) for _ in range(chance.randint(1, 3))]
            if chance.random() < 0.8:
                work.commit()
                expected += done
    told = [(row.action, row.subject) for row in rows_of(store, caller)]
    assert told == expected
    assert verify(store).audit_rows == len(expected)


def one_change(work, chance):
    """Make one change at random and return what the trail should say of it."""
    found = {
        model: work.scalars(select(model).order_by(model.id)).all()
        for model in (Project, ProjectPhase, ProjectItem)
    }
    free = [
        one for one in found[Project] if all(p.project_id != one.id for p in found[ProjectPhase])
    ]
    choice = chance.randrange(6)
    if choice == 0 or not found[Project]:
        work.add(project(f"P{chance.random()}"))
        return "created", "projects"
    if choice == 1 or not found[ProjectPhase]:
        work.add(phase(chance.choice(found[Project]), f"{chance.random()}"))
        return "created", "phases"
    if choice == 2 or not found[ProjectItem]:
        work.add(piece(chance.choice(found[ProjectPhase]), f"{chance.random()}"))
        return "created", "items"
    if choice == 3 and free:
        work.delete(chance.choice(free))
        return "deleted", "projects"
    if choice == 4:
        chance.choice(found[ProjectItem]).inputs = {"length": f"{chance.random()} ft"}
        work.flush()
        return "changed", "items"
    work.delete(chance.choice(found[ProjectItem]))
    return "deleted", "items"


def tampered(store, *statements):
    """Change the database behind everybody's back, with its triggers away."""
    with store.across_accounts(writes=True) as connection:
        drop_guards(connection, guards())
        for statement, values in statements:
            connection.execute(text(statement), values)
        create_guards(connection, guards())


def long_trail(store, rows):
    """Make a trail of many rows at once, as the store itself would have chained them."""
    account_id = open_account(store, "Long", AT)
    caller = Caller(account_id)
    with store.unit_of_work(caller, AT) as work:
        first = project("Long")
        work.add(first)
        work.commit()
    audit, ends = table_of(AuditRow), table_of(AuditEnd)
    with store.across_accounts(writes=True) as connection:
        last = connection.execute(select(audit).where(audit.c.number == 2)).one()._asdict()
        digest, written = last["digest"], []
        for number in range(3, rows + 1):
            said = [
                account_id.hex, number, utc_text(AT), last["actor"], "changed", "projects",
                first.id.hex, last["after"], last["after"],
            ]  # fmt: skip
            digest = chained(digest, said)
            written.append(last | {"number": number, "action": "changed", "before": last["after"]}
                           | {"digest": digest})  # fmt: skip
        connection.execute(insert(audit), written)
        connection.execute(ends.update().values(number=rows, digest=digest))
    return account_id


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def long_store(request, tmp_path_factory):
    if request.param == "sqlite":
        file = tmp_path_factory.mktemp("long") / "groundsill.sqlite3"
        copy(request.getfixturevalue("sqlite_template"), file)
        store = open_store(f"sqlite:///{file}")
    else:
        store = open_store(request.getfixturevalue("server").migrated())
    long_trail(store, LONG)
    yield store
    store.close()


MIDDLE = LONG // 2
HALVES_SWAPPED = (
    "UPDATE audit_ends SET digest = substr(digest, 33) || substr(digest, 1, 32) WHERE number = :n"
)
TAMPERED = {
    "one byte altered": (
        [("UPDATE audit_rows SET actor = 'command lime' WHERE number = :n", {"n": MIDDLE})],
        [("UPDATE audit_rows SET actor = 'command line' WHERE number = :n", {"n": MIDDLE})],
        f"row {MIDDLE}: it was altered",
    ),
    "two rows swapped": (
        [("UPDATE audit_rows SET number = :n WHERE number = :m", {"n": 10**9, "m": MIDDLE}),
         ("UPDATE audit_rows SET number = :n WHERE number = :m", {"n": MIDDLE, "m": MIDDLE + 1}),
         ("UPDATE audit_rows SET number = :n WHERE number = :m", {"n": MIDDLE + 1, "m": 10**9})],
        [("UPDATE audit_rows SET number = :n WHERE number = :m", {"n": 10**9, "m": MIDDLE}),
         ("UPDATE audit_rows SET number = :n WHERE number = :m", {"n": MIDDLE, "m": MIDDLE + 1}),
         ("UPDATE audit_rows SET number = :n WHERE number = :m", {"n": MIDDLE + 1, "m": 10**9})],
        f"row {MIDDLE}: it was altered, or does not follow",
    ),
    "another digest noted for the last row": (
        [(HALVES_SWAPPED, {"n": LONG})],
        [(HALVES_SWAPPED, {"n": LONG})],
        f"its last row, {LONG}, is not the one noted as its end",
    ),
    "the last row deleted": (
        [("DELETE FROM audit_rows WHERE number = :n", {"n": LONG})],
        [],
        f"it ends with row {LONG - 1}, but row {LONG} is noted as its end",
    ),

}  # fmt: skip


@tries("rows", 2_000, 100_000)
def test_tampering_with_a_long_trail_shows_and_the_first_fault_is_named(long_store, measured, rows):
    began = perf_counter()
    assert verify(long_store).audit_rows == rows
    measured(f"{rows:,} rows of the trail checked in {perf_counter() - began:.2f} s")
    for change, back, told in TAMPERED.values():
        tampered(long_store, *change)
        with pytest.raises(StoreFaulty, match=told):
            verify(long_store)
        tampered(long_store, *back)


def test_a_row_taken_out_of_the_middle_shows(one):
    store, _ = one
    tampered(store, ("DELETE FROM audit_rows WHERE number = 5", {}))
    with pytest.raises(StoreFaulty, match="row 5: it is missing; row 6 follows"):
        verify(store)


def test_a_trail_that_is_gone_as_a_whole_shows(one):
    store, _ = one
    tampered(store, ("DELETE FROM audit_rows", {}))
    with pytest.raises(StoreFaulty, match="all its rows are missing"):
        verify(store)


CHANGED_BEHIND = [
    ("UPDATE projects SET name = 'Other' WHERE name = 'Shed'", "not what the audit trail says"),
    ("DELETE FROM items", "is missing, but no deletion is on record"),
    ("UPDATE tokens SET role = 'owner' WHERE role = 'lender'", "not what the audit trail says"),
    ("UPDATE estimates SET document = '{}'", "not what the audit trail says"),
    ("UPDATE estimates SET scope = ''", "not what the audit trail says"),
    ("UPDATE estimate_lines SET cents = cents + 1 WHERE position = 1", "lines were altered"),
    ("DELETE FROM estimate_lines WHERE position = 2", "lines were altered"),
    ("DELETE FROM estimate_lines", "lines are missing"),
    ("UPDATE rate_rows SET cells = '{}'", "rows were altered"),
    ("DELETE FROM rate_rows", "rows were altered"),
    ("UPDATE document_contents SET content = substr(content, 2)", "the content was altered"),
    ("UPDATE documents SET spot = 'roof'", "not what the audit trail says"),
    ("UPDATE table_contents SET files = '{}'", "files were altered"),
    ("UPDATE estimate_studies SET document = '{}'", "not what the audit trail says"),
    ("UPDATE submissions SET status = 200 WHERE state = 'answered'", "its answer was altered"),
    ("UPDATE submissions SET headers = '{}' WHERE state = 'answered'", "its answer was altered"),
    ("UPDATE submissions SET body = NULL WHERE state = 'answered'", "answer was altered"),
]


@pytest.mark.parametrize(("statement", "told"), CHANGED_BEHIND)
def test_a_row_changed_behind_the_stores_back_shows(one, statement, told):
    store, _ = one
    verify(store)
    tampered(store, (statement, {}))
    with pytest.raises(StoreFaulty, match=told):
        verify(store)


UNREADABLE = ["UPDATE projects SET pricing_date = 'next week'", "UPDATE items SET id = 'x'"]


@pytest.mark.parametrize("statement", UNREADABLE)
def test_a_value_that_cannot_even_be_read_is_a_sentence(one_sqlite, statement):
    sqlite_store, _ = one_sqlite
    tampered(sqlite_store, (statement, {}))
    with pytest.raises(StoreFaulty, match="database: a value cannot be read"):
        verify(sqlite_store)


def test_a_row_that_breaks_a_check_of_its_table_shows(one_sqlite):
    sqlite_store, _ = one_sqlite
    with sqlite_store.across_accounts(writes=True) as connection:
        connection.exec_driver_sql("PRAGMA ignore_check_constraints=ON")
        connection.exec_driver_sql("UPDATE submissions SET key = ''")
    with pytest.raises(StoreFaulty, match=r"submissions: .*CHECK constraint failed"):
        verify(sqlite_store)
    with pytest.raises(ValueRefused), sqlite_store.across_accounts(writes=True) as connection:
        connection.exec_driver_sql("UPDATE submissions SET key = ''")


def test_a_guard_that_was_taken_away_shows(one):
    store, _ = one
    with store.across_accounts(writes=True) as connection:
        gone = [one for one in guards() if one.name == "estimates_no_update"]
        drop_guards(connection, gone)
    with pytest.raises(StoreFaulty, match="trigger estimates_no_update is missing"):
        verify(store)


def test_a_trigger_that_is_not_ours_shows(sqlite_store):
    with sqlite_store.across_accounts(writes=True) as connection:
        connection.exec_driver_sql(
            "CREATE TRIGGER quiet AFTER INSERT ON projects BEGIN DELETE FROM tokens; END"
        )
    with pytest.raises(StoreFaulty, match="trigger quiet is not ours"):
        verify(sqlite_store)


def test_a_damaged_file_is_a_sentence(one_sqlite, tmp_path):
    sqlite_store, _ = one_sqlite
    sqlite_store.close()
    file = tmp_path / "groundsill.sqlite3"
    content = bytearray(file.read_bytes())
    content[4096 * 3 : 4096 * 8] = b"\x5a" * (4096 * 5)
    file.write_bytes(bytes(content))
    with pytest.raises(StoreFaulty, match="damaged"):
        verify(sqlite_store)


def test_the_digest_of_a_check_moves_with_every_change_and_only_then(one):
    store, made = one
    first = verify(store)
    assert verify(store) == first
    with store.unit_of_work(made.caller, AT) as work:
        work.existing(Project, made.project_id).name = "Kiln hall"
        work.commit()
    assert verify(store).digest != first.digest


def test_rows_that_are_added_together_are_shown_in_their_order_after_what_was_changed_before(one):
    store, made = one
    with store.unit_of_work(made.caller, AT) as work:
        pits = work.existing(ProjectPhase, made.phase_id)
        pits.name = "Pits, both"
        rows = [piece(pits, f"{number:03d}") for number in range(900, 940)]
        work.add_all(rows)
        pits.name = "Pits"
        work.commit()
    with store.reading(made.caller) as session:
        told = session.scalars(select(AuditRow).order_by(AuditRow.number.desc()).limit(42)).all()
    assert [one.subject for one in told] == ["phases", *["items"] * 40, "phases"]
    assert [one.subject_id for one in reversed(told[1:-1])] == [row.id for row in rows]
    verify(store)
