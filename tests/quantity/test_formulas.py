"""Formulas are plain arithmetic; no text is ever executed."""

import ast
from contextlib import suppress
from fractions import Fraction
from math import inf, isnan, nan, pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import estimator
from estimator.errors import FormulaFaulty
from estimator.quantity.formulas import read_formula

ALLOWED = "which is not plain arithmetic; allowed are + - * / **, parentheses, names, numbers and "


def result(text, **values):
    return float(read_formula(text).evaluate(values))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1 + 2 * 3", 7.0),
        ("(1 + 2) * 3", 9.0),
        ("7 - 2 - 1", 4.0),
        ("12 / 4 / 3", 1.0),
        ("2 ** 3", 8.0),
        ("2 ** -1", 0.5),
        ("9 ** 0.5", 3.0),
        ("-2 ** 2", -4.0),
        ("+3", 3.0),
        ("- -3", 3.0),
        ("min(3, 1, 2)", 1.0),
        ("max(3, 1, 2)", 3.0),
        ("ceil(2.1)", 3.0),
        ("ceil(2)", 2.0),
        ("floor(2.9)", 2.0),
        ("sqrt(16)", 4.0),
        ("pi", pi),
        ("1.5e2", 150.0),
        ("a * b - a", 10.0),
        ("ceil(a / b) + 1", 3.0),
    ],
)
def test_arithmetic_gives_what_a_calculator_gives(text, value):
    assert result(text, a=5.0, b=3.0) == value


def test_ceil_and_floor_see_a_whole_number_through_a_hair():
    assert result("ceil(a / b)", a=8.4, b=2.8) == 3.0
    assert result("floor((a + b) * 10)", a=0.1, b=0.7) == 8.0


def test_arrays_give_the_same_as_numbers_one_by_one():
    formula = read_formula("max(a, b) * sqrt(a) / (b + 1) - min(a, 2) ** 2")
    a, b = np.array([0.0, 1.0, 4.0, 9.0]), np.array([3.0, 0.0, 1.0, 7.0])
    together = formula.evaluate({"a": a, "b": b})
    apart = [float(formula.evaluate({"a": x, "b": y})) for x, y in zip(a, b, strict=True)]
    assert together.tolist() == apart


def test_what_divides_by_zero_is_infinite_or_no_number_without_a_warning():
    assert result("a / 0", a=1.0) == inf
    assert isnan(result("a / a", a=0.0))
    assert isnan(result("sqrt(a)", a=-1.0))
    assert isnan(result("a + 1", a=nan))


def test_names_are_those_that_need_a_value():
    assert read_formula("pi * min(radius, width) ** 2 * depth").names == {
        "radius", "width", "depth",
    }  # fmt: skip
    assert read_formula(" 3 ").names == set()


@pytest.mark.parametrize(
    ("text", "number"),
    [("0.5", Fraction(1, 2)), ("12", 12), ("1e2", 100), ("a", None), ("1 + 1", None), ("-1", None)],
)
def test_a_plain_number_is_known_as_one(text, number):
    assert read_formula(text).plain_number == number


def test_a_formula_shows_the_values_it_was_run_with():
    shown = {"area": "1,900 sf", "thickness": "4 in", "are": "x"}
    assert (
        read_formula("area * thickness + area_b").with_values(shown) == "1,900 sf * 4 in + area_b"
    )


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a.b", "a.b"),
        ("a.__class__", "a.__class__"),
        ("().__class__.__bases__", "().__class__.__bases__"),
        ("lambda: 1", "lambda: 1"),
        ("[x for x in y]", "[x for x in y]"),
        ("{x: 1 for x in y}", "{x: 1 for x in y}"),
        ("(x for x in y)", "(x for x in y)"),
        ("(a := 1)", "(a := 1)"),
        ("f'{a}'", "f'{a}'"),
        ("'a'", "'a'"),
        ("b'a'", "b'a'"),
        ("True", "True"),
        ("None", "None"),
        ("...", "..."),
        ("a if b else c", "a if b else c"),
        ("a < b", "a < b"),
        ("a and b", "a and b"),
        ("not a", "not a"),
        ("~a", "~a"),
        ("a // b", "a // b"),
        ("a % b", "a % b"),
        ("a @ b", "a @ b"),
        ("a << b", "a << b"),
        ("a | b", "a | b"),
        ("a[0]", "a[0]"),
        ("[a]", "[a]"),
        ("{a}", "{a}"),
        ("a, b", "(a, b)"),
        ("()", "()"),
        ("await a", "await a"),
        ("min(a, b, key=c)", "min(a, b, key=c)"),
        ("min(*a, *b)", "*a"),
        ("1(2)", "1(2)"),
        ("min(a, b)(c)", "min(a, b)(c)"),
        ("a.min(b)", "a.min(b)"),
    ],
)
def test_whatever_is_not_arithmetic_is_refused(text, shown):
    with pytest.raises(FormulaFaulty) as refusal:
        read_formula(text)
    assert str(refusal.value).startswith(f"formula '{text}' uses '{shown}', {ALLOWED}")


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", "#x", "a b", "a = b", "a; b", "import os", "del a", "yield a", "a\n+ b", "a +",
        "(a", "a)", "*a", "a\x00b", "1 ++", "if a: b", "return a",
    ],
)  # fmt: skip
def test_what_does_not_parse_is_not_arithmetic(text):
    with pytest.raises(FormulaFaulty, match="is not arithmetic; check the operators and paren"):
        read_formula(text)


