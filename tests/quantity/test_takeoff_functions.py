from pathlib import Path

import numpy as np
import pytest

from estimator.errors import FormulaFaulty, GeometryFaulty
from estimator.quantity.dimension_check import formula_dimension
from estimator.quantity.formulas import read_formula
from estimator.quantity.takeoff_functions import TAKE_OFF
from estimator.quantity.units import unit

DIMENSIONS = {
    "length": unit("ft").dimension,
    "area": unit("sf").dimension,
    "debris": unit("cy").dimension,
    "density": unit("ton/cy").dimension,
    "limit": unit("ton").dimension,
}


def test_a_trench_with_leaning_sides_is_called_by_name() -> None:
    trench = read_formula("trench(length, length / 10, 4 * length / 10, 0.5)")
    assert formula_dimension(trench, DIMENSIONS) == unit("cf").dimension
    assert float(trench.evaluate({"length": np.float64(10.0)})) == 10 * 4 * (1 + 0.5 * 4)


def test_arguments_are_handed_over_in_the_units_of_the_function() -> None:
    boxes = read_formula("boxes_needed(debris, density, debris / 2, limit)")
    values = {
        "debris": np.array([40 * 27.0]),
        "density": np.float64(0.7 * 2000 / 27),
        "limit": np.float64(20_000.0),
    }
    assert boxes.evaluate(values).tolist() == [3.0]


def test_an_argument_of_the_wrong_dimension_is_refused_by_its_name() -> None:
    with pytest.raises(FormulaFaulty, match="is given an area as bottom_width_ft"):
        formula_dimension(read_formula("trench(length, area, length, 0)"), DIMENSIONS)


def test_a_wrong_number_of_arguments_is_refused() -> None:
    with pytest.raises(FormulaFaulty, match="slab in formula 'slab\\(area\\)' takes area_sf"):
        read_formula("slab(area)")


def test_an_impossible_shape_is_an_error_and_not_a_quantity() -> None:
    with pytest.raises(GeometryFaulty):
        read_formula("slab(area, length)").evaluate(
            {"area": np.float64(-4), "length": np.float64(1)}
        )


def test_every_function_is_documented_with_its_arguments() -> None:
    documented = Path("docs/rate-tables.md").read_text(encoding="utf-8")
    for name, function in TAKE_OFF.items():
        shown = ", ".join(f"{p} [{u}]" for p, u in function.arguments.items())
        assert f"| `{name}` | {shown} | {function.result} |" in documented


def test_slates_of_a_roof_are_counted_by_the_square() -> None:
    # 20 by 10 in with a lap of 3 in: 14,400 / (8.5 x 10) = 169.4 to the square
    slates = read_formula("area * slates_per_square(length, length / 2)")
    assert formula_dimension(slates, DIMENSIONS) == unit("ea").dimension
    values = {"area": np.float64(1700.0), "length": np.float64(20 / 12)}
    assert float(slates.evaluate(values)) == pytest.approx(2880.0, rel=1e-12)


@pytest.mark.parametrize("function", TAKE_OFF.values(), ids=TAKE_OFF)
def test_every_function_returns_one_number_for_each(function) -> None:
    for value in (0.9, 1.0, 6.0, 9.0, 12.0):
        numbers = [np.array([value, value]) for _ in function.arguments]
        try:
            result = function.in_base_units(*numbers)
        except GeometryFaulty:
            continue
        assert (result.dtype, result.shape) == (np.float64, (2,))


def test_arguments_with_a_default_may_be_left_out() -> None:
    values = {"length": np.float64(10.0)}
    plain = read_formula("trench(length, length / 10, 4 * length / 10)")
    assert float(plain.evaluate(values)) == 40.0


def test_every_unit_in_a_name_is_known_and_every_function_stands_once() -> None:
    for name, function in TAKE_OFF.items():
        assert function.argument_units
        assert function.result_unit
        assert function.compute.__doc__
        assert name == function.name
    assert len({function.compute for function in TAKE_OFF.values()}) == len(TAKE_OFF)
