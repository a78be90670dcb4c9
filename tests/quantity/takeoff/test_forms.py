import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.forms import (
    beam_form_sf,
    edge_form_sf,
    form_lumber_bf,
    pad_form_sf,
    wall_form_sf,
)
from tests.quantity.shapes import feet, no_dimensions


def test_a_wall_is_formed_on_both_faces_or_on_one():
    assert wall_form_sf(30.0, 8.0) == 480.0
    assert wall_form_sf(30.0, 8.0, faces=1) == 240.0


def test_an_edge_is_formed_by_its_thickness():
    assert edge_form_sf(60.0, 6.0) == 30.0


def test_a_pad_is_formed_all_around():
    assert pad_form_sf(3.0, 2.0, 1.0) == 10.0


def test_a_beam_is_formed_on_three_sides():
    assert beam_form_sf(10.0, 1.0, 2.0) == 50.0


def test_lumber_that_is_used_again_is_bought_once_and_mended():
    assert form_lumber_bf(400.0, 2.5) == 1000.0
    assert form_lumber_bf(400.0, 2.5, uses=2) == 500.0
    assert form_lumber_bf(400.0, 2.5, uses=2, loss_fraction=0.1) == 550.0
    assert form_lumber_bf(0.0, 2.5) == 0.0


def test_lumber_used_less_than_once_is_refused():
    with pytest.raises(GeometryFaulty, match="uses: are below one"):
        form_lumber_bf(400.0, 2.5, uses=0.5)


def test_forms_are_taken_together():
    np.testing.assert_array_equal(wall_form_sf([10.0, 20.0], 1.0, [1, 2]), [10.0, 40.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "area",
    [
        lambda x: wall_form_sf(x, 1),
        lambda x: edge_form_sf(1, x),
        lambda x: pad_form_sf(1, x, 1),
        lambda x: beam_form_sf(1, 1, x),
        lambda x: form_lumber_bf(x, 1),
        lambda x: form_lumber_bf(1, 1, 1, x),
    ],
)
def test_what_is_no_dimension_takes_no_forms(area, wrong):
    with pytest.raises(GeometryFaulty):
        area(wrong)


@given(feet, feet, st.floats(0.01, 0.99))
def test_a_wall_formed_in_two_pours_takes_the_same_forms(length, height, at):
    parts = wall_form_sf(length * at, height) + wall_form_sf(length * (1 - at), height)
    assert wall_form_sf(length, height) == pytest.approx(parts, rel=1e-9)


@given(st.floats(0, 1e5), st.floats(1, 20), st.floats(0, 1))
def test_using_forms_again_never_takes_more_lumber(contact, uses, loss):
    assert form_lumber_bf(contact, 2.5, uses, loss) <= contact * 2.5 * (1 + 1e-12)