@pytest.mark.parametrize(
    "number", ["0x10", "0x" + "f" * 290, "0b1", "0o7", "1_000", "2j", "1e400", "9" * 290, "1.5.2"]
)
def test_a_number_is_read_only_if_it_is_written_plainly(number):
    with pytest.raises(FormulaFaulty, match=r"which is not a plain number; write it as 1234\.50"):
        read_formula(f"a + {number}")


@pytest.mark.parametrize(
    "name", ["__import__", "eval", "exec", "open", "print", "abs", "sum", "pi"]
)
def test_only_listed_functions_can_be_called(name):
    with pytest.raises(FormulaFaulty) as refusal:
        read_formula(f"{name}('os')" if name == "__import__" else f"{name}(a)")
    assert f"calls the unknown function '{name}'" in str(refusal.value)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("ceil()", "ceil in formula 'ceil()' takes one value"),
        ("sqrt(a, b)", "sqrt in formula 'sqrt(a, b)' takes one value"),
        ("min(a)", "min in formula 'min(a)' takes two or more values"),
        ("max(*a)", "max in formula 'max(*a)' takes two or more values"),
        ("cell(a)", "formula 'cell(a)' calls the unknown function 'cell'; did you mean 'ceil'?"),
        ("9**9**9", "the exponent '9 ** 9' in formula '9**9**9' is not a plain number up to 4"),
        ("9**9", "the exponent '9' in formula '9**9' is not a plain number up to 4"),
        ("a**b", "the exponent 'b' in formula 'a**b' is not a plain number up to 4"),
        ("a**-5", "the exponent '-5' in formula 'a**-5' is not a plain number up to 4"),
        ("a**True", "the exponent 'True' in formula 'a**True' is not a plain number up to 4"),
        ("\u00b5 * 2", "formula '\u00b5 * 2' has characters that are not ASCII"),
        ("a \u00d7 b", "formula 'a \u00d7 b' has characters that are not ASCII"),
    ],
)
def test_a_slip_in_a_formula_is_reported_in_a_sentence(text, sentence):
    with pytest.raises(FormulaFaulty) as refusal:
        read_formula(text)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    "text", ["(" * 10_000 + "a" + ")" * 10_000, "a" * 301, "-" * 10_000 + "a", "9" * 5_000]
)
def test_a_formula_longer_than_300_characters_is_refused_unread(text):
    with pytest.raises(FormulaFaulty, match=r"is longer than 300 characters$"):
        read_formula(text)


@pytest.mark.parametrize(
    "text", ["-" * 20 + "a", "+".join(["a"] * 21), "sqrt(" * 20 + "a" + ")" * 20]
)
def test_a_formula_nested_more_than_twenty_deep_is_refused(text):
    with pytest.raises(FormulaFaulty, match=r"is nested too deeply$"):
        read_formula(text)


def test_a_hundred_and_forty_parentheses_are_no_nesting():
    assert result("(" * 140 + "7" + ")" * 140) == 7.0


@given(st.text(max_size=40))
def test_no_text_breaks_the_reader_of_formulas(text):
    with suppress(FormulaFaulty):
        assert read_formula(text).text == text.strip()


@given(st.text(alphabet="ab12.+-*/() ,", max_size=25))
def test_nothing_made_of_the_signs_of_arithmetic_breaks_a_formula(text):
    try:
        formula = read_formula(text)
    except FormulaFaulty:
        return
    formula.evaluate(dict.fromkeys(formula.names, 2.0))


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6), st.floats(0.1, 1e6))
def test_a_formula_gives_what_python_gives(a, b, c):
    values = {"a": a, "b": b, "c": c}
    assert result("a * b - (a + b) / c + max(a, b) * -2", **values) == (
        a * b - (a + b) / c + max(a, b) * -2
    )


def test_nothing_in_the_library_executes_text():
    root = Path(estimator.__file__).parent
    called = {
        node.func.id
        for path in root.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert {"fault", "quoted"} <= called
    assert not called & {"eval", "exec", "compile", "__import__"}
