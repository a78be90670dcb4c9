"""Errors as answers: problem details (RFC 9457), from one table of the whole family.

`PROBLEMS` has every class of error with its status and title; a test holds it complete. What the
service itself gets wrong is logged with the number of the request, and answered without words
that would show its inside.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any

from flask import Flask, Response, g
from werkzeug.exceptions import HTTPException

from api.contract import errors as contract
from api.contract.places import place_json
from api.contract.request_ids import request_id
from api.settings import SettingsFaulty
from api.store import errors as store
from estimator import errors as library
from estimator.errors import Fault, GroundsillError, InputFaulty

PROBLEM_TYPE = "application/problem+json"
PROBLEM_PATH = "/v1/problems"
MOST_ENTRIES = 200
SOON_S, ONCE_THERE_IS_ROOM_S = 1, 60

_LOG = logging.getLogger("groundsill.api")
_OUR_FAULT = "The service could not do this; the log has the details under this request number."
_REDIRECTS = range(300, 400)
_OUTAGES = (store.StoreBusy, store.DiskFull, store.StoreUnfit)


@dataclass(frozen=True)
class Problem:
    """How a class of error is answered."""

    status: int
    title: str


_UNPROCESSABLE, _CONFLICT, _INTERNAL = 422, 409, 500

PROBLEMS: Mapping[type[GroundsillError], Problem] = {
    GroundsillError: Problem(_INTERNAL, "Something went wrong"),
    library.InputFaulty: Problem(_UNPROCESSABLE, "The input has problems"),
    library.MeasureFaulty: Problem(_UNPROCESSABLE, "Not a measure of the right kind"),
    library.FormulaFaulty: Problem(_UNPROCESSABLE, "The formula has problems"),
    library.TablesFaulty: Problem(_UNPROCESSABLE, "The rate tables have problems"),
    library.ScopeFaulty: Problem(_UNPROCESSABLE, "The scope has problems"),
    library.WorkbookRefused: Problem(_UNPROCESSABLE, "The workbook was refused"),
    library.FileNotWritten: Problem(_INTERNAL, "The file could not be written"),
    library.GeometryFaulty: Problem(_UNPROCESSABLE, "The dimensions do not fit together"),
    library.RateMissing: Problem(_UNPROCESSABLE, "A rate is missing"),
    library.AmountFaulty: Problem(_UNPROCESSABLE, "That is not an exact amount"),
    library.AmountTooLarge: Problem(_UNPROCESSABLE, "An amount is too large"),
    library.LaborFaulty: Problem(_UNPROCESSABLE, "The labor terms have problems"),
    library.EquipmentFaulty: Problem(_UNPROCESSABLE, "The equipment terms have problems"),
    library.ProductionFaulty: Problem(_UNPROCESSABLE, "The work cannot be done as described"),
    library.MethodsFaulty: Problem(_UNPROCESSABLE, "The methods cannot be compared"),
    library.CalendarFaulty: Problem(_UNPROCESSABLE, "The calendar has problems"),
    library.RangeFaulty: Problem(_UNPROCESSABLE, "The range has problems"),
    library.CorrelationFaulty: Problem(_UNPROCESSABLE, "Correlation values conflict"),
    library.PhaseOrderFaulty: Problem(_UNPROCESSABLE, "The phases wait for each other"),
    library.LedgerFaulty: Problem(_UNPROCESSABLE, "The row cannot be posted"),
    library.FundingFaulty: Problem(_UNPROCESSABLE, "The terms of funding have problems"),
    contract.BodyFaulty: Problem(400, "The body cannot be read"),
    contract.FieldsFaulty: Problem(_UNPROCESSABLE, "Some fields have problems"),
    contract.MediaTypeUnfit: Problem(415, "Content type not accepted here"),
    contract.LengthMissing: Problem(411, "Content-Length is missing"),
    contract.BodyTooLarge: Problem(413, "The body is too large"),
    contract.PreconditionMissing: Problem(428, "If-Match is missing"),
    contract.KeyFaulty: Problem(400, "Idempotency-Key is missing or not valid"),
    contract.CursorFaulty: Problem(400, "Cursor belongs to another list"),
    contract.NotSignedIn: Problem(401, "A valid token is required"),
    contract.NotAllowed: Problem(403, "The role of this token does not allow this"),
    contract.TooManyRequests: Problem(429, "Too many requests"),
    store.NotFound: Problem(404, "Not found"),
    store.VersionStale: Problem(412, "Changed by someone else in the meantime"),
    store.AlreadyThere: Problem(_CONFLICT, "Already exists"),
    store.StillNeeded: Problem(_CONFLICT, "Still in use"),
    store.ValueRefused: Problem(_UNPROCESSABLE, "A value cannot be stored"),
    store.Unchangeable: Problem(_CONFLICT, "Final: it cannot be changed"),
    store.KeyReused: Problem(_UNPROCESSABLE, "Idempotency-Key already used for another request"),
    store.StillInFlight: Problem(_CONFLICT, "Same request still running"),
    store.StoreBusy: Problem(503, "Busy: try again shortly"),
    store.ChangedMeanwhile: Problem(503, "It keeps changing"),
    store.DiskFull: Problem(507, "The disk is full"),
    store.StoreUnfit: Problem(503, "Service unavailable"),
    store.StoreFaulty: Problem(_INTERNAL, "Stored data is damaged"),
    store.MadeDifferently: Problem(_CONFLICT, "Made with another version"),
    store.CopyRefused: Problem(_INTERNAL, "The copy was refused"),
    SettingsFaulty: Problem(_INTERNAL, "The settings have problems"),
}


def problem_of(error: GroundsillError) -> Problem:
    """Return how an error is answered; a class that is not in the table as its nearest parent."""
    return next(PROBLEMS[cls] for cls in type(error).__mro__ if cls in PROBLEMS)


def register_problems(app: Flask) -> None:
    """Answer every error of an application as a problem."""
    app.register_error_handler(GroundsillError, _answer_to_error)
    app.register_error_handler(HTTPException, _answer_to_http)
    app.register_error_handler(Exception, _answer_to_surprise)


def problem_answer(
    status: int, code: str, title: str, detail: str, entries: list[dict[str, str]]
) -> Response:
    """Return a problem as an answer."""
    fields: dict[str, Any] = {
        "type": f"{PROBLEM_PATH}/{code}",
        "title": title,
        "status": status,
        "detail": detail,
        "code": code,
        "request_id": request_id(),
    }
    if entries:
        fields["errors"] = entries
    body = json.dumps(fields, ensure_ascii=False)
    return Response(body, status, content_type=PROBLEM_TYPE)


def entry(fault: Fault) -> dict[str, str]:
    """Return one fault as a problem tells it: its place, what is wrong, what would be right."""
    remedy = {"remedy": str(fault.remedy)} if fault.remedy else {}
    return {**place_json(fault.where), "what": fault.what, **remedy}


def _answer_to_error(error: GroundsillError) -> Response:
    problem = problem_of(error)
    if problem.status >= _INTERNAL:
        _note(error)
        answer = problem_answer(problem.status, error.code, problem.title, _OUR_FAULT, [])
    else:
        faults = error.faults if isinstance(error, InputFaulty) else (Fault("", str(error)),)
        answer = problem_answer(
            problem.status, error.code, problem.title, _detail(faults, getattr(error, "more", 0)),
            [entry(one) for one in faults[:MOST_ENTRIES]],
        )  # fmt: skip
    if isinstance(error, contract.TooManyRequests):
        answer.headers["Retry-After"] = str(max(1, -int(-error.wait_s // 1)))
    elif isinstance(error, store.StoreBusy | store.StillInFlight):
        answer.headers["Retry-After"] = str(SOON_S)
    elif isinstance(error, store.DiskFull):
        answer.headers["Retry-After"] = str(ONCE_THERE_IS_ROOM_S)
    elif isinstance(error, contract.NotSignedIn):
        answer.headers["WWW-Authenticate"] = 'Bearer realm="groundsill"'
    return answer


def _note(error: GroundsillError) -> None:
    """Write an outage into the request's own line, as one of many like it; else the trace."""
    if isinstance(error, _OUTAGES):
        g.outage = str(error)
    else:
        _LOG.error("%s %s: %s", request_id(), error.code, error, exc_info=error)


