"""The single calculations say what the library says, and place their faults."""

from __future__ import annotations

from decimal import Decimal
from importlib import import_module

import pytest

from api.calculations import examples
from api.calculations.known_takeoffs import REINFORCING, VOLUMES
from estimator.production.bottleneck import balance
from estimator.production.cycle import FlowStep, Load, Step, TravelStep
from estimator.production.mixed_carriers import mixed_output
from estimator.production.waiting_lines import queued_output
from estimator.production.working_system import Station, WorkingSystem

AT = "/v1/calculations"


@pytest.mark.parametrize(
    "name",
    [
        "volumes",
        "reinforcing",
        "rental",
        "overtime",
        "salary",
        "bonus",
        "labor",
        "machine",
        "loader",
        "roller",
        "soil",
    ],
)
def test_the_examples_are_answered_as_the_specification_says(embedded, name):
    answer = embedded.post(f"{AT}/{name}", getattr(examples, name.upper()))
    assert answer.status_code == 200
    assert answer.json == getattr(examples, f"{name.upper()}_ANSWER")


@pytest.mark.parametrize(("shape", "one"), (VOLUMES | REINFORCING).items())
def test_every_shape_is_a_function_of_the_library_with_units_in_its_names(shape, one):
    assert callable(one.compute)
    assert set(one.lists) <= set(one.parameters)
    assert one.unit


def part(shape, **dimensions):
    return {"parts": [{"shape": shape, "dimensions": dimensions}]}


@pytest.mark.parametrize(
    ("body", "value", "unit"),
    [
        # V = L (A1 + 4 Am + A2) / 6: 6,904 cy of the published example.
        (part("prismoid", first_area_sf="1504", middle_area_sf="1860", last_area_sf="2240",
              length_ft="100"), "186400.0", "cf"),
        (part("average-end-areas", station_ft=["0", "50", "100"], area_sf=["0", "60", "20"]),
         "3500.0", "cf"),
        (part("four-corners", area_sf="100", corner_depths_ft=["1", "2", "3", "4"]),
         "250.0", "cf"),
        # Stakes 50 ft apart: corners count once, edges twice; 2,500 / 4 (2 + 6 + 4 + 1 + 4 + 3).
        (part("grid-of-stakes", depth_ft=[["2", "3", "4"], ["1", "2", "3"]], cell_length_ft="50",
              cell_width_ft="50"), "12500.0", "cf"),
        (part("grid-of-stakes", depth_ft=[["2", "3", "4"], ["1", "2", "3"]], cell_length_ft="50",
              cell_width_ft="50", dug=[["1", "0"]]), "5000.0", "cf"),
    ],
)  # fmt: skip
def test_volumes_are_the_librarys(embedded, body, value, unit):
    (told,) = embedded.post(f"{AT}/volumes", body).json["parts"]
    assert (told["value"], told["unit"]) == (value, unit)


@pytest.mark.parametrize(
    ("body", "value", "unit"),
    [
        (part("bars-at-spacing", width_ft="20", spacing_in="16", cover_in="3"), "16.0", "ea"),
        (part("bar-weight", number="4"), "0.668", "lb/ft"),
        (part("lapped-length", run_ft="62.5", stock_ft="20", lap_ft="2"), "68.5", "ft"),
        (part("wire-weight", area_sf="72", spacing_in="6", w_number="10"), "98.0", "lb"),
        (part("weight-of-bars", length_lf="1000", lb_per_ft="0.668"), "668.0", "lb"),
    ],
)  # fmt: skip
def test_reinforcing_is_the_librarys(embedded, body, value, unit):
    (told,) = embedded.post(f"{AT}/reinforcing", body).json["parts"]
    assert (told["value"], told["unit"]) == (value, unit)


