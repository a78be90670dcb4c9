"""Promises 1, 2 and 5: what was answered survives kill -9, no update is lost, nobody starves."""

from __future__ import annotations

import random
import subprocess
import sys
from contextlib import ExitStack
from threading import Event, Thread
from time import sleep
from uuid import UUID

import pytest
from sqlalchemy import select

from api.projects.rows import Project
from api.store.accounts import open_account
from api.store.caller import Caller
from api.store.errors import StoreBusy
from api.store.models.trail import CREATED, AuditRow
from api.store.store import open_store
from api.store.verify import verify
from api.store.write_turn import WriteTurns
from tests.api.figures import figure, tries
from tests.api.store.made import AT, project
from tests.api.store.writer import started

ACKNOWLEDGED = figure(100, 10_000)
WRITERS = 4
LEAST_SHARE = 0.15  # of what each would have written if all were alike


@pytest.fixture
def caller(store):
    return Caller(open_account(store, "Competing", AT))


def names_of(store, caller):
    with store.reading(caller) as session:
        return {row.id: row.name for row in session.execute(select(Project.id, Project.name))}


@tries("kills", 4, 200)
def test_what_was_answered_survives_the_killing_of_its_process(store, caller, url, kills):
    chance = random.Random(1)  # noqa: S311 -- repeatable, not secret
    kept, killed = set(), 0
    while killed < kills or len(kept) < ACKNOWLEDGED:
        with ExitStack() as stack:
            process = started(stack, "add", url, caller, 10**6)
            process.go()
            sleep(chance.uniform(0.05, 0.4 if kills < 100 else 1.0))
            process.kill()
            kept |= {UUID(one) for one in process.told().get("kept", []) if len(one) == 36}
            killed += 1
    again = open_store(url)
    try:
        names = names_of(again, caller)
        assert kept - names.keys() == set()
        assert [name for name in names.values() if not name.startswith("whole")] == []
        assert verify(again).audit_rows == 1 + 2 * len(names)
    finally:
        again.close()


@tries("rounds", 40, 1_000)
def test_of_competing_edits_exactly_one_wins_each_version(store, caller, url, rounds):
    with store.unit_of_work(caller, AT) as work:
        row = project("Edited")
        work.add(row)
        work.commit()
    with ExitStack() as stack:
        processes = [
            started(stack, "edit", url, caller, row.id, rounds) for _ in range(WRITERS - 1)
        ]
        for one in processes:
            one.go()
        results = [process.told() for process in processes]
    won = sorted(int(one) for result in results for one in result.get("won", []))
    assert won == list(range(1, rounds + 1))
    with store.reading(caller) as session:
        kept = session.existing(Project, row.id)
        assert (kept.shift, kept.version) == (str(rounds), rounds + 1)
    verify(store)


@tries("writes", 240, 20_000)
def test_no_writer_starves(store, caller, url, writes):
    """Who wrote when stands in the trail, which is one for all four."""
    each = writes // WRITERS
    with ExitStack() as stack:
        processes = [started(stack, "add", url, caller, each) for _ in range(WRITERS)]
        for one in processes:
            one.go()
        results = [process.told() for process in processes]
        assert [one.process.exitcode for one in processes] == [0] * WRITERS
    writer_of = {UUID(one): who for who, result in enumerate(results) for one in result["kept"]}
    turns = select(AuditRow.subject_id).where(AuditRow.action == CREATED).order_by(AuditRow.number)
    with store.reading(caller) as session:
        order = [writer_of[one] for one in session.scalars(turns) if one in writer_of]
    assert len(order) == len(names_of(store, caller)) == writes
    until_one_is_done = order[: min(len(order) - order[::-1].index(who) for who in range(WRITERS))]
    fair_share = len(until_one_is_done) / WRITERS
    for who in range(WRITERS):
        assert until_one_is_done.count(who) >= LEAST_SHARE * fair_share
    verify(store)


def test_a_turn_that_does_not_come_in_time_is_a_sentence(sqlite_url):
    store = open_store(sqlite_url, longest_wait_s=0.2)
    other = open_store(sqlite_url, longest_wait_s=0.2)
    account = Caller(open_account(store, "Waiting", AT))
    with store.unit_of_work(account, AT), pytest.raises(StoreBusy, match=r"within 0\.2 s"):
        open_account(other, "Late", AT)
    assert open_account(other, "Now", AT)
    store.close()
    other.close()


def test_a_row_lock_that_does_not_come_in_time_is_a_sentence(server):
    url = server.migrated()
    store, other = open_store(url), open_store(url, longest_wait_s=0.2)
    account = Caller(open_account(store, "Waiting", AT))
    with store.unit_of_work(account, AT):
        with pytest.raises(StoreBusy, match="waited too long for its turn"):
            other.carry_out(account, AT, lambda work: work.add(project()))
        assert open_account(other, "Of another account, so it need not wait", AT)
    store.close()
    other.close()


def test_turns_come_in_the_order_of_arrival(tmp_path):
    turns, order, threads = WriteTurns(tmp_path / "turns", 10), [], []

    def wait(number):
        with turns.turn():
            order.append(number)

    with turns.turn():
        for number in range(8):
            threads.append(Thread(target=wait, args=(number,)))
            threads[-1].start()
            sleep(0.03)
    for thread in threads:
        thread.join()
    assert order == list(range(8))


def test_threads_that_wait_all_the_time_leave_turns_to_another_process(tmp_path):
    busy, other = WriteTurns(tmp_path / "turns", 10), WriteTurns(tmp_path / "turns", 2)
    has_waited, came = Event(), []

    def write():
        while not has_waited.is_set():
            with busy.turn():
                came.append(1)
                sleep(0.002)

    threads = [Thread(target=write) for _ in range(3)]
    for thread in threads:
        thread.start()
    try:
        for _ in range(3):
            before = len(came)
            while len(came) < before + 5:
                sleep(0.001)
            with other.turn():
                pass
    finally:
        has_waited.set()
        for thread in threads:
            thread.join()


def test_a_writer_that_is_killed_while_it_has_its_turn_holds_up_nobody(tmp_path):
    holding = (
        "import sys, time; from pathlib import Path; from api.store.write_turn import WriteTurns\n"
        "with WriteTurns(Path(sys.argv[1]), 5).turn(): print('mine', flush=True); time.sleep(60)"
    )
    command = [sys.executable, "-c", holding, str(tmp_path / "turns")]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout.readline() == "mine\n"
        with pytest.raises(StoreBusy), WriteTurns(tmp_path / "turns", 0.1).turn():
            pass
        process.kill()
    with WriteTurns(tmp_path / "turns", 2).turn():
        pass
