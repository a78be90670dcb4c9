"""The specification is valid, its examples are true, and the service keeps to it (promise 10)."""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass, field
from typing import Any

import pytest
import schemathesis
from openapi_spec_validator import OpenAPIV31SpecValidator
from schemathesis import hooks
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import from_schema
from schemathesis.engine.events import FatalError, NonFatalError, ScenarioFinished
from schemathesis.generation.meta import TestPhase

from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.bodies import JSON_TYPE
from api.store.engine import read_url
from api.store.store import open_store
from api.subjects import ALLOWED
from tests.api.figures import figure
from tests.api.live import Live
from tests.api.moving import Moving
from tests.api.service import Service, new_key
from tests.api.world import World, over, through

CASES, LEAST_CASES = figure(3, 60), figure(500, 2_000)
LEAST_DONE = 0.7  # of the operations
EACH = figure(4, 1)  # of the paths, one in so many has each of its fields tried at its edges


@pytest.fixture(scope="module")
def specification(moving_sqlite_account, tmp_path_factory) -> dict[str, Any]:
    """What the service says of itself, to be read only."""
    moving = moving_sqlite_account
    store = moving.at(moving.first)
    service = Service(store, tmp_path_factory.mktemp("specification"), own=moving.account)
    said = service.get("/v1/openapi.json", role="").json
    store.close()
    return said


def operations(specification):
    for path, found in specification["paths"].items():
        for method, operation in found.items():
            if method in ("get", "post", "patch", "put", "delete"):
                yield path, method.upper(), operation


def test_the_specification_is_valid(specification):
    assert specification["openapi"] == "3.1.0"
    OpenAPIV31SpecValidator(specification).validate()


def test_every_guarded_route_is_in_it_and_asks_for_a_token(specification):
    told = {f"{method} {path}" for path, method, _ in operations(specification)}
    in_table = {_in_braces(route) for route in ALLOWED}
    assert told == in_table
    assert specification["security"] == [{"token": []}]
    assert specification["components"]["securitySchemes"]["token"]["scheme"] == "bearer"


def test_every_operation_has_a_name_a_sentence_and_a_problem(specification):
    found = list(operations(specification))
    names = [operation["operationId"] for _, _, operation in found]
    assert len(set(names)) == len(names)
    for _, _, operation in found:
        assert operation["summary"].endswith(".")
        assert operation["responses"]["default"] == {"$ref": "#/components/responses/DEFAULT_ERROR"}
    problem = specification["components"]["responses"]["DEFAULT_ERROR"]
    assert list(problem["content"]) == ["application/problem+json"]


# Posts that change a version, and changes that name the version of each row in the body, or of
# what has none.
ALSO_CHANGES = {"revoke", "publish_version"}
NAMES_VERSIONS_ITSELF = {"order_phases", "order_items", "end_share"}


def parameters_of(operation):
    return [one["name"] for one in operation.get("parameters", []) if "name" in one]


def test_every_change_asks_for_its_version(specification):
    for _, method, operation in operations(specification):
        name = operation["operationId"]
        is_change = method in ("PATCH", "PUT", "DELETE") or name in ALSO_CHANGES
        asks = "If-Match" in parameters_of(operation)
        assert (name, asks) == (name, is_change and name not in NAMES_VERSIONS_ITSELF)


def test_what_is_created_by_a_query_tells_its_parameters_beside_the_key(specification):
    paths = specification["paths"]
    for path, names in (
        ("documents", {"name", "entry", "spot", "code", "taken", "note"}),
        ("books/imports", {"replace"}),
    ):
        told = parameters_of(paths[f"/v1/projects/{{project_id}}/{path}"]["post"])
        assert set(told) == {"Idempotency-Key"} | names


def test_everything_that_is_created_asks_for_a_key(specification):
    for path, method, operation in operations(specification):
        creates = method == "POST" and "201" in operation["responses"]
        asks = "Idempotency-Key" in parameters_of(operation)
        assert (path, method, asks) == (path, method, creates)


@pytest.fixture(scope="module")
def inhabited(sqlite_template, tmp_path_factory):
    """A moving store of an account that has one of everything, the account and its world."""
    folder = tmp_path_factory.mktemp("inhabited")
    file = folder / "inhabited.sqlite3"
    shutil.copy(sqlite_template, file)
    store = open_store(f"sqlite:///{file}")
    service = Service(store, folder)
    world = World(through(service, service.tokens["owner"])).make()
    store.close()
    return Moving(f"sqlite:///{file}"), service.own, world