def test_all_faults_of_all_parts_are_reported_each_at_its_dimension(embedded):
    body = {
        "parts": [
            part("prism", length_ft="0", width_ft="4", depth_ft="2")["parts"][0],
            part("prism", length_ft="5", width="4", depth_ft="2")["parts"][0],
            part("slab", area_sf=["1", "2"], thickness_in="5")["parts"][0],
            part("four-corners", area_sf="9", corner_depths_ft=[["1", "2"]])["parts"][0],
        ]
    }
    answer = embedded.post(f"{AT}/volumes", body)
    assert (answer.status_code, answer.json["code"]) == (422, "geometry-faulty")
    told = {one["pointer"]: one["what"] for one in answer.json["errors"]}
    assert told["#/parts/0/dimensions/length_ft"].startswith("is zero")
    assert told["#/parts/1/dimensions/width"] == "is not a dimension of the shape 'prism'"
    assert told["#/parts/1/dimensions"] == "'width_ft' is missing"
    assert told["#/parts/2/dimensions/area_sf"] == "is not one number"
    assert told["#/parts/3/dimensions/corner_depths_ft"] == "is not a list of numbers"


@pytest.mark.parametrize("depths", [[["1", "2"], ["3"]], [["1"], "2"], [[], ["2"]], [[]]])
def test_rows_of_a_grid_are_equally_long(embedded, depths):
    body = part("grid-of-stakes", depth_ft=depths, cell_length_ft="9", cell_width_ft="9")
    answer = embedded.post(f"{AT}/volumes", body)
    assert answer.status_code == 422
    assert answer.json["errors"][0]["pointer"] == "#/parts/0/dimensions/depth_ft"


@pytest.mark.parametrize(
    ("year", "state", "fraction"), [(2026, None, "0.006"), (2025, "California", "0.018")]
)
def test_the_taxes_of_a_year_come_from_the_table_and_ones_own_take_their_place(
    embedded, year, state, fraction
):
    body = {key: one for key, one in examples.LABOR.items() if key != "taxes"}
    body |= {"tax_year": year, "taxes": [examples.LABOR["taxes"][3]]}
    answer = embedded.post(f"{AT}/labor", body | ({"state": state} if state else {})).json
    taxes, names = answer["taxes"], ["social security", "Medicare", "federal unemployment"]
    assert [one["name"] for one in taxes] == [*names, "state unemployment"]
    assert taxes[2]["amount"] == str(round(7000 * Decimal(fraction), 2))
    assert taxes[3] == {"name": "state unemployment", "base": "9500.00", "amount": "256.50"}
    assert [one.partition(":")[0] for one in answer["tax_sources"]] == names


def test_a_tax_of_the_table_says_where_it_comes_from_and_what_has_no_source(embedded):
    body = {key: one for key, one in examples.LABOR.items() if key != "taxes"}
    answer = embedded.post(f"{AT}/labor", body | {"tax_year": 2026, "state": "VT"}).json
    assert answer["tax_sources"][-1] == (
        "state unemployment: common practice, no source; least base that federal law allows "
        "(stated); new employer; put in the rate and base of your own notice"
    )


@pytest.mark.parametrize(
    ("more", "place"),
    [({"state": "OH"}, "#/state"), ({"tax_year": 2012}, "#/tax_year"),
     ({"tax_year": 2026, "state": "Ohoi"}, "#/state")],
)  # fmt: skip
def test_a_year_or_state_without_taxes_is_refused(embedded, more, place):
    answer = embedded.post(f"{AT}/labor", examples.LABOR | more)
    assert (answer.status_code, answer.json["code"]) == (422, "labor-faulty")
    assert answer.json["errors"][0]["pointer"] == place


def test_a_rental_fault_is_placed_at_its_field(embedded):
    answer = embedded.post(f"{AT}/rental", {"days": 3, "rates": {}})
    assert (answer.status_code, answer.json["code"]) == (422, "equipment-faulty")
    assert answer.json["errors"][0]["pointer"] == "#/rates"


