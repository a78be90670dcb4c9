"""Where the job is going: over HTTP, on the terminal and in the workbook."""

from __future__ import annotations

import json
from io import BytesIO

import pytest
from openpyxl import load_workbook

from tests.api.ledger.made import cost, open_books, posted
from tests.commands.running import groundsill

AS_OF = ("--as-of", "2026-06-14", "--known-on", "2026-06-14")


@pytest.fixture(scope="module")
def report(opened):
    return json.loads(groundsill("track", *AS_OF, "--json").out)


def test_a_service_says_how_sure_the_forecast_is_and_when_the_rest_is_done(service):
    books = open_books(service)
    posted(service, books, "costs", **cost())
    for day, tons in (("2026-02-27", "30"), ("2026-02-28", "60")):
        hours = {"person": "AB", "trade": "laborer", "code": "30.020", "hours": "8"}
        posted(service, books, "hours", **hours, rate="24.00", happened=day)
        posted(service, books, "progress", code="30.020", in_place=tons, happened=day)
    ahead = service.get(f"{books}/outlook").json
    assert (ahead["cost"]["seed"], ahead["cost"]["iterations"]) == (1906, 10_000)
    assert float(ahead["cost"]["P50"]) <= float(ahead["cost"]["P80"])
    (fill,) = [one for one in ahead["finishes"] if one["code"] == "30.020"]
    assert (fill["per_day"], fill["days_worked"]) == ("30.0000", 2)


def test_the_sample_has_more_than_its_forecast_at_p80_phase_by_phase(report):
    cost = report["outlook"]["cost"]
    forecast, undrawn = float(report["project"]["forecast"]), 37_938.51
    assert forecast - undrawn < float(cost["P50"]) < float(cost["P80"]) < 404_596.58
    assert [one["phase"] for one in cost["phases"]] == [one["phase"] for one in report["phases"]]
    incurred = {one["phase"]: float(one["incurred"]) for one in report["phases"]}
    assert all(float(one["P50"]) >= incurred[one["phase"]] for one in cost["phases"])


def test_the_dollars_of_what_it_rests_on_are_the_forecast(report):
    """Incurred, ordered, and what is left by what ranges it: together the forecast to the cent."""
    first = report["outlook"]["cost"]["statements"][0]
    sums = [float(word.strip("$;,").replace(",", "")) for word in first.split() if "$" in word]
    assert sum(sums) == pytest.approx(float(report["project"]["forecast"]) - 37_938.51, abs=0.005)


def test_unknown_days_are_null_and_known_ones_stand_beside_the_plan(report):
    finishes = {one["code"]: one for one in report["outlook"]["finishes"]}
    wall, slab = finishes["50.030"], finishes["40.060"]
    assert (wall["done_by"], wall["planned"]) == ("2026-07-13", "2026-07-01")
    assert (slab["done_by"], slab["per_day"], slab["days_worked"]) == (None, None, 0)


def test_the_terminal_and_the_workbook_show_the_same_figures(report, tmp_path):
    cost = report["outlook"]["cost"]
    shown = groundsill("track", *AS_OF).out
    assert f"P80 of the cost at completion         ${float(cost['P80']):,.2f}" in shown
    assert "50.030 Repointing, west wall inside: 621.6 sf left" in shown
    path = tmp_path / "tracking.xlsx"
    groundsill("track", *AS_OF, "--xlsx", path)
    rows = list(load_workbook(BytesIO(path.read_bytes()))["Outlook"].iter_rows(values_only=True))
    whole = next(row for row in rows if row[0] == "The whole job")
    assert (whole[2], whole[3]) == (float(cost["P50"]), float(cost["P80"]))
    assert next(row for row in rows if row[0] == "40.060")[4] == "unknown"


def test_one_code_says_when_it_is_done(opened):
    shown = groundsill("track", *AS_OF, "--code", "50.030").out
    assert "it is done on\n2026-07-13." in shown or "it is done on 2026-07-13." in shown
