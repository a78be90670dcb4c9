"""Processes that write to a store, as workers of the service would, and tell of each answer.

Each is forked from one that has loaded what they need and nothing else, so that it starts at once;
it opens the store itself. Every line it sends is something that a client would have been told.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from uuid import UUID

from api.projects.rows import Project
from api.store.caller import Caller
from api.store.errors import KeyReused, StillInFlight, VersionStale
from api.store.store import Store, open_store
from api.store.submissions import (
    Claim,
    StoredAnswer,
    Submission,
    answer_submission,
    claim_submission,
)
from tests.api.store.made_project import project

Tell = Callable[..., None]
_FORKS = get_context("forkserver")
_FORKS.set_forkserver_preload([__name__])


def now() -> datetime:
    """Return the time of a client."""
    return datetime.now(UTC)


def add_projects(store: Store, caller: Caller, tell: Tell, count: int) -> None:
    """Add so many projects of two halves, telling of each one that is kept."""
    for number in range(count):
        with store.unit_of_work(caller, now()) as work:
            row = project(f"half {number}")
            work.add(row)
            row.name = f"whole {number}"
            work.commit()
        tell("kept", row.id)


def edit_projects(store: Store, caller: Caller, tell: Tell, project_id: UUID, rounds: int) -> None:
    """Compete for each version of a project, giving up on those that somebody else took."""
    for version in range(1, rounds + 1):
        with store.reading(caller) as session:
            while session.existing(Project, project_id).version < version:
                session.rollback()
        try:
            with store.unit_of_work(caller, now()) as work:
                row = work.existing(Project, project_id)
                work.expect(row, version)
                row.shift = f"{int(row.shift or 0) + 1}"
                work.commit()
            tell("won", version)
        except VersionStale:
            tell("stale", version)


def submit(store: Store, caller: Caller, tell: Tell, key: str, digest: str) -> None:
    """Submit a project under a key, and tell what was answered."""
    try:
        found = claim_submission(store, Submission(caller, key, "POST /v1/projects", digest, now()))
        if isinstance(found, Claim):
            with store.unit_of_work(caller, now()) as work:
                row = project("Submitted")
                work.add(row)
                answer_submission(work, found, StoredAnswer(201, {}, str(row.id).encode()))
                work.commit()
            tell("made", row.id)
        else:
            tell("again", found.body.decode())
    except StillInFlight:
        tell("in flight")
    except KeyReused:
        tell("reused")


WRITE = {"add": add_projects, "edit": edit_projects, "submit": submit}


def write(line: Connection, kind: str, url: str, caller: Caller, arguments: tuple) -> None:
    """Write as it is said, from when the test says so."""
    store = open_store(url, longest_wait_s=30)
    line.send("ready")
    line.recv()
    WRITE[kind](store, caller, lambda *words: line.send(" ".join(map(str, words))), *arguments)
    store.close()


@dataclass
class Writer:
    """Such a process, as the test sees it."""

    process: BaseProcess
    line: Connection

    def go(self) -> None:
        """Let it begin."""
        self.line.send("go")

    def kill(self) -> None:
        """End it at once, without a warning."""
        self.process.kill()

    def told(self) -> dict[str, list[str]]:
        """Return what it told until it ended, by the first word."""
        lines: dict[str, list[str]] = {}
        with suppress(EOFError, OSError):  # its end, or that of a killed one within a line
            while True:
                word, _, rest = self.line.recv().partition(" ")
                lines.setdefault(word, []).append(rest)
        self.process.join()
        return lines


def started(stack: ExitStack, kind: str, url: str, caller: Caller, *arguments: object) -> Writer:
    """Start a process that writes, and wait until it is ready to."""
    ours, theirs = _FORKS.Pipe()
    process = _FORKS.Process(target=write, args=(theirs, kind, url, caller, arguments), daemon=True)
    process.start()
    theirs.close()
    stack.callback(process.join)
    stack.callback(ours.close)
    assert ours.recv() == "ready"
    return Writer(process, ours)