SYSTEM = {
    "name": "thrown in by conveyor truck",
    "carriers": 2,
    "load": {"size": "18", "unit": "ton"},
    "cycle": [
        {"step": "load", "minutes": "6", "station": "stone yard"},
        {"step": "haul", "distance_ft": "8800", "speed_mph": "20"},
        {"step": "throw", "rate_per_hr": "45", "unit": "ton", "station": "opening"},
    ],
    "stations": [{"name": "opening"}, {"name": "stone yard", "taken_by_others": "0.5"}],
    "efficiency": "0.833333",
}


def test_production_is_the_librarys_figure_for_figure(embedded):
    system = WorkingSystem(
        "thrown in by conveyor truck", 2, Load(18.0, "ton"),
        (Step("load", 6.0, "stone yard"), TravelStep("haul", 8800.0, 20.0),
         FlowStep("throw", 45.0, "ton", "opening")),
        (Station("opening"), Station("stone yard", taken_by_others=0.5)), 0.833333,
    )  # fmt: skip
    told = embedded.post(f"{AT}/production", SYSTEM).json
    best, queued = balance(system), queued_output(system)
    assert told["bottlenecks"] == list(best.bottlenecks)
    assert float(told["at_best_per_hr"]) == best.output_per_hr
    assert float(told["with_waiting_per_hr"]) == queued.output_per_hr
    assert "time" not in told
    assert [float(one["capacity_per_hr"]) for one in told["parts"]] == [
        one.capacity_per_hr for one in best.parts
    ]
    assert [float(one["wait_minutes"]) for one in told["lines"]] == [
        one.wait_minutes for one in queued.lines
    ]


BESIDE = {
    "name": "single axle",
    "carriers": 1,
    "load": {"size": "8", "unit": "ton"},
    "cycle": [
        {"step": "load", "minutes": "3", "station": "stone yard"},
        {"step": "round", "minutes": "40"},
    ],
}


def test_two_kinds_of_carrier_are_the_librarys_figure_for_figure(embedded):
    first = WorkingSystem(
        "thrown in by conveyor truck", 2, Load(18.0, "ton"),
        (Step("load", 6.0, "stone yard"), TravelStep("haul", 8800.0, 20.0),
         FlowStep("throw", 45.0, "ton", "opening")),
        (Station("opening"), Station("stone yard", taken_by_others=0.5)), 0.833333,
    )  # fmt: skip
    second = WorkingSystem(
        "single axle", 1, Load(8.0, "ton"), (Step("load", 3.0, "stone yard"), Step("round", 40.0)),
        (Station("stone yard", taken_by_others=0.5),), 0.833333,
    )  # fmt: skip
    both = mixed_output([first, second])
    body = embedded.post(f"{AT}/production", SYSTEM | {"beside": BESIDE}).json
    assert float(body["with_waiting_per_hr"]) == both.with_waiting_per_hr
    assert float(body["at_best_per_hr"]) == both.at_best_per_hr
    assert [float(one["wait_minutes"]) for one in body["kinds"]] == [
        one.wait_minutes for one in both.kinds
    ]
    assert (body["may_be_high_by"], body["may_be_low_by"]) == ("0.08", "0.22")
    assert "cycle_minutes" not in body


