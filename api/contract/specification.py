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

_DESCRIPTION = """Prices the restoration of an old building, phase by phase, with every figure \
explained.

Money, quantities and rates are texts of decimal digits; a name carries its unit. Errors are \
problem details (RFC 9457), with one entry for each faulty field. What is editable has a version \
in `ETag`, which a change sends back in `If-Match`. What creates something takes an \
`Idempotency-Key`. Lists come in pages: send `next` back as `cursor`."""


class EntrySchema(ma.Schema):
    """One fault of a request."""

    pointer = ma.fields.String(metadata={"description": "JSON pointer into the body (RFC 6901)."})
    parameter = ma.fields.String(metadata={"description": "Query parameter."})
    header = ma.fields.String(metadata={"description": "Header."})
    where = ma.fields.String(metadata={"description": "Place within that, in words."})
    what = ma.fields.String(required=True, metadata={"description": "What is wrong."})
    remedy = ma.fields.String(metadata={"description": "What would be right."})


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

    def _register_error_handlers(self) -> None:
        """Leave errors to `register_problems`."""

    def _register_responses(self) -> None:
        schema = {"schema": ProblemSchema}
        for name in ("DEFAULT_ERROR", "UNPROCESSABLE_ENTITY", "UNPROCESSABLE_CONTENT"):
            told = {"description": "A problem.", "content": {PROBLEM_TYPE: schema}}
            self.spec.components.response(name, told, lazy=True)


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


def told(specification: Specification) -> dict[str, Any]:
    """Return the specification as plain dictionaries."""
    fields: dict[str, Any] = specification.spec.to_dict()
    return fields
