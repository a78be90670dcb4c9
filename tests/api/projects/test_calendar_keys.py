"""Calendar, crew and order of a project are stored and priced over HTTP."""

import pytest

from tests.api.estimates.made import PITS, keep_project, path_of, priced
from tests.api.projects.made import at_version
from tests.api.service import new_key

CALENDAR = {"start": "2026-04-06", "week": "5 days of 8 hr", "holidays": "OH",
            "weather": {"Apr": "2 days"}}  # fmt: skip
HEAD = """\
calendar: {start: 2026-04-06, week: 5 days of 8 hr, holidays: OH, weather: {Apr: 2 days}}
crew: {laborer: 3}
phases:
"""


@pytest.fixture
def project(service):
    return keep_project(service, PITS.replace("phases:\n", HEAD).encode())


def test_they_are_stored_and_shown_as_they_were_sent(service, project):
    told = service.get(project).json
    assert (told["calendar"], told["crew"]) == (CALENDAR, {"laborer": "3"})
    scope = service.get(f"{project}/scope").json["scope"]
    assert (scope["calendar"], scope["crew"]) == (CALENDAR, {"laborer": "3"})


def test_an_item_and_a_phase_say_what_they_wait_for(service, project):
    (phase,) = service.get(f"{project}/phases").json["phases"][:1]
    items = service.get(f"{project}/items").json["items"]
    changes = {"after": [], "duration": "2 day"}
    at = f"{project}/items/{items[1]['id']}"
    told = service.send("PATCH", at, changes, headers=at_version(items[1]))
    assert told.status_code == 200, told.text
    assert (told.json["after"], told.json["duration"]) == ([], "2 day")
    at = f"{project}/phases/{phase['id']}"
    bad = {"along": ["40"], "wait": "7 days"}
    refused = service.send("PATCH", at, bad, headers=at_version(phase))
    assert refused.status_code == 422
    assert "wait stands beside along" in refused.text


def test_a_circle_of_a_stored_scope_is_refused_when_it_is_priced(service, project):
    (phase,) = service.get(f"{project}/phases").json["phases"][:1]
    at = f"{project}/phases/{phase['id']}"
    told = service.send("PATCH", at, {"after": ["99"]}, headers=at_version(phase))
    assert told.status_code == 200
    refused = service.post(f"{project}/estimates", {}, headers=new_key())
    assert refused.status_code == 422
    assert "after names '99', which does not exist" in refused.text


def test_the_dates_of_a_stored_estimate_are_worked_out_with_other_crews(service, project):
    estimate = path_of(priced(service, project))
    told = service.post(f"{estimate}/schedule", {}).json
    assert (told["start"], told["crew"]) == ("2026-04-06", {"laborer": 3})
    assert (told["is_proven"], told["calendar"]["holidays"]) == (True, "OH")
    later = service.post(f"{estimate}/schedule", {"start": "2026-05-04", "crew": {"laborer": 9}})
    assert (later.json["start"], later.json["crew"]) == ("2026-05-04", {"laborer": 9})
    refused = service.post(f"{estimate}/schedule", {"crew": {"labrer": 9}})
    assert (refused.status_code, "did you mean 'laborer'?" in refused.text) == (422, True)
    for bad in ({"crew": {"laborer": 0}}, {"crew": {"laborer": True}}, {"crew": [3]}):
        assert service.post(f"{estimate}/schedule", bad).status_code == 422


BEGINS = {
    "svg": b"<?xml",
    "png": b"\x89PNG",
    "xlsx": b"PK",
    "ics": b"BEGIN:VCALENDAR",
    "pdf": b"%PDF",
}


def test_a_file_of_dates_comes_in_five_forms(service, project):
    estimate = path_of(priced(service, project))
    for form, begin in BEGINS.items():
        told = service.post(f"{estimate}/schedule-file", {"form": form})
        assert told.status_code == 200, told.text
        assert told.data.startswith(begin)
        assert f'.{form}"' in told.headers["Content-Disposition"]
    for bad in ({"form": "exe"}, {}, {"form": "pdf", "first": "9999-12-31"}):
        assert service.post(f"{estimate}/schedule-file", bad).status_code == 422


def test_inspections_of_a_stored_scope_are_in_its_calendar_file(service):
    inspected = (
        "calendar: {inspections: [{name: Pit, before: '30.020', notice: 2 days}]}\nphases:\n"
    )
    project = keep_project(service, PITS.replace("phases:\n", inspected).encode())
    estimate = path_of(priced(service, project))
    told = service.post(f"{estimate}/schedule-file", {"form": "ics"})
    assert b"SUMMARY:Inspection: Pit" in told.data
