"""One truth: the service prices to the byte what the library prices."""

from __future__ import annotations

import io
from datetime import date
from pathlib import Path
from tempfile import gettempdir

import pytest
import yaml

from api.calculations import examples
from api.calculations.scopes import WORKBOOK_TYPE, YAML_TYPE
from estimator.assemblies.tables import load_tables
from estimator.pricing.estimate_json import estimate_json
from estimator.rates.folders import TableFolder, shipped_tables
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.studies.risk.job_risk import job_risk
from estimator.studies.risk.risk_json import risk_fields

AT = "/v1/calculations"
SAMPLE = Path("estimator/sample/harrow-lane-carbarn.yaml")
QUOTES = Path("estimator/sample/harrow-lane-quotes")


@pytest.fixture(scope="module")
def tables():
    return load_tables([shipped_tables(), TableFolder("quotes", QUOTES)])


@pytest.fixture(scope="module")
def scope(tables):
    return read_scope(read_yaml(SAMPLE.read_bytes(), "scope"), tables)


def asked(**more):
    quotes = {path.name: path.read_text(encoding="utf-8") for path in QUOTES.glob("*.csv")}
    return {"scope": SAMPLE.read_text(encoding="utf-8"), "quotes": quotes, **more}


@pytest.mark.parametrize("on", ["2026-03-02", "2026-09-15"])
def test_an_estimate_is_the_librarys_to_the_byte(embedded, scope, tables, on):
    answer = embedded.post(f"{AT}/estimate", asked(on=on))
    assert answer.status_code == 200
    assert answer.data.decode() == estimate_json(price(scope, tables, date.fromisoformat(on)))


def test_how_sure_it_is_is_the_librarys_to_the_byte(embedded, scope, tables):
    answer = embedded.post(f"{AT}/risk", asked(confidence="0.9", seed=7))
    estimate = price(scope, tables, date(2026, 3, 2))
    assert answer.status_code == 200
    expected = estimate_json(estimate, risk_fields(job_risk(estimate, 0.9, 7)))
    assert answer.data.decode() == expected


@pytest.mark.parametrize("confidence", ["0", "1", "1.5", "-0.2", "NaN", 0.8])
def test_a_confidence_of_none_or_all_is_a_problem_with_its_field(embedded, confidence):
    answer = embedded.post(f"{AT}/risk", asked(confidence=confidence))
    assert answer.status_code == 422
    assert "confidence" in answer.get_data(as_text=True)


def test_a_scope_as_an_object_is_priced_as_its_text(embedded):
    text = asked()
    as_object = asked(scope=yaml.load(text["scope"], yaml.BaseLoader))  # noqa: S506
    first, second = (embedded.post(f"{AT}/estimate", body) for body in (text, as_object))
    assert first.data == second.data


def test_without_a_date_the_scopes_own_counts_and_then_today(embedded):
    text = examples.SCOPE_TEXT
    assert embedded.post(f"{AT}/estimate", {"scope": text}).json["on"] == "2026-03-02"
    embedded.clock.turn(days=10)
    dateless = text.replace("on: 2026-03-02\n", "")
    assert embedded.post(f"{AT}/estimate", {"scope": dateless}).json["on"] == "2026-03-12"


def test_a_yaml_file_is_priced_as_its_text(embedded):
    as_file = embedded.post(
        f"{AT}/estimate-of-file", examples.SCOPE_TEXT.encode(), headers={"Content-Type": YAML_TYPE}
    )
    assert as_file.data == embedded.post(f"{AT}/estimate", examples.ESTIMATE).data


def test_the_workbook_of_an_estimate_can_be_opened(embedded):
    from openpyxl import load_workbook

    answer = embedded.post(f"{AT}/estimate-workbook", asked())
    assert answer.content_type == WORKBOOK_TYPE
    assert len(load_workbook(io.BytesIO(answer.data)).sheetnames) >= 3


def test_a_comparison_is_the_librarys_to_the_byte(embedded, scope, tables):
    vary = [{"name": "truck turnaround", "low": "60 min", "high": "140 min"}]
    answer = embedded.post(f"{AT}/comparison", asked(item="30.020", vary=vary))
    compared = compare(scope, tables, date(2026, 3, 2), "30.020")
    found = findings_of(compared, (Variation("truck turnaround", "60 min", "140 min"),))
    assert answer.data.decode() == comparison_json(compared, found)


def test_methods_can_be_compared_without_markups(embedded):
    assert "markups: []" in examples.SCOPE_TEXT
    answer = embedded.post(f"{AT}/comparison", examples.COMPARISON)
    assert answer.status_code == 200
    assert {one["markups"] for one in answer.json["methods"]} == {"0.00"}


def test_slips_of_form_come_with_all_other_faults(embedded):
    text = examples.SCOPE_TEXT.replace("stone-fill-skid", "stone-fil").replace("on: 2", "on 2")
    told = embedded.post(f"{AT}/estimate", {"scope": f"{text}quotes: there\n"}).json["errors"]
    assert told[0]["where"] == "scope line 2"
    words = " ".join(one["what"] for one in told)
    assert "unknown assembly" in words
    assert "did not come with it" in words
    as_file = embedded.post(
        f"{AT}/estimate-of-file", text.encode(), headers={"Content-Type": YAML_TYPE}
    )
    assert len(as_file.json["errors"]) == len(told) - 1
    as_object = yaml.load(text.replace("on 2", "on: 2"), yaml.BaseLoader)  # noqa: S506
    told = embedded.post(f"{AT}/estimate", {"scope": as_object | {"shift": None}}).json["errors"]
    assert told[0]["pointer"] == "#/scope/shift"
    assert any("unknown assembly" in one["what"] for one in told)