def test_a_pile_says_how_long_those_who_bring_are_there(embedded):
    """0.7 ton in 3 min is 14 ton/hr: 100.8 ton take 7.2 hr, the last comes when 40.8 are placed."""
    body = {
        "carriers": 1,
        "load": {"size": "0.7", "unit": "ton"},
        "cycle": [{"step": "round", "minutes": "3"}],
        "pile": {"quantity": "100.8", "holds": "60", "comes_per_hr": "66"},
    }
    pile = embedded.post(f"{AT}/production", body).json["pile"]
    assert float(pile["placing_hr"]) == pytest.approx(7.2)
    assert float(pile["full_after_hr"]) == pytest.approx(60 / 52)
    assert float(pile["bringing_hr"]) == pytest.approx(40.8 / 14)
    roomy = body | {"pile": body["pile"] | {"holds": "101"}}
    assert embedded.post(f"{AT}/production", roomy).json["pile"]["full_after_hr"] is None


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"beside": BESIDE | {"cycle": [{"step": "load"}]}}, "#/beside/cycle/0"),
        ({"beside": BESIDE | {"load": {"size": "8", "unit": "hogshead"}}}, "#/beside"),
        ({"beside": BESIDE, "stations": [*SYSTEM["stations"], {"name": "scale"}]}, "#/stations/2"),
        ({"beside": BESIDE | {"name": SYSTEM["name"]}}, "#"),
    ],
)
def test_each_fault_of_a_second_kind_has_its_pointer(embedded, changes, pointer):
    answer = embedded.post(f"{AT}/production", SYSTEM | changes)
    assert (answer.status_code, answer.json["code"]) == (422, "production-faulty")
    assert answer.json["errors"][0]["pointer"] == pointer


def test_every_fault_of_a_system_has_its_pointer(embedded):
    body = SYSTEM | {
        "cycle": [{"step": "load"}, {"step": "throw", "rate_per_hr": "45", "unit": "furlong/fort"}],
        "load": {"size": "18", "unit": "fathom-hogsheads"},
    }
    answer = embedded.post(f"{AT}/production", body)
    assert (answer.status_code, answer.json["code"]) == (422, "production-faulty")
    assert [one["pointer"] for one in answer.json["errors"]] == ["#/cycle/0", "#/cycle/1", "#"]


def test_a_week_of_more_hours_than_it_has_is_refused(embedded):
    worked = [{"hours": "100", "rate_per_hr": "12"}, {"hours": "100", "rate_per_hr": "13"}]
    answer = embedded.post(f"{AT}/overtime", {"worked": worked})
    assert (answer.status_code, answer.json["code"]) == (422, "labor-faulty")
    assert answer.json["errors"][0]["where"] == "hours"


def test_calculations_know_no_store():
    for module in ("routes", "scopes", "rate_tables"):
        names = vars(import_module(f"api.calculations.{module}"))
        assert not any("Session" in name for name in names)


def test_a_system_says_how_many_carriers_balance_it_and_how_long_a_quantity_takes(embedded):
    # Bottleneck of one truck: its cycle of 8 minutes; 60 / 8 loads of 10 cy are 75 cy an hour.
    system = {
        "carriers": 1,
        "load": {"size": "10", "unit": "cy"},
        "cycle": [
            {"step": "load", "minutes": "2", "station": "loader"},
            {"step": "haul, dump, return", "minutes": "6"},
        ],
        "stations": [{"name": "loader"}],
        "work": {"quantity": "900"},
    }
    told = embedded.post(f"{AT}/production", system).json
    assert told["balanced_carriers"] == 4
    assert (told["time"]["at_best_hours"], told["time"]["whole_loads"]) == ("12.0", 90)
    # Half of it with a loader at half speed: a cycle of 10 minutes, 60 cy an hour.
    lifts = [
        {"name": "open", "share": "0.5"},
        {"name": "under joists", "share": "0.5", "speed_factor": "0.5"},
    ]
    system["work"] |= {"placing": "loader", "lifts": lifts}
    told = embedded.post(f"{AT}/production", system).json
    assert told["time"]["at_best_hours"] == "13.5"
    lifts[0]["share"] = "0.4"
    (fault,) = embedded.post(f"{AT}/production", system).json["errors"]
    assert (fault["pointer"], fault["what"][:10]) == ("#/work/lifts", "shares add")


def test_without_a_station_one_more_carrier_always_helps(embedded):
    system = {
        "carriers": 1,
        "load": {"size": "10", "unit": "cy"},
        "cycle": [{"step": "round", "minutes": "8"}],
    }
    assert embedded.post(f"{AT}/production", system).json["balanced_carriers"] is None
