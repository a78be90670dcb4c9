"""Routes that anybody may read: the specification, its pages, the list of problems, health.

The pages show the specification with files of an installed package, served from here, so that
they work without a network; their own content-security policy lets them do that and no more.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from http import HTTPStatus
from importlib.resources import files
from pathlib import Path
from threading import Lock
from typing import Any

import flask
from flask import Flask, Response, abort, redirect
from werkzeug import Response as WerkzeugResponse

from api.contract.answers import json_answer, json_bytes
from api.contract.blueprint import Blueprint
from api.contract.problems import PROBLEM_PATH, PROBLEMS, phrase_code
from api.contract.services import services

SPECIFICATION_PATH = "/v1/openapi.json"
DOCS_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
SHOWN_FILES = {
    "swagger-ui-bundle.js": "text/javascript",
    "swagger-ui.css": "text/css",
    "favicon-32x32.png": "image/png",
}

# Its styles: what is always empty takes room that a phone lacks, and buttons stand below the text.
_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Groundsill: the service</title>
<link rel="icon" type="image/png" href="/docs/favicon-32x32.png">
<link rel="stylesheet" href="/docs/swagger-ui.css">
<style>
.swagger-ui .response-col_links, .swagger-ui .servers-title, .swagger-ui .servers {
  display: none;
}
.swagger-ui .info { margin: 24px 0; }
.swagger-ui .scheme-container { margin: 0; padding: 12px 0; }
.swagger-ui .live-responses-table .microlight { padding-bottom: 56px !important; }
.swagger-ui .auth-container input { max-width: 100%; }
</style>
</head>
<body>
<main id="reference"><noscript>This page needs JavaScript; the same is in
<a href="/v1/openapi.json">/v1/openapi.json</a>.</noscript></main>
<script src="/docs/swagger-ui-bundle.js"></script>
<script src="/docs/reference.js"></script>
</body>
</html>
"""
# The package's own resolver works through the whole specification at each operation that is opened,
# which takes a second and more. Here all references lead to components, and none in a circle.
_SCRIPT = """const at = (whole, keys) => keys.reduce((part, key) => part?.[key], whole);
const resolved = (part, whole) => {
  if (Array.isArray(part)) return part.map((one) => resolved(one, whole));
  if (part === null || typeof part !== "object") return part;
  if (typeof part.$ref === "string")
    return { ...resolved(at(whole, part.$ref.split("/").slice(1)), whole), $$ref: part.$ref };
  return Object.fromEntries(Object.entries(part).map(([key, one]) => [key, resolved(one, whole)]));
};
const resolveSubtree = async (whole, keys) => {
  const part = resolved(at(whole, keys), whole);
  const shared = keys.length === 3 && keys[0] === "paths" && whole.paths[keys[1]].parameters;
  if (shared) part.parameters = [...(part.parameters ?? []), ...shared];
  return { spec: part, errors: [] };
};
SwaggerUIBundle({
  url: "/v1/openapi.json", dom_id: "#reference", deepLinking: true, validatorUrl: null,
  defaultModelsExpandDepth: 0, presets: [SwaggerUIBundle.presets.apis], layout: "BaseLayout",
  plugins: [{ fn: { resolveSubtree } }],
});
"""
open_routes = flask.Blueprint("open", __name__)


def serve_specification(app: Flask, subjects: Iterable[Blueprint]) -> None:
    """Make the specification of an application one of the open routes, written out once."""
    content: list[bytes] = []
    writing = Lock()

    def openapi() -> Response:
        from api.contract.specification import specification_json

        with writing:
            if not content:
                content.append(json_bytes(specification_json(subjects)))
        return Response(content[0], content_type="application/json")

    app.add_url_rule(SPECIFICATION_PATH, "open.openapi", openapi)


@open_routes.get("/")
def front_door() -> WerkzeugResponse:
    """Lead to the page that shows what is here."""
    return redirect("/docs")


@open_routes.get("/docs")
def reference() -> Response:
    """Return the page that shows the specification."""
    return _shown(_PAGE, "text/html")


@open_routes.get("/docs/reference.js")
def reference_script() -> Response:
    """Return the script that starts the page."""
    return _shown(_SCRIPT, "text/javascript")


@open_routes.get("/docs/<name>")
def reference_file(name: str) -> Response:
    """Return a file of the installed package that shows specifications."""
    if name not in SHOWN_FILES:
        abort(404)
    answer = _shown(_file(name), SHOWN_FILES[name])
    answer.headers["Cache-Control"] = "public, max-age=86400"
    return answer


@cache
def _file(name: str) -> bytes:
    return Path(str(files("flask_swagger_ui"))).joinpath("dist", name).read_bytes()


def _shown(content: str | bytes, kind: str) -> Response:
    text_kind = f"{kind}; charset=utf-8" if kind.startswith("text/") else kind
    return Response(
        content, content_type=text_kind, headers={"Content-Security-Policy": DOCS_POLICY}
    )


@open_routes.get(PROBLEM_PATH)
def problems() -> Response:
    """List every kind of problem, by code."""
    return json_answer({"problems": sorted(_kinds().values(), key=lambda one: str(one["code"]))})


@open_routes.get(f"{PROBLEM_PATH}/<code>")
def problem(code: str) -> Response:
    """Show what a problem type means; its address is the type."""
    if code not in _kinds():
        abort(404)
    return json_answer(_kinds()[code])


@cache
def _kinds() -> dict[str, dict[str, Any]]:
    kinds = [
        (phrase_code(one.phrase), one.phrase, one.value, one.description or one.phrase)
        for one in HTTPStatus
        if one >= HTTPStatus.BAD_REQUEST
    ] + [
        (error.code, one.title, one.status, (error.__doc__ or "").partition("\n")[0])
        for error, one in PROBLEMS.items()
    ]
    return {
        kind[0]: dict(zip(("code", "title", "status", "meaning"), kind, strict=True))
        for kind in kinds
    }


@open_routes.get("/health/live")
def live() -> Response:
    """Check that the service is running."""
    return json_answer({"status": "live"})


@open_routes.get("/health/ready")
def ready() -> Response:
    """Check that the database can be read and is up to date."""
    services().store.check()
    return json_answer({"status": "ready"})
