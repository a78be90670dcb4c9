"""Routes with their shapes: what each takes, asks and answers, in code and specification.

Reads bodies with the strict reader, refuses unknown parameters, and tells every fault with its
place. What only the specification says is noted, and made when somebody reads the specification.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import wraps
from typing import TYPE_CHECKING, Any, TypeVar, cast

import flask
import marshmallow as ma
from flask import current_app

from api.contract.bodies import json_body
from api.contract.commands import reader_of, schema_of
from api.contract.errors import FieldsFaulty
from api.contract.places import parameter
from api.contract.schemas import Schema, faults_of
from api.contract.services import this_request
from estimator.errors import Faults

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Route = TypeVar("Route", bound=Callable[..., Any])
# Given the blueprint that describes, a note returns what decorates the route there.
Note = Callable[[Any], Callable[[Any], Any]]

_HAS_QUERY = "_has_query"
_NOTES = "_notes"

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
_IF_WHOLE_MATCH_PARAMETER = {
    **IF_MATCH_PARAMETER,
    "schema": {"type": "string", "pattern": '^"[0-9a-f]{32}"$'},
    "example": f'"{0x1906:032x}"',
}
FILE_SCHEMA = {"type": "string", "format": "binary"}
TAG_HEADER = {"ETag": {"description": "The version, for If-Match.", "schema": {"type": "string"}}}


def check_query() -> None:
    """Refuse query parameters where a route of the service knows none.

    Raises
    ------
    FieldsFaulty
        Naming each of them.
    """
    here = this_request()
    if not here.query_string or here.url_rule is None or not here.url_rule.rule.startswith("/v1/"):
        return
    if hasattr(current_app.view_functions.get(here.endpoint or ""), _HAS_QUERY):
        return
    faults = Faults()
    for name in here.args:
        faults.add(parameter(name), "is not a field", "this route takes no query parameters")
    faults.raise_if_any(FieldsFaulty)


@dataclass(frozen=True)
class Operation:
    """A route, and what the specification says of it.

    Parameters
    ----------
    path, method : str
        As the map of routes has them.
    view : callable
        What answers.
    notes : sequence of Note
        What is said of it, from the inmost to the outermost.
    """

    path: str
    method: str
    view: Callable[..., Any]
    notes: Iterable[Note]


class Blueprint(flask.Blueprint):
    """The routes of one subject.

    Parameters
    ----------
    name, import_name : str
        As Flask takes them.
    description : str
        What the specification says of the subject.
    """

    def __init__(self, name: str, import_name: str, *, description: str) -> None:
        super().__init__(name, import_name)
        self.description = description
        self.operations: list[Operation] = []

    def takes(
        self, command: type[DataclassInstance], example: Any = None
    ) -> Callable[[Route], Route]:
        """Read the body, and hand it to the route as its first argument."""

        def mark(route: Route) -> Route:
            taking = _reading(route, lambda: _loaded(reader_of(command), json_body(), "json"))
            return _noted(taking, lambda one: one.arguments(schema_of(command), example=example))

        return mark

    def asks(self, command: type[DataclassInstance]) -> Callable[[Route], Route]:
        """Read the query parameters, and hand them to the route as its first argument."""

        def mark(route: Route) -> Route:
            asking = _reading(route, lambda: _loaded(reader_of(command), _query(), "query"))
            setattr(asking, _HAS_QUERY, True)
            return _noted(asking, lambda one: one.arguments(schema_of(command), location="query"))

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
        shown = {"example": example, "content_type": content_type, "headers": headers}
        return lambda route: _noted(route, lambda one: one.response(status, schema, **shown))

    def creates(self, route: Route) -> Route:
        """Tell that the route creates something, and so needs an idempotency key."""
        return _noted(route, lambda one: one.header(KEY_PARAMETER))

    def changes(self, route: Route) -> Route:
        """Tell that the route changes something that has versions, and so needs `If-Match`."""
        return _noted(route, lambda one: one.header(IF_MATCH_PARAMETER))

    def changes_whole(self, route: Route) -> Route:
        """Tell that the route changes something of several rows, whose tag is no number."""
        return _noted(route, lambda one: one.header(_IF_WHOLE_MATCH_PARAMETER))

    def takes_file(self, types: Iterable[str]) -> Callable[[Route], Route]:
        """Tell that the body is a file of one of these kinds."""
        body = {"required": True, "content": {one: {"schema": FILE_SCHEMA} for one in types}}
        return lambda route: _noted(route, lambda one: one.doc(requestBody=body))

    def route(self, rule: str, **options: Any) -> Callable[[Route], Route]:
        """Make a route of one method, as `get`, `post`, `patch`, `put` and `delete` do."""
        (method,) = options["methods"]

        def add(view: Route) -> Route:
            self.operations.append(Operation(rule, method, view, getattr(view, _NOTES, ())))
            return super(Blueprint, self).route(rule, **options)(view)

        return add


def _noted(route: Route, note: Note) -> Route:
    """Add to what the specification says of a route."""
    setattr(route, _NOTES, (*getattr(route, _NOTES, ()), note))
    return route


def _reading(route: Route, read: Callable[[], Any]) -> Route:
    """Return a route that is handed what it reads from its request."""

    @wraps(route)
    def reading(*before: Any, **values: Any) -> Any:
        return route(*before, read(), **values)

    return cast("Route", reading)


def _loaded(reader: Schema, fields: Any, location: str) -> Any:
    try:
        return reader.load(fields)
    except ma.ValidationError as error:
        raise FieldsFaulty(faults_of(error.messages, reader, location)) from None


def _query() -> dict[str, str]:
    """Return the query, in which nothing may be said twice."""
    sent, faults = this_request().args, Faults()
    for name in sent:
        if len(sent.getlist(name)) > 1:
            faults.add(parameter(name), "is given more than once", "give it once")
    faults.raise_if_any(FieldsFaulty)
    return sent.to_dict()
