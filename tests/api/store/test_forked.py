"""A store that was opened before a fork goes on in both processes."""

from __future__ import annotations

import os

from sqlalchemy import select

from api.projects.rows import Project
from tests.api.store.made import AT, filled, project


def added(store, caller, name):
    """Add a project and tell whether it is there."""
    with store.unit_of_work(caller, AT) as work:
        work.add(project(name))
        work.commit()
    with store.reading(caller) as session:
        return name in set(session.scalars(select(Project.name)))


def test_parent_and_child_each_use_connections_of_their_own(store):
    caller = filled(store).caller
    child = os.fork()
    if child == 0:
        store.after_fork()
        os._exit(0 if added(store, caller, "Child") else 1)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0
    assert added(store, caller, "Parent")
    with store.reading(caller) as session:
        assert {"Child", "Parent"} <= set(session.scalars(select(Project.name)))
