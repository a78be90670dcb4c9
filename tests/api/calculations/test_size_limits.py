"""What would hold a worker for long is refused, with what would do instead."""

from __future__ import annotations

import json
from difflib import get_close_matches
from typing import Any

import pytest

from estimator import errors
from tests.api.service import new_key

AT = "/v1/calculations"
STONE: dict[str, Any] = {
    "name": "Stone fill, west pit",
    "assembly": "stone-fill-skid-steer",
    "inputs": {"length": "62 ft 6 in", "width": "22'-4\"", "depth": ["2 ft", "6 ft 3 in"]},
}
SCOPE_PATH = "#/scope/phases/0/items/0"


def scope_of(count: int) -> dict[str, Any]:
    """Return a scope of so many items, each of three lines that are drawn."""
    items = [{"code": f"{n:04}", **STONE} for n in range(count)]
    return {"project": "Carbarn", "phases": [{"code": "30", "name": "Pits", "items": items}]}


def with_methods(count: int = 2, **system: Any) -> dict[str, Any]:
    """Return a body that asks to compare methods with such a system."""
    scope = scope_of(1)
    scope["phases"][0]["items"][0]["methods"] = [
        {"name": f"way {n}", "production": system_of(**system)} for n in range(count)
    ]
    return {"scope": scope, "item": "30.0000"}


def system_of(
    carriers: int = 2, stations: int = 1, steps: int = 3, lifts: int = 0, places: int = 1
) -> dict[str, Any]:
    cycle = [{"step": f"step {n}", "time": "3 min"} for n in range(max(steps, stations))]
    for n in range(stations):
        cycle[n]["station"] = f"gate {n}"
    system = {
        "carriers": str(carriers),
        "each carrier brings": {},
        "load": "18 ton",
        "cycle": cycle,
        "stations": [{"name": f"gate {n}", "places": str(places)} for n in range(stations)],
    }
    if lifts:
        of_lifts = [{"name": f"lift {n}", "share": f"1/{lifts}"} for n in range(lifts)]
        system |= {"placing": "gate 0", "lifts": of_lifts}
    return system


def single_system(carriers: int, stations: int) -> dict[str, Any]:
    """Return the body that asks for the output of one system."""
    gates = [f"gate {n}" for n in range(stations)]
    return {
        "carriers": carriers,
        "load": {"size": "12", "unit": "cy"},
        "cycle": [{"step": f"pass {gate}", "minutes": "3", "station": gate} for gate in gates],
        "stations": [{"name": gate} for gate in gates],
    }


@pytest.mark.parametrize("as_yaml", [False, True], ids=["object", "YAML"])
def test_a_scope_with_too_many_items_is_refused_before_one_is_read(embedded, as_yaml):
    scope: Any = scope_of(5_001)
    for item in scope["phases"][0]["items"]:
        item["assembly"] = "stone-fil"
    body = {"scope": json.dumps(scope) if as_yaml else scope}
    answer = embedded.post(f"{AT}/estimate", body)
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["detail"] == "the scope has more than 5,000 items; send it in parts."


def test_spot_depths_are_counted_over_the_whole_scope_before_one_is_read(embedded):
    scope = scope_of(3)
    for item in scope["phases"][0]["items"]:
        item["inputs"] = {"depth": {"spots": [["1", "2", "3"]] * 7_000}}
    answer = embedded.post(f"{AT}/estimate", {"scope": scope})
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["detail"].startswith("the scope has more than 20,000 spot depths in all;")


def test_of_thousands_of_misspelt_names_only_those_listed_are_compared(embedded, monkeypatch):
    compared = []

    def counted(word: str, *known: Any, **options: Any) -> list[str]:
        compared.append(word)
        return get_close_matches(word, *known, **options)

    monkeypatch.setattr(errors, "get_close_matches", counted)
    scope = scope_of(4_000)
    for number, item in enumerate(scope["phases"][0]["items"]):
        item["assembly"] = f"stone-fil-{number}"
    answer = embedded.post(f"{AT}/estimate", {"scope": scope})
    assert answer.json["detail"] == (
        "4,000 problems found, 3,800 of them not listed; nothing was changed."
    )
    assert answer.json["errors"][199]["remedy"] == "did you mean 'stone-fill-barrows'?"
    assert len(compared) == len(answer.json["errors"]) == 200


