"""A fault names the parameter as the caller writes it, not as a formula inside calls it."""

import re

import pytest

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff import bar_mat_lf, lapped_rolls, lapped_sf, wire_sheets

FLOOR = {"length_ft": 40, "width_ft": 20, "lap_ft": 0.5}


@pytest.mark.parametrize(
    ("function", "sizes"),
    [
        (bar_mat_lf, {"length_ft": 40, "width_ft": 20, "spacing_in": 18, "cover_in": 3}),
        (lapped_rolls, FLOOR | {"roll_length_ft": 50, "roll_width_ft": 3}),
        (lapped_sf, FLOOR | {"strip_width_ft": 3}),
        (wire_sheets, FLOOR | {"sheet_length_ft": 10, "sheet_width_ft": 5}),
    ],
)
def test_each_size_is_refused_by_its_own_name_and_all_at_once(function, sizes):
    for name in sizes:
        with pytest.raises(GeometryFaulty, match=re.escape(f"{name}: is negative")):
            function(**(sizes | {name: -1}))
    with pytest.raises(GeometryFaulty) as refusal:
        function(**dict.fromkeys(sizes, -1))
    assert {one.where for one in refusal.value.faults} == sizes.keys()
