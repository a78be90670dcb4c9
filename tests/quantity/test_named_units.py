"""Units in names, and texts with a unit in place of the bare number."""

import numpy as np
import pytest

from estimator.errors import GeometryFaulty, MeasureFaulty
from estimator.quantity.named_units import number_of_text, unit_in_name
from estimator.quantity.takeoff import prism_cf, slab_cf, spot_depths
from estimator.quantity.takeoff.dimensions import dimensions


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("length_ft", "ft"),
        ("wire_area_sq_in", "sq in"),
        ("rate_gal_per_sy", "gal/sy"),
        ("lb_per_cy", "lb/cy"),
        ("speed_mph", "mph"),
        ("truck_cycle_minutes", "min"),
        ("shift_hr", "hr"),
        ("coats", "ea"),
        ("waste_fraction", "ea"),
    ],
)
def test_a_name_says_its_unit(name, unit):
    assert unit_in_name(name) == unit


@pytest.mark.parametrize(
    ("name", "text", "number"),
    [
        ("length_ft", "62 ft 6 in", 62.5),
        ("length_ft", "3.048 m", 10.0),
        ("lb_per_cy", "1.35 ton/cy", 2700.0),
        ("rise_per_run", "4/12", 1 / 3),
        ("waste_fraction", "5 %", 0.05),
        ("speed_mph", "88 ft/min", 1.0),
        ("speed_mph", "12 km/hr", 12 / 1.609344),
        ("coats", "2", 2.0),
    ],
)
def test_a_text_with_any_unit_of_the_kind_stands_for_the_number(name, text, number):
    assert number_of_text(name, text) == pytest.approx(number, rel=1e-15)


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("length_ft", "62", "'62' has no unit; write '62 ft'"),
        ("length_ft", "3 hr", "'3 hr' is working time, not a length"),
        ("repose_deg", "35 ft", "'35 ft' is text; enter the bare number"),
    ],
)
def test_a_text_of_another_kind_is_refused(name, text, said):
    with pytest.raises(MeasureFaulty) as refusal:
        number_of_text(name, text)
    assert str(refusal.value).startswith(said)


def test_take_off_takes_texts_alone_and_in_lists():
    assert slab_cf("100 sq ft", "6 in") == 50.0
    assert prism_cf(["2 yd", 10.0], "1 yd", 12).tolist() == [216.0, 360.0]
    surface = spot_depths.mean_spot_depth(["0 in", 12, 0], [0, 0, "4 yd"], [1, 1, "1 ft"])
    assert (surface.area_sf, surface.mean_depth_ft) == (72.0, 1.0)


def test_faults_of_texts_are_reported_by_name_with_all_others():
    with pytest.raises(GeometryFaulty) as refusal:
        dimensions(length_ft="62", width_ft=-1.0, depth_ft=np.array(["3 ft"]))
    assert [one.where for one in refusal.value.faults] == ["length_ft", "depth_ft", "width_ft"]