def test_every_fault_of_a_text_has_its_line(embedded):
    text = examples.SCOPE_TEXT.replace("62 ft 6 in", "62").replace("stone-fill-skid", "stone-fil")
    answer = embedded.post(f"{AT}/estimate", {"scope": text})
    assert (answer.status_code, answer.json["code"]) == (422, "scope-faulty")
    assert {one["pointer"] for one in answer.json["errors"]} == {"#/scope"}
    assert answer.json["errors"][0]["where"].startswith("scope line 10")
    assert "did you mean" in answer.json["errors"][0]["remedy"]


def test_every_fault_of_an_object_has_its_pointer(embedded):
    scope = yaml.load(examples.SCOPE_TEXT, yaml.BaseLoader)  # noqa: S506
    item = scope["phases"][0]["items"][0]
    item["inputs"]["length"], item["inputs"]["width"] = "62", None
    answer = embedded.post(f"{AT}/estimate", {"scope": scope})
    assert answer.json["errors"][0] == {
        "pointer": "#/scope/phases/0/items/0/inputs/width",
        "what": "says nothing here",
        "remedy": "write a text, or leave it out",
    }
    assert answer.json["errors"][1]["pointer"] == "#/scope/phases/0/items/0/inputs/length"
    item["inputs"]["width"] = "9"
    told = embedded.post(f"{AT}/estimate", {"scope": scope}).json["errors"]
    assert [one["pointer"] for one in told[:2]] == [
        "#/scope/phases/0/items/0/inputs/length",
        "#/scope/phases/0/items/0/inputs/width",
    ]
    assert told[0]["where"] == "item 30.020, length"


def test_quotes_that_a_scope_names_must_come_with_it(embedded):
    answer = embedded.post(f"{AT}/estimate", {"scope": SAMPLE.read_text(encoding="utf-8")})
    assert answer.status_code == 422
    told, of_the_crew = answer.json["errors"]
    assert "owned-skid-steer" in of_the_crew["what"]
    assert told["what"] == (
        "the scope names the quotes 'harrow-lane-quotes', which did not come with it"
    )


@pytest.mark.parametrize(
    ("quotes", "told"),
    [
        ({"prices.csv": "code\n"}, "'prices.csv' is not a rate table"),
        ({"../../etc/cron.csv": "x"}, "'../../etc/cron.csv' is not a rate table"),
        ({"resources.csv": "code,rate\nsand,1\n"}, "column"),
        ({"resources.csv": ""}, ""),
    ],
)
def test_faulty_quotes_are_reported_without_our_own_folders(embedded, quotes, told):
    answer = embedded.post(f"{AT}/estimate", {"scope": examples.SCOPE_TEXT, "quotes": quotes})
    assert (answer.status_code, answer.json["code"]) == (422, "tables-faulty")
    assert told in answer.text
    assert gettempdir() not in answer.text
    assert all(one["pointer"] == "#/quotes" for one in answer.json["errors"])


def test_more_rows_of_quotes_than_a_request_may_have_are_refused_unread(embedded):
    most = embedded.settings.most_rows
    quotes = {"crews.csv": "crew\n" + "digger\n" * most, "no table": "\n\n"}
    answer = embedded.post(f"{AT}/estimate", {"scope": examples.SCOPE_TEXT, "quotes": quotes})
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert answer.json["detail"] == "the set of tables has more than 5,000 rows; send it in parts."


HOSTILE_SCOPES = {
    "anchors": "a: &a [x, x]\nb: *a\n",
    "a tag": "project: !!python/object/apply:os.system ['true']\n",
    "depth": "a: " + "[" * 5_000,
    "a key twice": "project: a\nproject: b\n",
    "nothing": "# only a comment\n",
    "a list": "- a\n- b\n",
    "control characters": "project: \x07\n",
    "many documents": "a: 1\n---\nb: 2\n",
}


@pytest.mark.parametrize("text", HOSTILE_SCOPES.values(), ids=HOSTILE_SCOPES)
def test_a_hostile_scope_gets_a_sentence(embedded, text):
    answer = embedded.post(f"{AT}/estimate", {"scope": text})
    assert (answer.status_code, answer.json["code"]) == (422, "scope-faulty")


@pytest.mark.parametrize("scope", [5, None, [], {}, "", True])
def test_what_is_no_scope_is_refused(embedded, scope):
    answer = embedded.post(f"{AT}/estimate", {"scope": scope})
    assert answer.json["errors"][0]["pointer"] == "#/scope"


def test_other_times_are_priced_as_if_they_stood_in_the_scope(embedded):
    written = yaml.load(examples.SCOPE_TEXT, yaml.BaseLoader)  # noqa: S506
    calendar = {"start": "2026-05-04", "week": "5 days of 10 hr"}
    within = embedded.post(f"{AT}/estimate", {"scope": {**written, "calendar": calendar}})
    beside = embedded.post(f"{AT}/estimate", {"scope": examples.SCOPE_TEXT, **calendar})
    assert beside.json["lines"] == within.json["lines"]
    assert beside.json["shift"] == "10 hr/day"
    dated = embedded.post(f"{AT}/schedule", {"scope": examples.SCOPE_TEXT, **calendar})
    assert dated.json["start"] == "2026-05-04"


def test_a_week_that_is_none_and_hands_that_no_crew_has_are_reported_at_their_fields(embedded):
    body = {"scope": examples.SCOPE_TEXT, "week": "always", "crew": {"labrer": 2}}
    told = embedded.post(f"{AT}/schedule", body)
    assert told.status_code == 422
    assert {one["pointer"] for one in told.json["errors"]} == {"#/week", "#/crew/labrer"}
