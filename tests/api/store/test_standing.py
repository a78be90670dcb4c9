"""Each thread keeps a connection, which is made anew when it is gone."""

from __future__ import annotations

import os
from threading import Thread

from sqlalchemy import select, text

from api.store.models import Account, table_of
from api.store.prepared import PreparedAcross
from tests.api.store.made import AT, filled
from tests.api.store.postgres import Server

NAME = PreparedAcross(select(table_of(Account).c.name))


def name_of(store):
    return (NAME.first(store) or {}).get("name")


def test_what_was_committed_meanwhile_is_seen_at_once(store):
    made = filled(store)
    assert name_of(store) == "Rail & Kiln"
    with store.unit_of_work(made.caller, AT) as work:
        work.existing(Account, made.caller.account_id).name = "Kiln & Rail"
        assert name_of(store) == "Rail & Kiln"
        work.commit()
    assert name_of(store) == "Kiln & Rail"


def test_each_thread_has_its_own_and_all_are_closed_together(store):
    filled(store)
    told = []
    threads = [Thread(target=lambda: told.append(name_of(store))) for _ in range(4)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert told == ["Rail & Kiln"] * 4
    assert len(store.standing._all) == 4
    store.close()
    assert store.standing._all == []
    assert name_of(store) == "Rail & Kiln"


def test_a_connection_that_was_cut_is_replaced_within_the_same_read(server: Server, opened):
    store = opened(server.migrated())
    filled(store)
    assert name_of(store) == "Rail & Kiln"
    with store.across_accounts() as connection:
        connection.execute(
            text(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
                "WHERE pid <> pg_backend_pid() AND datname = current_database()"
            )
        )
    assert name_of(store) == "Rail & Kiln"
    assert len(store.standing._all) == 1


def test_a_child_process_opens_its_own_and_leaves_its_parents_alone(store):
    filled(store)
    assert name_of(store) == "Rail & Kiln"
    child = os.fork()
    if child == 0:
        store.after_fork()
        os._exit(0 if name_of(store) == "Rail & Kiln" else 1)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0
    assert name_of(store) == "Rail & Kiln"
