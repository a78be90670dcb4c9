"""Feet never add to square feet, and a bare number never to feet."""

from fractions import Fraction

import pytest

from estimator.errors import FormulaFaulty
from estimator.quantity.dimension_check import formula_dimension
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import NO_DIMENSION, Dimension, dimension_words, unit

NAMES = {
    "length": unit("ft").dimension,
    "depth": unit("in").dimension,
    "area": unit("sf").dimension,
    "volume": unit("cy").dimension,
    "density": unit("ton/cy").dimension,
    "hours": unit("hr").dimension,
    "shift": unit("hr/day").dimension,
    "boards": unit("ea").dimension,
    "share": unit("fraction").dimension,
    "blade_life": unit("ft/blade").dimension,
    "price": unit("$/cy").dimension,
}


def words(text):
    return dimension_words(formula_dimension(read_formula(text), NAMES))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("length", "a length"),
        ("length * depth", "an area"),
        ("area * depth / 2", "a volume"),
        ("length ** 3", "a volume"),
        ("sqrt(area)", "a length"),
        ("area ** 0.5", "a length"),
        ("volume ** -1", "ft**-3"),
        ("volume * density", "a weight"),
        ("hours / shift", "calendar time"),
        ("length / blade_life", "a count or proportion"),
        ("volume * price", "money"),
        ("length + depth", "a length"),
        ("-(length - depth)", "a length"),
        ("min(length, depth, length * share)", "a length"),
        ("max(length, 0)", "a length"),
        ("0 + length", "a length"),
        ("length - 0.0", "a length"),
        ("max(0, 0)", "a count or proportion"),
        ("ceil(length / depth) + 1", "a count or proportion"),
        ("floor(boards * share)", "a count or proportion"),
        ("pi * depth ** 2", "an area"),
        ("boards * 1.1", "a count or proportion"),
        ("length ** 0", "a count or proportion"),
        ("0 * length", "a length"),
        ("7", "a count or proportion"),
    ],
)
def test_the_dimension_of_a_formula_follows_from_its_names(text, expected):
    assert words(text) == expected


def test_a_root_of_a_length_has_half_its_dimension():
    half = Fraction(1, 2)
    assert formula_dimension(read_formula("sqrt(length)"), NAMES) == Dimension(
        half, *[Fraction(0)] * 4
    )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("length + area", "'length + area' in formula 'length + area' "
         "brings together a length and an area"),
        ("length + 1", "'length + 1' in formula 'length + 1' "
         "brings together a length and a count or proportion"),
        ("2 - area * depth", "'2 - area * depth' in formula '2 - area * depth' "
         "brings together a count or proportion and a volume"),
        ("hours + max(hours, hours / shift)", "'max(hours, hours / shift)' in formula "
         "'hours + max(hours, hours / shift)' brings together working time and calendar time"),
        ("min(length, 3)", "'min(length, 3)' in formula 'min(length, 3)' "
         "brings together a length and a count or proportion"),
        ("length + pi", "'length + pi' in formula 'length + pi' "
         "brings together a length and a count or proportion"),
        ("ceil(length)", "ceil in formula 'ceil(length)' is taken of a length; "
         "divide by a unit size first, so that it counts something"),
        ("floor(area / depth)", "floor in formula 'floor(area / depth)' is taken of a length; "
         "divide by a unit size first, so that it counts something"),
        ("lenght * 2", "formula 'lenght * 2' names the unknown input 'lenght'; "
         "did you mean 'length'?"),
        ("zone + aria", "formula 'zone + aria' names the unknown input 'aria'; "
         "did you mean 'area'?"),
    ],
)  # fmt: skip
def test_what_does_not_fit_together_is_refused_in_a_sentence(text, sentence):
    with pytest.raises(FormulaFaulty) as refusal:
        formula_dimension(read_formula(text), NAMES)
    assert str(refusal.value) == sentence


def test_names_of_functions_are_no_inputs():
    with pytest.raises(FormulaFaulty, match="names the unknown input 'min'"):
        formula_dimension(read_formula("min * 2"), {"length": NO_DIMENSION})
