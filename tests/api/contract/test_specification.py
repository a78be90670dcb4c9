"""The specification is valid, its examples are true, and the service keeps to it (promise 10)."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from openapi_spec_validator import OpenAPIV31SpecValidator
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import from_schema
from schemathesis.engine.events import FatalError, NonFatalError, ScenarioFinished

from api.access.roles import ALLOWED
from tests.api.service import new_key
from tests.api.store.made import figure

CASES, LEAST_CASES = figure(5, 150), figure(500, 2_000)


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
    in_table = {route.replace("<uuid:", "{").replace(">", "}") for route in ALLOWED}
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


def test_every_change_asks_for_its_version(specification):
    for _, method, operation in operations(specification):
        names = [one["name"] for one in operation.get("parameters", []) if "name" in one]
        assert ("If-Match" in names) == (method == "PATCH" or operation["operationId"] == "revoke")


def test_every_body_has_an_example_that_runs(embedded, specification):
    ran = 0
    for path, method, operation in operations(specification):
        for kind, content in operation.get("requestBody", {}).get("content", {}).items():
            if kind != "application/json":
                continue
            issued = embedded.issue()
            answer = embedded.send(
                method, path.replace("{token_id}", issued.json["id"]), content["example"],
                headers=new_key() | {"If-Match": '"1"'},
            )  # fmt: skip
            assert answer.status_code in (200, 201), answer.text
            told = operation["responses"][str(answer.status_code)]["content"]
            example = next(iter(told.values())).get("example")
            if example is not None:
                assert answer.json == example
            ran += 1
    assert ran >= 10


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
AS_A_JOB = [200, 201, 404, 412, 413, 422]
NOT_AS_JSON = [*AS_A_JOB, 400]
LOOSE_PATHS = "^/v1/(tokens|calculations/(estimate.*|risk|comparison))$"


def configuration(token: str) -> SchemathesisConfig:
    return SchemathesisConfig.from_dict(
        {
            "seed": 1906,
            "continue-on-failure": True,
            "headers": {"Authorization": f"Bearer {token}"},
            "generation": {"max-examples": CASES},
            "checks": {
                "positive_data_acceptance": {"expected-statuses": AS_A_JOB},
                "negative_data_rejection": {
                    "expected-statuses": [400, 401, 404, 412, 415, 422, 428]
                },
                "missing_required_header": {"expected-statuses": [400, 401, 428]},
            },
            "operations": [
                {
                    "include-path-regex": LOOSE_PATHS,  # cursors, and numbers within a scope
                    "checks": {"positive_data_acceptance": {"expected-statuses": NOT_AS_JSON}},
                }
            ],
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


def test_the_service_keeps_to_its_specification_whatever_is_sent(live):
    schema = schemathesis.openapi.from_url(
        f"{live.url}/v1/openapi.json", config=configuration(live.token)
    )
    tried, found = breaches(schema)
    assert found == {}
    assert tried >= LEAST_CASES
