"""Routes with their shapes: what each takes, asks and answers, in code and specification.

Reads bodies with the strict reader, refuses unknown parameters, and tells every fault with its
place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from copy import deepcopy
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar, cast

import flask_smorest
import marshmallow as ma
from flask import Request, current_app
from webargs.flaskparser import FlaskParser

from api.contract.bodies import json_body
from api.contract.commands import schema_of
from api.contract.errors import FieldsFaulty
from api.contract.places import parameter
from api.contract.schemas import faults_of
from api.contract.services import this_request
from estimator.errors import Faults

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Route = TypeVar("Route", bound=Callable[..., Any])

_HAS_QUERY = "_has_query"

KEY_PARAMETER = {
    "name": "Idempotency-Key",
    "in": "header",
    "required": True,
    "description": "Chosen by the client, a new one for each thing to create; kept for a day.",
    "schema": {"type": "string", "minLength": 1, "maxLength": 255, "pattern": "^[!-~]+$"},
}
IF_MATCH_PARAMETER = {
    "name": "If-Match",
    "in": "header",
    "required": True,
    "description": "The ETag of the version that is changed.",
    "schema": {"type": "string", "pattern": '^"[1-9][0-9]{0,9}"$'},
    "example": '"1"',
}
FILE_SCHEMA = {"type": "string", "format": "binary"}
TAG_HEADER = {"ETag": {"description": "The version, for If-Match.", "schema": {"type": "string"}}}


class _StrictParser(FlaskParser):
    """Reads with our own reader, and raises our own errors."""

    DEFAULT_UNKNOWN_BY_LOCATION: dict[str, str | None] = {  # noqa: RUF012
        "json": None,
        "query": ma.RAISE,
    }

    def load_json(self, req: Request, schema: ma.Schema) -> Any:  # noqa: ARG002
        return json_body()

    def load_querystring(self, req: Request, schema: ma.Schema) -> Any:
        """Read the query, in which nothing may be said twice."""
        faults = Faults()
        for name in req.args:
            if len(req.args.getlist(name)) > 1:
                faults.add(parameter(name), "is given more than once", "give it once")
        faults.raise_if_any(FieldsFaulty)
        return super().load_querystring(req, schema)

    def handle_error(
        self,
        error: ma.ValidationError,
        req: Request,  # noqa: ARG002
        schema: ma.Schema,
        **_: Any,
    ) -> NoReturn:
        messages = cast("Mapping[str, Any]", error.messages)
        location = next(iter(messages))
        raise FieldsFaulty(faults_of(messages[location], schema, location)) from None


def check_query() -> None:
    """Refuse query parameters where a route of the service knows none.

    Raises
    ------
    FieldsFaulty
        Naming each of them.
    """
    here = this_request()
    view = current_app.view_functions.get(here.endpoint or "")
    is_ours = here.url_rule is not None and here.url_rule.rule.startswith("/v1/")
    if not here.query_string or not is_ours or hasattr(view, _HAS_QUERY):
        return
    faults = Faults()
    for name in here.args:
        faults.add(parameter(name), "is not a field", "this route takes no query parameters")
    faults.raise_if_any(FieldsFaulty)


def _with_header(route: Route, header: Mapping[str, Any]) -> Route:
    """Tell of a header in the list of parameters, where `doc` would take the place of the query."""
    told: dict[str, Any] = deepcopy(getattr(route, "_apidoc", {}))
    told.setdefault("arguments", {}).setdefault("parameters", []).append(dict(header))
    setattr(route, "_apidoc", told)  # noqa: B010 (a function has no such attribute)
    return route


class Blueprint(flask_smorest.Blueprint):  # type: ignore[misc]
    """The routes of one subject."""

    ARGUMENTS_PARSER = _StrictParser()

    def get(self, path: str, **options: Any) -> Callable[[Route], Route]:
        """Make a route that reads."""
        return self._at(path, "GET", options)

    def post(self, path: str, **options: Any) -> Callable[[Route], Route]:
        """Make a route that works something out, or creates it."""
        return self._at(path, "POST", options)

    def patch(self, path: str, **options: Any) -> Callable[[Route], Route]:
        """Make a route that changes some fields."""
        return self._at(path, "PATCH", options)

    def put(self, path: str, **options: Any) -> Callable[[Route], Route]:
        """Make a route that puts something in the place of what is there."""
        return self._at(path, "PUT", options)

    def delete(self, path: str, **options: Any) -> Callable[[Route], Route]:
        """Make a route that takes something away."""
        return self._at(path, "DELETE", options)

    def takes(
        self, command: type[DataclassInstance], example: Any = None
    ) -> Callable[[Route], Route]:
        """Read the body, and hand it to the route as its first argument."""
        return cast("Callable[[Route], Route]", self.arguments(schema_of(command), example=example))

    def asks(self, command: type[DataclassInstance]) -> Callable[[Route], Route]:
        """Read the query parameters, and hand them to the route as its first argument."""

        def mark(route: Route) -> Route:
            setattr(route, _HAS_QUERY, True)
            return cast("Route", self.arguments(schema_of(command), location="query")(route))

        return mark

    def answers(
        self,
        schema: type[ma.Schema] | Mapping[str, Any] | None,
        status: int = 200,
        *,
        example: Any = None,
        content_type: str | None = None,
        headers: Mapping[str, Any] | None = None,
    ) -> Callable[[Route], Route]:
        """Tell what the route answers with when all is well."""
        return cast(
            "Callable[[Route], Route]",
            self.response(
                status, schema, example=example, content_type=content_type, headers=headers
            ),
        )

    def creates(self, route: Route) -> Route:
        """Tell that the route creates something, and so needs an idempotency key."""
        return _with_header(route, KEY_PARAMETER)

    def changes(self, route: Route) -> Route:
        """Tell that the route changes something that has versions, and so needs `If-Match`."""
        return _with_header(route, IF_MATCH_PARAMETER)

    def changes_whole(self, route: Route) -> Route:
        """Tell that the route changes something of several rows, whose tag is no number."""
        schema = {"type": "string", "pattern": '^"[0-9a-f]{32}"$'}
        header = {**IF_MATCH_PARAMETER, "schema": schema, "example": f'"{0x1906:032x}"'}
        return _with_header(route, header)

    def takes_file(self, types: Iterable[str]) -> Callable[[Route], Route]:
        """Tell that the body is a file of one of these kinds."""
        body = {"required": True, "content": {one: {"schema": FILE_SCHEMA} for one in types}}
        return cast("Callable[[Route], Route]", self.doc(requestBody=body))

    def _at(self, path: str, method: str, options: dict[str, Any]) -> Callable[[Route], Route]:
        def named(route: Route) -> Route:
            documented = self.doc(operationId=route.__name__)(route)
            self.route(path, methods=[method], **options)(documented)
            return route

        return named