@pytest.mark.parametrize(
    ("system", "sentence"),
    [
        ({"carriers": 51}, "the methods have 51 carriers in one method; a request takes 50"),
        (
            {"count": 6, "steps": 34, "carriers": 1},
            "the methods have 204 steps in all; a request takes 200",
        ),
        (
            {"carriers": 50, "stations": 5},
            "the methods have 510 carriers and places, added up over stations and lifts; "
            "a request takes 500",
        ),
        (
            {"carriers": 9, "lifts": 26},
            "the methods have 520 carriers and places, added up over stations and lifts; "
            "a request takes 500",
        ),
        (
            {"carriers": 2, "places": 300},
            "the methods have 604 carriers and places, added up over stations and lifts; "
            "a request takes 500",
        ),
    ],
)
def test_a_comparison_that_would_take_long_is_refused(embedded, system, sentence):
    answer = embedded.post(f"{AT}/comparison", with_methods(**system))
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["detail"] == f"{sentence}: compare fewer methods at once, or simpler ones."
    assert answer.json["errors"][0]["pointer"] == SCOPE_PATH


def priced_by_methods(items: int, methods: int = 1, **system: Any) -> dict[str, Any]:
    """Return a scope of items that are each priced by the first of such methods."""
    scope = scope_of(items)
    ways = [{"name": f"way {n}", "production": system_of(**system)} for n in range(methods)]
    for item in scope["phases"][0]["items"]:
        item["methods"] = ways
    return scope


@pytest.mark.parametrize(
    ("scope", "sentence"),
    [
        # 25 systems of 4 x (500 + 1) are 50,100
        (
            priced_by_methods(25, carriers=500, stations=4),
            "the chosen methods have 50,100 carriers and places, added up over stations and lifts; "
            "a request takes 50,000: give fewer carriers or stations, or the pace itself as "
            "production_rate.",
        ),
        (
            priced_by_methods(667, methods=3),
            "the items list 2,001 methods in all; a request takes 2,000: leave out methods that "
            "you do not compare.",
        ),
    ],
    ids=["carriers", "methods"],
)
@pytest.mark.parametrize("is_project", [False, True], ids=["priced", "project"])
def test_a_scope_whose_methods_would_hold_a_worker_is_refused(
    embedded, scope, sentence, is_project
):
    at = "/v1/projects/from-scope" if is_project else f"{AT}/estimate"
    headers = new_key() if is_project else {}
    answer = embedded.post(at, {"scope": scope}, headers=headers)
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["detail"] == sentence


def test_a_project_with_more_steps_than_a_request_takes_is_refused(embedded):
    """953 times 20 steps and 1 station: a body of a calculation is never that long."""
    scope = priced_by_methods(953, steps=20)
    answer = embedded.post("/v1/projects/from-scope", {"scope": scope}, headers=new_key())
    assert answer.status_code == 413
    assert answer.json["detail"].startswith(
        "the items list 20,013 steps, stations and lifts of methods in all; a request takes 20,000"
    )


def test_a_scope_whose_methods_a_site_has_is_priced(embedded):
    """24 systems of 4 x (500 + 1) are 48,096 carriers and places."""
    scope = priced_by_methods(24, carriers=500, stations=4)
    answer = embedded.post(f"{AT}/estimate", {"scope": scope})
    assert answer.status_code == 200


@pytest.mark.parametrize("system", [{"carriers": 50, "stations": 4}, {"carriers": 4, "lifts": 5}])
def test_what_a_site_has_is_compared(embedded, system):
    answer = embedded.post(f"{AT}/comparison", with_methods(**system))
    assert answer.status_code == 200
    assert len(answer.json["methods"]) == 2


def test_an_item_that_is_not_there_is_reported_as_such(embedded):
    body = with_methods(carriers=51) | {"item": "30.9"}
    answer = embedded.post(f"{AT}/comparison", body)
    assert answer.json["detail"].startswith("no item '30.9'")


def test_a_system_with_too_many_carriers_and_stations_is_refused(embedded):
    answer = embedded.post(f"{AT}/production", single_system(500, 4))
    assert answer.status_code == 413
    assert answer.json["detail"] == (
        "carriers and places, added up over the stations, come to 2,004; "
        "a request takes 2,000: give fewer carriers or stations."
    )
    assert embedded.post(f"{AT}/production", single_system(499, 4)).status_code == 200


def test_more_lines_may_be_drawn_less_often(embedded):
    body = {"scope": scope_of(700), "on": "2026-03-02"}
    refused = embedded.post(f"{AT}/risk", body)
    assert (refused.status_code, refused.json["code"]) == (413, "body-too-large")
    assert refused.json["detail"] == (
        "2,100 lines are to be drawn 10,000 times; "
        "ask for 7,523 iterations, or send fewer phases at once."
    )
    assert refused.json["errors"][0]["pointer"] == "#/iterations"
    taken = embedded.post(f"{AT}/risk", {"scope": scope_of(20), "iterations": 200})
    assert taken.status_code == 200
    assert taken.json["risk"]["iterations"] == 200


def test_what_no_number_of_iterations_mends_is_to_be_sent_in_parts(embedded):
    body = {"scope": scope_of(3_200), "iterations": 100}
    refused = embedded.post(f"{AT}/risk", body)
    assert refused.json["detail"] == (
        "9,600 lines are to be drawn 100 times; send fewer phases at once."
    )
