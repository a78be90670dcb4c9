"""What is found out of a stored estimate is what the library finds, and is kept."""

from __future__ import annotations

import json

import pytest

from api.store.verify import verify
from tests.api.estimates.made import PITS, QUOTES, SAMPLE, keep_project, path_of, priced
from tests.api.service import new_key
from tests.commands.running import groundsill


@pytest.fixture
def estimate(service):
    return path_of(priced(service, keep_project(service)))


def studied(service, estimate, kind, **body):
    return service.post(f"{estimate}/{kind}", body, headers=new_key())


def test_a_comparison_is_that_of_the_command_and_is_stored(service, estimate, tmp_path):
    scope = tmp_path / "scope.yaml"
    scope.write_text(PITS)
    made = studied(service, estimate, "comparisons", item="30.020", day_worth="250.00")
    assert made.status_code == 201, made.text
    arguments = [str(scope), "--item", "30.020", "--day-worth", "$250/day", "--json"]
    assert made.json["result"] == json.loads(groundsill("compare", *arguments).out)
    assert made.json["body"] == {"item": "30.020", "day_worth": "250.00", "vary": []}
    assert service.get(path_of(made)).json == made.json
    verify(service.store)


def test_what_now_is_that_of_the_command(service, estimate, tmp_path):
    scope = tmp_path / "scope.yaml"
    scope.write_text(PITS)
    body = {"quantity": "38 ton; 46 ton; 42 ton", "by": "skid", "switch": "300.00"}
    made = studied(service, estimate, "comparisons", item="30.020", placed=body)
    assert made.status_code == 201, made.text
    arguments = [str(scope), "--item", "30.020", "--placed", body["quantity"], "--by", "skid",
                 "--switch", "$300", "--json"]  # fmt: skip
    assert made.json["result"] == json.loads(groundsill("compare", *arguments).out)
    assert made.json["body"]["placed"] == body


def test_a_sum_without_days_is_a_fault_of_the_body(service, estimate):
    body = {"quantity": "40 ton", "by": "skid"}
    answer = studied(service, estimate, "comparisons", item="30.020", placed=body)
    assert answer.status_code == 422
    assert "one sum without its days" in answer.text


def test_how_sure_an_estimate_is_comes_out_as_the_command_has_it(embedded):
    estimate = path_of(priced(embedded, keep_project(embedded, SAMPLE.read_bytes(), QUOTES)))
    made = studied(embedded, estimate, "ranges", confidence="0.9", seed=7)
    assert made.status_code == 201, made.text
    arguments = [str(SAMPLE), "--risk", "--confidence", "0.9", "--seed", "7", "--json"]
    shown = json.loads(groundsill("price", *arguments).out)
    assert made.json["result"] == shown["risk"]
    assert embedded.get(path_of(made)).json == made.json


def test_studies_are_listed_newest_first_each_kind_by_itself(service, estimate):
    for seed in (1, 2, 3):
        studied(service, estimate, "ranges", seed=seed, iterations=200)
    studied(service, estimate, "comparisons", item="30.020")
    first = service.get(f"{estimate}/ranges?limit=2").json
    assert [one["body"]["seed"] for one in first["studies"]] == [3, 2]
    assert "result" not in first["studies"][0]
    second = service.get(f"{estimate}/ranges?limit=2&cursor={first['next']}").json
    assert [one["number"] for one in second["studies"]] == [1]
    compared = service.get(f"{estimate}/comparisons").json["studies"]
    assert [one["number"] for one in compared] == [1]
    assert service.get(f"{estimate}/ranges/{compared[0]['id']}").status_code == 404


@pytest.mark.parametrize(
    ("kind", "body", "code"),
    [
        ("comparisons", {"item": "30.010"}, "methods-faulty"),
        ("comparisons", {"item": "99.010"}, "scope-faulty"),
        ("comparisons", {}, "fields-faulty"),
        ("ranges", {"confidence": "1"}, "range-faulty"),
        ("ranges", {"confidence": 0.8}, "fields-faulty"),
    ],
)
def test_what_cannot_be_found_out_is_refused_and_not_stored(service, estimate, kind, body, code):
    answer = studied(service, estimate, kind, **body)
    assert (answer.status_code, answer.json["code"]) == (422, code)
    assert service.get(f"{estimate}/{kind}").json["studies"] == []