@pytest.fixture
def copied(inhabited, tmp_path):
    """The service on a copy of that database."""
    moving, own, _ = inhabited
    file = shutil.copy(read_url(moving.first).database, tmp_path)
    store = moving.at(f"sqlite:///{file}")
    yield Service(store, tmp_path, own=own)
    store.close()


TAKE_BODIES = [one for one in sorted(ALLOWED) if one.startswith(("POST", "PUT", "PATCH"))]


@pytest.mark.parametrize("route", TAKE_BODIES)
def test_every_body_has_an_example_that_runs(inhabited, copied, specification, route):
    """Each on a world of its own, with the ids of the example put in their place."""
    service, (_, _, world) = copied, inhabited
    method, path = route.split(" ", 1)
    told = specification["paths"][_in_braces(path)][method.lower()]
    content = told.get("requestBody", {}).get("content", {})
    if "requestBody" in told and JSON_TYPE not in content:
        return
    method, path = world.filled(route)
    body = world.body_of(content[JSON_TYPE]["example"]) if content else None
    if route.endswith("/versions"):  # of which one may be a draft
        draft = f"{path}/{world.ids['draft_id']}"
        version = service.get(draft).headers["ETag"]
        service.send("DELETE", draft, headers={"If-Match": version})
    of = path.removesuffix("/publication")
    read = service.get(of)
    sent = new_key() | {"If-Match": read.headers.get("ETag", '"1"')}
    answer = service.send(method, path, body, headers=sent)
    assert answer.status_code in (200, 201), answer.text
    shown = told["responses"][str(answer.status_code)]["content"]
    example = next(iter(shown.values())).get("example")
    if example is not None:
        assert answer.json == example


def test_money_and_quantities_are_texts_everywhere(specification):
    schemas = specification["components"]["schemas"]
    numbers = [
        (name, field)
        for name, schema in schemas.items()
        for field, told in schema.get("properties", {}).items()
        if told.get("type") == "number"
    ]
    assert numbers == []


# What fits its shape may still be wrong as a job, so the library's refusals are no breach.
AS_A_JOB = [200, 201, 204, 404, 409, 412, 413, 422]
NOT_AS_JSON = [*AS_A_JOB, 400]
LOOSE_PATHS = (
    "^/v1/(audit-trail|tokens|assemblies|resources|projects.*|rate-sets.*|"
    "calculations/(estimate.*|risk|comparison))$"
)


@schemathesis.serializer(WORKBOOK_TYPE)
def some_bytes(_context: Any, value: Any) -> bytes:
    """Send whatever is generated as if it were a workbook."""
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


def _in_braces(route: str) -> str:
    return re.sub("<(?:uuid:)?(.+?)>", r"{\1}", route)


def configuration(token: str, ids: dict[str, str], phases: dict[str, Any]) -> SchemathesisConfig:
    """Return how requests are generated, and what may come back.

    Parameters
    ----------
    token : str
        The owner's.
    ids : dict of str to str
        What stands in paths; what is left out is generated. A path that is fixed does not lead to
        what was just created, so that check makes sense only where none is.
    phases : dict
        Which kinds of requests are not generated.
    """
    checks = {
        "positive_data_acceptance": {"expected-statuses": AS_A_JOB},
        "negative_data_rejection": {
            "expected-statuses": [400, 401, 404, 409, 412, 414, 415, 422, 428]
        },
        "missing_required_header": {"expected-statuses": [400, 401, 415, 428]},
        "ensure_resource_availability": {"enabled": not ids},
    }
    paths = sorted({_in_braces(route.split(" ", 1)[1]) for route in ALLOWED})
    without_edges = {
        "include-path": [one for place, one in enumerate(paths) if place % EACH],
        "phases": {"coverage": {"enabled": False}},
    }
    loose = {
        "include-path-regex": LOOSE_PATHS,  # cursors, and numbers within a scope
        "checks": {"positive_data_acceptance": {"expected-statuses": NOT_AS_JSON}},
    }
    return SchemathesisConfig.from_dict(
        {
            "seed": 1906,
            "parameters": {f"path.{name}": key for name, key in ids.items()},
            "continue-on-failure": True,
            "headers": {"Authorization": f"Bearer {token}"},
            "generation": {"max-examples": CASES},
            "checks": checks,
            "phases": phases,
            "operations": [loose, *([without_edges] if EACH > 1 else [])],
        }
    )


