"""The specification: OpenAPI 3.1 at `/v1/openapi.json`, made from the routes themselves."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from importlib.metadata import version
from typing import Any

import flask_smorest
import marshmallow as ma
from flask import Flask

from api.contract.blueprint import Blueprint
from api.contract.fields import Whole
from api.contract.problems import PROBLEM_TYPE

# What a strict text looks like, by what its schema says; the first that fits.
_SAMPLES = (
    ("format", "date-time", "2026-03-02T07:30:00Z"),
    ("format", "date", "2026-03-02"),
    ("pattern", "[1-9][0-9]{0,0})", "0.8"),
    ("pattern", "([.][0-9]{1,2})?$", "310.00"),
    ("pattern", "([.][0-9]{1,", "12.5"),
)

_DESCRIPTION = """Prices the restoration of an old building, phase by phase, with every figure \
explained.

Write money, quantities and rates as strings of decimal digits; many names carry their unit, such \
as `length_ft`. Errors are problem details (RFC 9457), with one entry for each field at fault. \
Whatever can be changed has a version in `ETag`; send it back with a change, in `If-Match`. A \
request that creates something needs an `Idempotency-Key`. Lists come in pages: send `next` back \
as `cursor`."""


_PROBLEM = {
    "type": "/v1/problems/fields-faulty",
    "title": "Some fields have problems",
    "status": 422,
    "detail": "is not a date; write it as 2026-03-02, from 1900-01-01 to 2199-12-31.",
    "code": "fields-faulty",
    "request_id": "7d5c1f5e9a5f4b0d8c2e6a1b3f4d5e6f",
    "errors": [
        {
            "pointer": "#/on",
            "what": "is not a date",
            "remedy": "write it as 2026-03-02, from 1900-01-01 to 2199-12-31",
        }
    ],
}


class EntrySchema(ma.Schema):
    """One fault of a request."""

    pointer = ma.fields.String(metadata={"description": "JSON pointer into the body (RFC 6901)."})
    parameter = ma.fields.String(metadata={"description": "Query parameter."})
    header = ma.fields.String(metadata={"description": "Header."})
    where = ma.fields.String(metadata={"description": "Where within it, in words."})
    what = ma.fields.String(required=True, metadata={"description": "What is wrong."})
    remedy = ma.fields.String(metadata={"description": "How to correct it."})


class ProblemSchema(ma.Schema):
    """A problem, as RFC 9457 has it, with a stable code and one entry for each fault."""

    type = ma.fields.String(required=True, metadata={"format": "uri-reference"})
    title = ma.fields.String(required=True)
    status = Whole(100, 599, required=True)
    detail = ma.fields.String(required=True)
    code = ma.fields.String(required=True, metadata={"description": "One code for each kind."})
    request_id = ma.fields.String(required=True)
    errors = ma.fields.List(ma.fields.Nested(EntrySchema))


class _Specification(flask_smorest.Api):  # type: ignore[misc]
    """Collects the routes; answers errors as problems, which it describes here only."""

    ERROR_SCHEMA = ProblemSchema

    def _register_error_handlers(self) -> None:
        """Leave errors to `register_problems`."""

    def _register_responses(self) -> None:
        schema = {"schema": ProblemSchema}
        for name in ("DEFAULT_ERROR", "UNPROCESSABLE_ENTITY", "UNPROCESSABLE_CONTENT"):
            content = {PROBLEM_TYPE: {**schema, "example": _PROBLEM}}
            response = {"description": "A problem.", "content": content}
            self.spec.components.response(name, response, lazy=True)


class _Described(flask_smorest.Blueprint):  # type: ignore[misc]
    """A subject while it is described."""

    def header(self, header: Mapping[str, Any]) -> Callable[[Any], Any]:
        """Tell of a header in the list of parameters, where `doc` would replace the query."""

        def add(route: Any) -> Any:
            described = self.doc()(route)
            arguments = described._apidoc.setdefault("arguments", {})
            arguments.setdefault("parameters", []).append(dict(header))
            return described

        return add


def specification_json(subjects: Iterable[Blueprint]) -> dict[str, Any]:
    """Return the specification as plain dictionaries, ready to be read by people too.

    Parameters
    ----------
    subjects : iterable of Blueprint
        In the order that they are shown. They are described beside an application that answers
        nothing, so that the one that does needs none of this at rest.
    """
    specification = _empty_specification()
    for subject in subjects:
        specification.register_blueprint(_described(subject))
    fields: dict[str, Any] = specification.spec.to_dict()
    for methods in fields["paths"].values():
        for operation in methods.values():
            if "summary" in operation:  # which is plain text, other than the line it comes from
                operation["summary"] = operation["summary"].replace("`", "'")
    _give_samples(fields)
    return fields


def _empty_specification() -> _Specification:
    app = Flask(__name__, static_folder=None)
    app.config.update(
        API_TITLE="Groundsill",
        API_VERSION=version("groundsill"),
        OPENAPI_VERSION="3.1.0",
        API_SPEC_OPTIONS={
            "info": {"description": _DESCRIPTION, "license": {"name": "MIT", "identifier": "MIT"}},
            "servers": [{"url": "/"}],
            "security": [{"token": []}],
        },
    )
    specification = _Specification(app)
    scheme = {"type": "http", "scheme": "bearer", "description": "The text of a token."}
    specification.spec.components.security_scheme("token", scheme)
    return specification


def _described(subject: Blueprint) -> _Described:
    blueprint = _Described(subject.name, __name__, description=subject.description)
    for one in subject.operations:
        view = one.view
        for note in one.notes:
            view = note(blueprint)(view)
        named = blueprint.doc(operationId=one.view.__name__)(view)
        blueprint.route(one.path, methods=[one.method])(named)
    return blueprint


def _give_samples(part: Any) -> None:
    """Give texts of a strict form a sample; a page that makes up its own shows nonsense."""
    for one in part.values() if isinstance(part, dict) else part:
        if isinstance(one, dict | list):
            _give_samples(one)
    if isinstance(part, dict) and "examples" not in part:
        fitting = (sample for key, form, sample in _SAMPLES if form in str(part.get(key, "")))
        sample = next(fitting, None)
        if sample is not None:
            part["examples"] = [sample]
