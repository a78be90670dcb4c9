import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.coatings import (
    coating_gal,
    edged_coating_gal,
    film_coverage_sf_per_gal,
)
from tests.quantity.shapes import feet, fractions, no_dimensions


def test_two_coats_with_loss():
    assert coating_gal(800.0, 200.0) == 4.0
    assert coating_gal(800.0, 200.0, coats=2, loss_fraction=0.25) == 10.0
    assert coating_gal(0.0, 200.0) == 0.0


def test_a_loss_in_percent_is_refused():
    with pytest.raises(GeometryFaulty, match="loss_fraction: is above 1"):
        coating_gal(800.0, 200.0, 1, 5.0)


def test_half_the_solids_cover_half_the_area():
    assert film_coverage_sf_per_gal(2.0, 0.5) == pytest.approx(401.0416666667, rel=1e-10)


@pytest.mark.parametrize("solids", [0.0, 65.0])
def test_solids_are_a_share_above_nothing(solids):
    with pytest.raises(GeometryFaulty, match="solids_fraction: is"):
        film_coverage_sf_per_gal(5.0, solids)


def test_a_strip_is_sprayed_beyond_its_edges():
    assert edged_coating_gal(90.0, 10.0, 0.5) == 60.0
    assert edged_coating_gal(90.0, 10.0, 0.5, edge_ft=0.0) == 50.0
    assert edged_coating_gal(90.0, 10.0, 0.5, loss_fraction=0.5) == 90.0


def test_surfaces_are_taken_together():
    np.testing.assert_array_equal(coating_gal([400.0, 0.0], 200.0, [1, 2]), [2.0, 0.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "gallons",
    [
        lambda x: coating_gal(x, 200),
        lambda x: coating_gal(1, x),
        lambda x: film_coverage_sf_per_gal(x, 0.5),
        lambda x: edged_coating_gal(1, x, 0.3),
    ],
)
def test_what_is_no_dimension_takes_no_paint(gallons, wrong):
    with pytest.raises(GeometryFaulty):
        gallons(wrong)


@given(st.floats(0, 1e5), st.floats(50, 500), fractions, st.floats(0.01, 0.99))
def test_a_wall_painted_in_two_goes_takes_the_same_paint(area, coverage, loss, at):
    parts = sum(coating_gal(area * part, coverage, 2, loss) for part in (at, 1 - at))
    assert coating_gal(area, coverage, 2, loss) == pytest.approx(parts, rel=1e-9)
    assert parts >= 0


@given(feet, feet, st.floats(0.01, 1), fractions)
def test_an_edge_is_two_more_feet_of_width(length, width, rate, loss):
    assert edged_coating_gal(length, width, rate, loss) == pytest.approx(
        coating_gal(length * (width + 2), 9 / rate, 1, loss), rel=1e-9
    )
