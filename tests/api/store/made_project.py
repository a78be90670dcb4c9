"""A project without anything in it, for processes that are to start soon."""

from __future__ import annotations

from datetime import UTC, date, datetime

import api.rates.rows  # noqa: F401 (a project names a set of rates)
from api.projects.rows import Project

SPRING = date(2026, 4, 1)
AT = datetime(2026, 3, 2, 7, 30, tzinfo=UTC)


def project(name: str = "Harrow Lane Carbarn", **more: object) -> Project:
    """Return a project that is not kept yet."""
    return Project(
        **{"name": name, "created_at": AT, "pricing_date": SPRING, "markups": None}
        | {"rate_set_id": None}
        | more
    )
