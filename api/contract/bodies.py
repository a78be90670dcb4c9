"""Bodies at the door: of stated length, not too long, of a kind that the route takes.

A body that comes in pieces of unknown length is refused and never cut: the usual server would cut
it at the limit and go on.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TYPE_CHECKING, Any, TypeVar

from flask import current_app, request

from api.contract.errors import BodyFaulty, BodyTooLarge, LengthMissing, MediaTypeUnfit
from api.contract.places import header
from api.contract.services import services, this_request
from api.contract.strict_json import read_json
from estimator.errors import fault, quoted

if TYPE_CHECKING:
    from estimator.workbook.reading.limits import ReadingLimits

JSON_TYPE = "application/json"
MOST_PHASES = 500  # in one request, and in one project

_UPLOADS = "_takes_upload"
_Route = TypeVar("_Route", bound=Callable[..., Any])


def takes_upload(route: _Route) -> _Route:
    """Mark a route that takes a file, so that the limit of files is the one that counts."""
    setattr(route, _UPLOADS, True)
    return route


def check_body() -> None:
    """Refuse a body that is too long, of unknown length, or packed.

    Raises
    ------
    LengthMissing, BodyTooLarge, MediaTypeUnfit
        Before anything of the body is read.
    """
    here = this_request()
    if "HTTP_TRANSFER_ENCODING" in here.environ:
        raise fault(
            LengthMissing,
            "the body comes in chunks without its length",
            "send it with Content-Length",
        )
    if here.environ.get("CONTENT_LENGTH", "") in ("", "0"):
        return
    most = _most_bytes()
    if (here.content_length or 0) > most:
        raise fault(BodyTooLarge, f"the body is longer than {most:,} bytes", "send it in parts")
    if here.headers.get("Content-Encoding", "identity") != "identity":
        raise fault(MediaTypeUnfit, "the body is compressed", "send it as it is")
    here.max_content_length = most


def json_body() -> Any:
    """Return what the body says.

    Raises
    ------
    MediaTypeUnfit
        If it is not marked as JSON in UTF-8.
    BodyFaulty
        If it cannot be read, or is not there.
    """
    check_media_type([JSON_TYPE])
    content = request.get_data()
    if not content:
        raise fault(BodyFaulty, "the body is empty", "send a JSON object")
    return read_json(content, services().settings.deepest_json)


def check_media_type(taken: Collection[str]) -> str:
    """Return the kind of body that was sent, if it is one of those that are taken.

    Raises
    ------
    MediaTypeUnfit
        If it is not, or not in UTF-8.
    """
    charset = request.mimetype_params.get("charset", "utf-8")
    if request.mimetype in taken and charset.lower() in ("utf-8", "utf8"):
        return request.mimetype
    raise fault(
        MediaTypeUnfit,
        f"{quoted(request.content_type or 'nothing')} is not taken",
        f"send {' or '.join(taken)}, in UTF-8",
        header("Content-Type"),
    )


def check_phase_count(count: int, what: str) -> None:
    """Refuse a scope or project with more phases than one may have.

    Raises
    ------
    BodyTooLarge
        Telling how many are taken.
    """
    if count > MOST_PHASES:
        problem = f"the {what} has more than {MOST_PHASES:,} phases"
        raise fault(BodyTooLarge, problem, "put more items in a phase")


def check_how_many(count: int, what: str, of: str, remedy: str = "send it in parts") -> None:
    """Refuse a request with more rows or items than one may have, before they are read.

    Raises
    ------
    BodyTooLarge
        Telling how many are taken.
    """
    most = services().settings.most_rows
    if count > most:
        raise fault(BodyTooLarge, f"the {what} has more than {most:,} {of}", remedy)


def upload_limits() -> ReadingLimits:
    """Return what the process that reads an uploaded workbook may take, by the settings."""
    from estimator.workbook.reading.limits import ReadingLimits

    settings = services().settings
    return ReadingLimits(settings.upload_seconds, settings.upload_memory_bytes)


def _most_bytes() -> int:
    settings = services().settings
    view = current_app.view_functions.get(request.endpoint or "")
    return settings.largest_upload_bytes if hasattr(view, _UPLOADS) else settings.largest_body_bytes