@dataclass
class Outcome:
    """What came of generated requests."""

    tried: int = 0
    breaches: dict[tuple[str, str], str] = field(default_factory=dict)
    statuses: dict[str, set[int]] = field(default_factory=dict)  # by operation, its method only

    @property
    def done(self) -> list[str]:
        """The operations that did at least once what they are for."""
        return [name for name, seen in self.statuses.items() if any(200 <= n < 300 for n in seen)]


def outcome_of(schema: Any) -> Outcome:
    """Send what is generated from a schema, and return what came of it."""
    outcome = Outcome()
    for event in from_schema(schema).execute():
        if isinstance(event, ScenarioFinished):
            _note(outcome, event.label or "", event.recorder)
        elif isinstance(event, NonFatalError | FatalError):
            outcome.breaches[str(event), ""] = repr(vars(event))[:2_000]
    return outcome


def _note(outcome: Outcome, operation: str, recorder: Any) -> None:
    outcome.tried += len(recorder.interactions)
    for one in recorder.interactions.values():
        if one.response is not None and operation.startswith(f"{one.request.method} "):
            outcome.statuses.setdefault(operation, set()).add(one.response.status_code)
    for checks in recorder.checks.values():
        for one in checks:
            if one.failure_info is not None:
                told = f"{one.failure_info.failure}\n{one.failure_info.code_sample}"
                outcome.breaches.setdefault((operation, one.name), told[:2_000])


def schema_of(live: Live, ids: dict[str, str], **phases: Any) -> Any:
    return schemathesis.openapi.from_url(
        f"{live.url}/v1/openapi.json", config=configuration(live.token, ids, phases)
    )


@pytest.fixture
def _no_proxy(monkeypatch):
    """Nothing stands before the service; else each request looks through the environment."""
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")


@pytest.mark.usefixtures("_no_proxy")
def test_the_service_keeps_to_its_specification_with_ids_and_tags_that_are_there(live, measured):
    """The examples of the specification are sent with real ids and tags, and do what they say."""
    world = World(over(live)).make()
    # Links lead to what was just created, which ids that are fixed do not.
    schema = schema_of(live, world.ids_for("GET"), stateful={"enabled": False})

    @schemathesis.hook
    def before_call(_context: Any, case: Any, _options: Any) -> None:
        if case.meta is None or case.meta.phase.name != TestPhase.EXAMPLES:
            return
        if "version_id" in case.path_parameters and case.method != "GET":
            case.path_parameters["version_id"] = world.ids["draft_id"]
        ids = world.ids_for(f"{case.method} {case.path}")
        for name in {"project_id", "draw_id"} & case.path_parameters.keys():
            case.path_parameters[name] = ids[name]
        if isinstance(case.body, dict | list):
            case.body = world.body_of(case.body)
        if "Idempotency-Key" in case.headers:
            case.headers.update(new_key())
        if "If-Match" in case.headers and "/publication" not in case.path:  # drafts are needed
            path = re.sub("(/|-)(revocation|workbook|file)$", "", case.formatted_path)
            case.headers["If-Match"] = live.ask("GET", path).headers["ETag"] or '"1"'

    try:
        outcome = outcome_of(schema)
    finally:
        hooks.unregister(before_call)
    done, known = len(outcome.done), len(outcome.statuses)
    measured(f"{outcome.tried:,} generated requests; {done} of {known} operations answered 2xx")
    assert outcome.breaches == {}
    assert outcome.tried >= LEAST_CASES
    assert known == len(ALLOWED)
    assert done / known >= LEAST_DONE


@pytest.mark.usefixtures("_no_proxy")
def test_the_service_keeps_to_its_specification_with_ids_of_what_is_not_there(live):
    """Fields at the edge of what is allowed are tried with ids that are there."""
    outcome = outcome_of(schema_of(live, {}, coverage={"enabled": False}))
    assert outcome.breaches == {}
    assert outcome.tried >= len(ALLOWED) * CASES
