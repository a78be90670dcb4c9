"""Changes without lost updates: `ETag` tells a version, `If-Match` says which one is changed."""

from __future__ import annotations

import re
from typing import Any

from flask import Response, request

from api.contract.errors import PreconditionMissing
from api.contract.places import header
from api.store.errors import VersionStale
from api.store.sessions import WritingSession
from estimator.errors import fault

_TAG = re.compile(r'"([1-9][0-9]{0,9})"', re.ASCII)


def version_tag(version: int) -> str:
    """Return the tag of a version.

    Examples
    --------
    >>> version_tag(7)
    '"7"'
    """
    return f'"{version}"'


def expected_versions() -> frozenset[int]:
    """Return the versions that `If-Match` names.

    Raises
    ------
    PreconditionMissing
        If it is missing, or `*`, which would be a change of whatever there is.
    """
    given = request.headers.get("If-Match", "").strip()
    if not given or given == "*":
        raise fault(
            PreconditionMissing,
            "the change does not say of which version",
            "read it, and send its ETag as If-Match",
            header("If-Match"),
        )
    tags = (_TAG.fullmatch(tag.strip()) for tag in given.split(","))
    return frozenset(int(tag[1]) for tag in tags if tag)


def expect_match(work: WritingSession, row: Any, versions: frozenset[int]) -> None:
    """Refuse to change a row that is at none of the versions that the client has read.

    Raises
    ------
    VersionStale
        If it is at another.
    """
    if not versions:
        raise fault(VersionStale, f"it is at version {row.version}", "read it again")
    if row.version not in versions:
        work.expect(row, max(versions))


def with_tag(answer: Response, version: int) -> Response:
    """Return an answer with the version's tag; 304 if the client has that version already."""
    answer.headers["ETag"] = version_tag(version)
    answer.make_conditional(request)
    return answer
