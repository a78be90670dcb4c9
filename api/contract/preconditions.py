"""Changes without lost updates: `ETag` tells a version, `If-Match` says which one is changed."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterable
from typing import Any
from uuid import UUID

from flask import Response, request

from api.contract.errors import PreconditionMissing
from api.contract.places import header
from api.contract.services import Services
from api.store.caller import Caller
from api.store.columns import canonical_json
from api.store.errors import VersionStale
from api.store.sessions import AccountSession, RowType
from api.store.writing_session import WritingSession
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
    tags = (_TAG.fullmatch(tag) for tag in expected_tags())
    return frozenset(int(tag[1]) for tag in tags if tag)


def expected_tags() -> frozenset[str]:
    """Return the tags that `If-Match` names, each with its quotes.

    Raises
    ------
    PreconditionMissing
        If it is missing, or `*`.
    """
    header_text = request.headers.get("If-Match", "").strip()
    if not header_text or header_text == "*":
        raise fault(
            PreconditionMissing,
            "the change does not say which version it changes",
            "read it, and send its ETag as If-Match",
            header("If-Match"),
        )
    return frozenset(tag.strip() for tag in header_text.split(","))


def whole_tag(rows: Iterable[tuple[UUID, int]]) -> str:
    """Return the tag of a whole of several rows, from the id and version of each, in one order.

    Examples
    --------
    >>> whole_tag([])
    '"4f53cda18c2baa0c0354bb5f9a3ecbe5"'
    """
    tagged = canonical_json([[str(key), version] for key, version in rows])
    return f'"{hashlib.sha256(tagged.encode()).hexdigest()[:32]}"'


def expect_tag(tag: str, tags: frozenset[str], what: str) -> None:
    """Refuse to change a whole of several rows that is not as the client has read it.

    Parameters
    ----------
    tag : str
        Of the whole as it is now.
    tags : frozenset of str
        From `expected_tags`.
    what : str
        The whole, as "the scope".

    Raises
    ------
    VersionStale
        If it differs.
    """
    if tag not in tags:
        raise fault(VersionStale, f"{what} has changed since you read it", "read it again")


def expect_match(session: AccountSession, row: Any, versions: frozenset[int]) -> None:
    """Refuse to change a row that is at none of the versions that the client has read.

    Raises
    ------
    VersionStale
        If it is at another.
    """
    if not versions:
        raise fault(VersionStale, f"it is at version {row.version}", "read it again")
    if row.version not in versions:
        session.expect(row, max(versions))


def change_row(
    parts: Services,
    caller: Caller,
    model: type[RowType],
    key: UUID,
    change: Callable[[WritingSession, RowType], None],
    prepare: Callable[[AccountSession, RowType], None] | None = None,
    **of: UUID,
) -> RowType:
    """Return a row after a change of the version that the client has read.

    Parameters
    ----------
    parts, caller : Services, Caller
    model, key : type, UUID
        Which row; it has a version.
    change : callable
        Given the session and the row; it may be called again if two changes clash.
    prepare : callable, optional
        What takes long and writes nothing, with the row as it is before the turn to write.
    **of
        What the row must belong to, such as `project_id`.

    Raises
    ------
    PreconditionMissing, VersionStale, NotFound
        Before anything is changed.
    """
    versions = expected_versions()

    def as_read(session: AccountSession) -> RowType:
        row = session.existing(model, key, **of)
        expect_match(session, row, versions)
        return row

    def prepare_row() -> None:
        nonlocal versions
        if prepare is not None:
            with parts.store.reading(caller) as session:
                row: Any = as_read(session)
                prepare(session, row)
                versions = frozenset({row.version})

    def work_on(work: WritingSession) -> RowType:
        row = as_read(work)
        change(work, row)
        return row

    return parts.store.carry_out(caller, parts.now, work_on, prepare_row)


def with_tag(answer: Response, version: int) -> Response:
    """Return an answer with the version's tag; 304 if the client has that version already."""
    answer.headers["ETag"] = version_tag(version)
    return conditional(answer)


def conditional(answer: Response) -> Response:
    """Return an answer with a tag; 304 if the client says that it has the same already."""
    if "HTTP_IF_NONE_MATCH" in request.environ:
        answer.make_conditional(request)
    return answer
