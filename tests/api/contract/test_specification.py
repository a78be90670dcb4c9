"""The specification is valid, its examples are true, and the service keeps to it (promise 10)."""

from __future__ import annotations

import re
import shutil
from typing import Any

import pytest
import schemathesis
from openapi_spec_validator import OpenAPIV31SpecValidator
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import from_schema
from schemathesis.engine.events import FatalError, NonFatalError, ScenarioFinished

from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.bodies import JSON_TYPE
from api.store.store import open_store
from api.subjects import ALLOWED
from tests.api.figures import figure
from tests.api.service import Service, new_key
from tests.api.world import World, over, through

CASES, LEAST_CASES = figure(3, 60), figure(500, 2_000)


@pytest.fixture
def specification(embedded) -> dict[str, Any]:
    return embedded.get("/v1/openapi.json", role="").json


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
    in_table = {re.sub("<(?:uuid:)?(.+?)>", r"{\1}", route) for route in ALLOWED}
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


def test_everything_that_is_created_asks_for_a_key(specification):
    for path, method, operation in operations(specification):
        creates = method == "POST" and "201" in operation["responses"]
        asks = "Idempotency-Key" in parameters_of(operation)
        assert (path, method, asks) == (path, method, creates)


@pytest.fixture(scope="session")
def inhabited(sqlite_template, tmp_path_factory):
    """A database file with an account that has one of everything, and that account's world."""
    folder = tmp_path_factory.mktemp("inhabited")
    file = folder / "inhabited.sqlite3"
    shutil.copy(sqlite_template, file)
    store = open_store(f"sqlite:///{file}")
    service = Service(store, folder)
    world = World(through(service, service.tokens["owner"])).make()
    store.close()
    return file, world, service.tokens


TAKE_BODIES = [one for one in sorted(ALLOWED) if one.startswith(("POST", "PUT", "PATCH"))]


@pytest.mark.parametrize("route", TAKE_BODIES)
def test_every_body_has_an_example_that_runs(inhabited, opened, tmp_path, specification, route):
    """Each on a world of its own, with the ids of the example put in their place."""
    file, world, tokens = inhabited
    shutil.copy(file, tmp_path / file.name)
    service = Service(opened(f"sqlite:///{tmp_path / file.name}"), tmp_path)
    method, path = route.split(" ", 1)
    told = specification["paths"][re.sub("<(?:uuid:)?(.+?)>", r"{\1}", path)][method.lower()]
    content = told.get("requestBody", {}).get("content", {})
    if "requestBody" in told and JSON_TYPE not in content:
        return
    method, path = world.filled(route)
    body = world.body_of(content[JSON_TYPE]["example"]) if content else None
    if route.endswith("/versions"):  # of which one may be a draft
        draft = f"{path}/{world.ids['draft_id']}"
        version = service.get(draft, token=tokens["owner"]).headers["ETag"]
        service.send("DELETE", draft, token=tokens["owner"], headers={"If-Match": version})
    of = path.removesuffix("/publication")
    read = service.get(of, token=tokens["owner"])
    sent = new_key() | {"If-Match": read.headers.get("ETag", '"1"')}
    answer = service.send(method, path, body, token=tokens["owner"], headers=sent)
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
    "^/v1/(tokens|assemblies|resources|projects.*|rate-sets.*|"
    "calculations/(estimate.*|risk|comparison))$"
)


@schemathesis.serializer(WORKBOOK_TYPE)
def some_bytes(_context: Any, value: Any) -> bytes:
    """Send whatever is generated as if it were a workbook."""
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


def configuration(token: str, ids: dict[str, str]) -> SchemathesisConfig:
    """Return how requests are generated, and what may come back.

    Parameters
    ----------
    token : str
        The owner's.
    ids : dict of str to str
        What stands in paths; what is left out is generated. A path that is fixed does not lead to
        what was just created, so that check makes sense only where none is.
    """
    checks = {
        "positive_data_acceptance": {"expected-statuses": AS_A_JOB},
        "negative_data_rejection": {
            "expected-statuses": [400, 401, 404, 409, 412, 414, 415, 422, 428]
        },
        "missing_required_header": {"expected-statuses": [400, 401, 415, 428]},
        "ensure_resource_availability": {"enabled": not ids},
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
            "operations": [loose],
        }
    )


def breaches(schema: Any) -> tuple[int, dict[tuple[str, str], str]]:
    """Return how many cases were tried, and what was found by operation and check."""
    tried, found = 0, {}
    for event in from_schema(schema).execute():
        if isinstance(event, ScenarioFinished):
            tried += len(event.recorder.interactions)
            for checks in event.recorder.checks.values():
                for one in checks:
                    if one.failure_info is not None:
                        told = f"{one.failure_info.failure}\n{one.failure_info.code_sample}"
                        found.setdefault((event.label or "", one.name), told[:2_000])
        elif isinstance(event, NonFatalError | FatalError):
            found[str(event), ""] = repr(vars(event))[:2_000]
    return tried, found


@pytest.mark.parametrize("is_there", [True, False], ids=["known paths", "any paths"])
def test_the_service_keeps_to_its_specification_whatever_is_sent(live, is_there):
    ids = World(over(live)).make().ids_for("GET") if is_there else {}
    schema = schemathesis.openapi.from_url(
        f"{live.url}/v1/openapi.json", config=configuration(live.token, ids)
    )
    tried, found = breaches(schema)
    assert found == {}
    assert tried >= LEAST_CASES