def _detail(faults: tuple[Fault, ...], more: int) -> str:
    in_all = len(faults) + more
    if in_all > MOST_ENTRIES:
        unlisted = f"{in_all - MOST_ENTRIES:,} of them not listed"
        return f"{in_all:,} problems found, {unlisted}; nothing was changed."
    if in_all > 1:
        return f"{in_all} problems found; nothing was changed."
    return f"{faults[0].what}{f'; {faults[0].remedy}' if faults[0].remedy else ''}."


def _answer_to_http(error: HTTPException) -> Response:
    """Answer what Flask itself refuses: an unknown path, a method, a request cut off."""
    status = error.code or _INTERNAL
    if status in _REDIRECTS:
        return Response(error.get_response().get_data(), status, error.get_response().headers)
    phrase = HTTPStatus(status).phrase
    answer = problem_answer(status, phrase_code(phrase), phrase, f"{phrase}.", [])
    allowed = getattr(error, "valid_methods", None)
    if allowed:
        answer.headers["Allow"] = ", ".join(sorted(allowed))
    return answer


def phrase_code(phrase: str) -> str:
    """Return the code of a problem that is known by the phrase of its status only."""
    return phrase.lower().replace(" ", "-").replace("'", "")


def _answer_to_surprise(error: Exception) -> Response:
    _LOG.error("%s %s", request_id(), type(error).__name__, exc_info=error)
    phrase = HTTPStatus.INTERNAL_SERVER_ERROR.phrase
    return problem_answer(_INTERNAL, "error", phrase, _OUR_FAULT, [])
