"""Level and opening of an item are stored, read and priced over HTTP as a scope says them."""

import pytest

from tests.api.estimates.made import PITS, keep_project, path_of, priced
from tests.api.service import new_key

DOOR = {"name": "wagon door", "width": "8 ft", "height": "9 ft"}
STATED = """\
        level: 100 ft
        opening: {name: wagon door, width: 8 ft, height: 9 ft}
        methods:
          - name: wheeling it in by skid steer
            machine: {name: loader, width: 9 ft, height: 7 ft}
"""
METHODS = "        methods:\n          - name: wheeling it in by skid steer\n"


@pytest.fixture
def project(service):
    assert METHODS in PITS
    return keep_project(service, PITS.replace(METHODS, STATED).encode())


def fill_of(service, project):
    items = service.get(f"{project}/items").json["items"]
    return next(one for one in items if one["cost_code"] == "30.020")


def test_they_are_stored_and_an_estimate_speaks_of_them(service, project):
    fill = fill_of(service, project)
    assert (fill["level"], fill["opening"]) == ({"top": "100 ft"}, DOOR)
    estimate = path_of(priced(service, project))
    warnings = " ".join(service.get(f"{estimate}/document").json["warnings"])
    assert "30.020 rises " in warnings
    assert "its top, 100 ft, on day" in warnings
    assert "cannot be done: the loader, 9 ft wide and 7 ft high, does not pass" in warnings


def test_delays_are_stored_and_an_estimate_speaks_of_them(service, project):
    fill = fill_of(service, project)
    body = {key: fill[key] for key in ("phase_id", "name")} | {"code": "910"}
    body |= {"assembly": "plank-floor-wreck", "inputs": {"area": "1,000 sf"}}
    body["delays"] = {"first_days": ["50 %"]}
    added = service.post(f"{project}/items", body, headers=new_key())
    assert added.json["delays"] == {"first_days": ["50 %"]}
    estimate = path_of(priced(service, project))
    warnings = service.get(f"{estimate}/document").json["warnings"]
    said = "the production rate of 30.910 is adjusted: the first day brings 50 % of a steady day"
    assert said in warnings


def test_a_comparison_of_a_stored_estimate_leaves_out_what_does_not_pass(service, project):
    estimate = path_of(priced(service, project))
    made = service.post(f"{estimate}/comparisons", {"item": "30.020"}, headers=new_key())
    assert made.json["result"]["cheapest"] == "throwing it in by conveyor truck"
    assert "loader" in made.json["result"]["methods"][0]["obstacle"]
    assert len(made.json["result"]["rises"]) == 2


def test_a_faulty_opening_is_refused(service, project):
    fill = fill_of(service, project)
    body = {key: fill[key] for key in ("phase_id", "name", "assembly", "inputs", "methods")}
    body |= {"code": "900", "opening": {**DOOR, "width": "0 ft"}}
    refused = service.post(f"{project}/items", body, headers=new_key())
    assert refused.status_code == 422, refused.text
    assert "opening width is zero" in refused.text
