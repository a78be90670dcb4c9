"""The specification: OpenAPI 3.1 at `/v1/openapi.json`, made from the routes themselves."""

from __future__ import annotations

from importlib.metadata import version
from typing import Any

import flask_smorest
import marshmallow as ma
from flask import Flask

from api.contract.fields import Whole
from api.contract.problems import PROBLEM_TYPE

SPECIFICATION_PATH = "/v1/openapi.json"

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

Money, quantities and rates are texts of decimal digits; a name carries its unit. Errors are \
problem details (RFC 9457), with one entry for each faulty field. What is editable has a version \
in `ETag`, which a change sends back in `If-Match`. What creates something takes an \
`Idempotency-Key`. Lists come in pages: send `next` back as `cursor`."""


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
    where = ma.fields.String(metadata={"description": "Place within that, in words."})
    what = ma.fields.String(required=True, metadata={"description": "What is wrong."})
    remedy = ma.fields.String(metadata={"description": "How to correct it."})


class ProblemSchema(ma.Schema):
    """A problem, as RFC 9457 has it, with a stable code and one entry for each fault."""

    type = ma.fields.String(required=True, metadata={"format": "uri-reference"})
    title = ma.fields.String(required=True)
    status = Whole(100, 599, required=True)
    detail = ma.fields.String(required=True)
    code = ma.fields.String(required=True, metadata={"description": "Stable."})
    request_id = ma.fields.String(required=True)
    errors = ma.fields.List(ma.fields.Nested(EntrySchema))


class Specification(flask_smorest.Api):  # type: ignore[misc]
    """Collects the routes; answers errors as problems, which it describes here only."""

    ERROR_SCHEMA = ProblemSchema

    def __init__(self, app: Flask) -> None:
        self._undescribed: list[flask_smorest.Blueprint] = []
        super().__init__(app)

    def register_blueprint(self, blp: flask_smorest.Blueprint) -> None:
        """Register the routes of a blueprint; they are described when somebody asks for that."""
        self._app.extensions["flask-smorest"]["blp_name_to_api"][blp.name] = self
        self._app.register_blueprint(blp)
        self._undescribed.append(blp)

    def describe(self) -> None:
        """Describe the routes that are not yet described, which takes 2 MB."""
        for blp in self._undescribed:
            blp.register_views_in_doc(self, self._app, self.spec, name=blp.name, parameters=None)
            self.spec.tag({"name": blp.name, "description": blp.description})
        self._undescribed.clear()

    def _register_error_handlers(self) -> None:
        """Leave errors to `register_problems`."""

    def _register_responses(self) -> None:
        schema = {"schema": ProblemSchema}
        for name in ("DEFAULT_ERROR", "UNPROCESSABLE_ENTITY", "UNPROCESSABLE_CONTENT"):
            content = {PROBLEM_TYPE: {**schema, "example": _PROBLEM}}
            response = {"description": "A problem.", "content": content}
            self.spec.components.response(name, response, lazy=True)


def make_specification(app: Flask) -> Specification:
    """Return the specification of an application, to register its blueprints with."""
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
    specification = Specification(app)
    scheme = {"type": "http", "scheme": "bearer", "description": "The text of a token."}
    specification.spec.components.security_scheme("token", scheme)
    return specification


def specification_json(specification: Specification) -> dict[str, Any]:
    """Return the specification as plain dictionaries, ready to be read by people too."""
    specification.describe()
    fields: dict[str, Any] = specification.spec.to_dict()
    for methods in fields["paths"].values():
        for operation in methods.values():
            if "summary" in operation:  # which is plain text, other than the line it comes from
                operation["summary"] = operation["summary"].replace("`", "'")
    _give_samples(fields)
    return fields


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
