"""Promise 16: a backup made under load restores, and a move keeps every value."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import ExitStack

import pytest
from sqlalchemy import Engine, event, text

from api.ledger.documents.stored_documents import add_document, read_document
from api.projects.rows import Project
from api.store.accounts import open_account
from api.store.backup import back_up, move, restore
from api.store.caller import Caller
from api.store.copying import contents
from api.store.engine import make_engine, read_url
from api.store.errors import CopyRefused, StoreFaulty, StoreUnfit
from api.store.migrations.current_step import newest_step
from api.store.migrations.steps import downgrade
from api.store.store import open_store
from api.store.verify import verify
from tests.api.figures import tries
from tests.api.store.made import AT, BILL, MADE_PDF, filled
from tests.api.store.test_trail import tampered
from tests.api.store.writer import started


def quiet(_rows):
    """Take no notice of progress."""


def contents_of(store):
    with store.across_accounts() as connection:
        return contents(connection)


def reopened(opened, file):
    return opened(f"sqlite:///{file}")


@tries("backups", 3, 20)
def test_backups_under_load_all_restore_and_verify(backups, store, url, opened, tmp_path):
    caller = Caller(open_account(store, "Busy", AT))
    with ExitStack() as stack:
        writers = [started(stack, "add", url, caller, 10**6) for _ in range(2)]
        for one in writers:
            one.go()
        found = []
        for number in range(backups):
            file = tmp_path / f"backup-{number}.sqlite3"
            made = back_up(store, file, quiet)
            target = f"sqlite:///{tmp_path}/restored-{number}.sqlite3"
            assert restore(file, target, quiet) == made
            assert verify(opened(target)) == made
            found.append(made.audit_rows)
        for writer in writers:
            writer.kill()
            writer.told()
    assert found == sorted(found)
    assert found[-1] > found[0], "nothing was written meanwhile: the test shows nothing"


def test_a_backup_is_one_file_with_every_value_that_only_its_owner_reads(one, opened, tmp_path):
    store, _ = one
    file = tmp_path / "backups" / "one.sqlite3"
    file.parent.mkdir()
    made = back_up(store, file, quiet)
    assert [one.name for one in file.parent.iterdir()] == ["one.sqlite3"]
    assert file.stat().st_mode & 0o777 == 0o600
    copy = reopened(opened, file)
    assert contents_of(copy) == contents_of(store)
    assert verify(copy) == made == verify(store)


def test_a_backup_restores_into_either_kind_of_database(one, opened, server, tmp_path):
    store, made = one
    file = tmp_path / "backup.sqlite3"
    back_up(store, file, quiet)
    for target in (f"sqlite:///{tmp_path}/restored.sqlite3", server.empty(), server.migrated()):
        restore(file, target, quiet)
        again = opened(target)
        assert contents_of(again) == contents_of(store)
        with again.unit_of_work(made.caller, AT) as work:
            work.existing(Project, made.project_id).name = "Goes on"
            work.commit()
        verify(again)


def test_a_move_to_postgresql_keeps_every_value_and_the_chain(sqlite_store, server, opened):
    filled(sqlite_store, "One")
    filled(sqlite_store, "Two \N{SNOWMAN} é")
    copied = []
    url = server.empty()
    moved = move(sqlite_store, url, copied.append)
    target = opened(url)
    assert moved == verify(target) == verify(sqlite_store)
    assert contents_of(target) == contents_of(sqlite_store)
    assert sum(copied) >= moved.audit_rows


def test_the_contents_of_documents_are_copied_a_few_at_once(sqlite_store, server):
    made, sent = filled(sqlite_store), []
    with sqlite_store.unit_of_work(made.caller, AT) as work:
        for number in range(1, 10):
            bill = read_document(BILL, MADE_PDF + b" " * number)
            add_document(work, made.project_id, bill, 10**6)
        work.commit()

    def note(_connection, _cursor, statement, parameters, *_):
        if statement.startswith("INSERT INTO document_contents"):
            sent.append(len(parameters))

    event.listen(Engine, "before_cursor_execute", note)
    try:
        move(sqlite_store, server.empty(), quiet)
    finally:
        event.remove(Engine, "before_cursor_execute", note)
    assert sent == [4, 4, 2]


def test_nothing_is_ever_written_over(one_sqlite, server, tmp_path):
    sqlite_store, _ = one_sqlite
    file = tmp_path / "backup.sqlite3"
    file.write_text("mine")
    with pytest.raises(CopyRefused, match="is there already"):
        back_up(sqlite_store, file, quiet)
    assert file.read_text() == "mine"
    file.unlink()
    back_up(sqlite_store, file, quiet)
    with pytest.raises(CopyRefused, match="is there already"):
        restore(file, str(sqlite_store.engine.url), quiet)
    url = server.empty()
    move(sqlite_store, url, quiet)
    for again in (lambda: move(sqlite_store, url, quiet), lambda: restore(file, url, quiet)):
        with pytest.raises(CopyRefused, match="the target holds 1 row in accounts"):
            again()


def test_a_log_left_beside_a_file_that_is_gone_is_not_taken_for_its_own(sqlite_store, tmp_path):
    file = tmp_path / "backup.sqlite3"
    back_up(sqlite_store, file, quiet)
    (tmp_path / "new.sqlite3-wal").write_bytes(b"of another time")
    with pytest.raises(CopyRefused, match=r"new\.sqlite3-wal: is there already"):
        restore(file, f"sqlite:///{tmp_path}/new.sqlite3", quiet)


def test_a_backup_that_was_altered_is_not_restored(one_sqlite, server, opened, tmp_path):
    sqlite_store, _ = one_sqlite
    file = tmp_path / "backup.sqlite3"
    back_up(sqlite_store, file, quiet)
    tampered(reopened(opened, file), ("UPDATE tokens SET role = 'owner'", {}))
    with pytest.raises(StoreFaulty, match="not what the audit trail says"):
        restore(file, f"sqlite:///{tmp_path}/restored.sqlite3", quiet)
    assert not (tmp_path / "restored.sqlite3").exists()
    url = server.migrated()
    with pytest.raises(StoreFaulty, match="not what the audit trail says"):
        restore(file, url, quiet)
    assert verify(opened(url)).accounts == 0


def test_a_store_that_does_not_hold_together_leaves_no_backup(one_sqlite, tmp_path):
    sqlite_store, _ = one_sqlite
    tampered(sqlite_store, ("DELETE FROM items", {}))
    with pytest.raises(StoreFaulty):
        back_up(sqlite_store, tmp_path / "backup.sqlite3", quiet)
    assert [one for one in tmp_path.iterdir() if "backup" in one.name or "unfin" in one.name] == []


@pytest.mark.parametrize(
    ("content", "told_of"),
    [
        (b"", "is not a backup"),
        (b"code,name\n", "is not a backup"),
        (b"SQLite format 3\x00" + b"\x00" * 4080, "damaged"),
    ],
)
def test_what_is_no_backup_is_a_sentence(tmp_path, content, told_of):
    file = tmp_path / "backup.sqlite3"
    file.write_bytes(content)
    with pytest.raises((CopyRefused, StoreFaulty, StoreUnfit), match=told_of):
        restore(file, f"sqlite:///{tmp_path}/new.sqlite3", quiet)
    assert [one.name for one in tmp_path.iterdir()] == ["backup.sqlite3"]


def test_a_database_of_somebody_else_is_not_restored(tmp_path):
    file = tmp_path / "other.sqlite3"
    with sqlite3.connect(file) as connection:
        connection.execute("CREATE TABLE assemblies (name TEXT)")
    connection.close()
    with pytest.raises(StoreUnfit, match="tables that are not ours"):
        restore(file, f"sqlite:///{tmp_path}/new.sqlite3", quiet)


def test_a_missing_file_or_folder_is_a_sentence(sqlite_store, tmp_path):
    with pytest.raises(CopyRefused, match="there is no such file"):
        restore(tmp_path / "none", f"sqlite:///{tmp_path}/new.sqlite3", quiet)
    with pytest.raises(CopyRefused, match="there is no such folder"):
        back_up(sqlite_store, tmp_path / "none" / "backup.sqlite3", quiet)


def test_a_backup_of_an_older_program_is_brought_up_to_date(sqlite_store, opened, tmp_path):
    filled(sqlite_store, is_studied=False)
    before = contents_of(sqlite_store)
    downgrade(sqlite_store.engine, "0004")
    sqlite_store.close()
    shutil.copy(sqlite_store.engine.url.database, tmp_path / "older.sqlite3")
    restore(tmp_path / "older.sqlite3", f"sqlite:///{tmp_path}/new.sqlite3", quiet)
    restored = reopened(opened, tmp_path / "new.sqlite3")
    assert contents_of(restored) == before
    with restored.engine.connect() as connection:
        step = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    assert step == newest_step()


def test_a_move_goes_only_from_sqlite_to_postgresql(store, tmp_path):
    with pytest.raises(CopyRefused, match="from SQLite to PostgreSQL"):
        move(store, f"sqlite:///{tmp_path}/x.sqlite3", quiet)


def test_nothing_is_written_while_a_move_is_made(sqlite_url, server):
    store, other = open_store(sqlite_url), open_store(sqlite_url, longest_wait_s=0.1)
    refused = []

    def try_to_write(_rows):
        try:
            open_account(other, "Meanwhile", AT)
        except Exception as error:
            refused.append(type(error).__name__)

    filled(store)
    moved = move(store, server.empty(), try_to_write)
    assert set(refused) == {"StoreBusy"}
    assert verify(store) == moved
    store.close()
    other.close()


def test_a_database_that_cannot_be_reached_is_a_sentence(sqlite_store, tmp_path):
    url = f"postgresql+psycopg://nobody:geheim@/none?host={tmp_path}"
    with pytest.raises(Exception, match="the database cannot be reached") as told_of:
        move(sqlite_store, url, quiet)
    assert "geheim" not in str(told_of.value)
    engine = make_engine(read_url(url), 1)
    assert "geheim" not in repr(engine)
    engine.dispose()
