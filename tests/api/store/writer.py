"""A process that writes to a store, as one worker of the service would, and tells of each answer.

Run as `python -m tests.api.store.writer KIND URL ARGUMENTS`; every line it prints is something
that a client would have been told.
"""

from __future__ import annotations

import sys
from datetime import UTC, datetime
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


def now() -> datetime:
    """Return the time of a client."""
    return datetime.now(UTC)


def tell(*words: object) -> None:
    """Tell the test, at once."""
    print(*words, flush=True)  # noqa: T201


def add_projects(store: Store, caller: Caller, count: str) -> None:
    """Add so many projects of two halves, telling of each one that is kept."""
    for number in range(int(count)):
        with store.unit_of_work(caller, now()) as work:
            row = project(f"half {number}")
            work.add(row)
            row.name = f"whole {number}"
            work.commit()
        tell("kept", row.id)


def edit_projects(store: Store, caller: Caller, project_id: str, rounds: str) -> None:
    """Compete for each version of a project, giving up on those that somebody else took."""
    for version in range(1, int(rounds) + 1):
        with store.reading(caller) as session:
            while session.existing(Project, UUID(project_id)).version < version:
                session.rollback()
        try:
            with store.unit_of_work(caller, now()) as work:
                row = work.existing(Project, UUID(project_id))
                work.expect(row, version)
                row.shift = f"{int(row.shift or 0) + 1}"
                work.commit()
            tell("won", version)
        except VersionStale:
            tell("stale", version)


def submit(store: Store, caller: Caller, key: str, digest: str) -> None:
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


def main() -> None:
    """Do what the command line says."""
    kind, url, account_id, *arguments = sys.argv[1:]
    store = open_store(url, longest_wait_s=30)
    tell("ready")
    sys.stdin.readline()
    {"add": add_projects, "edit": edit_projects, "submit": submit}[kind](
        store, Caller(UUID(account_id)), *arguments
    )
    store.close()


if __name__ == "__main__":
    main()
