"""Dimensions of formulas: feet never add to square feet, and a bare number never to feet."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from fractions import Fraction

from estimator.errors import FormulaFaulty, did_you_mean, fault, quoted
from estimator.quantity.formulas import CONSTANTS, Formula, exponent_of
from estimator.quantity.takeoff_functions import TAKE_OFF
from estimator.quantity.units import NO_DIMENSION, Dimension, dimension_words


def formula_dimension(formula: Formula, dimensions: Mapping[str, Dimension]) -> Dimension:
    """Return the dimension of a formula's result.

    Parameters
    ----------
    formula : Formula
        The formula.
    dimensions : mapping of str to Dimension
        The dimension of every name that may occur.

    Raises
    ------
    FormulaFaulty
        If a name is unknown, or things of different dimension are added or compared, or `ceil` or
        `floor` is taken of anything but a count or proportion (it would depend on the unit).

    Examples
    --------
    >>> from estimator.quantity.formulas import read_formula
    >>> from estimator.quantity.units import unit
    >>> names = {"area": unit("sf").dimension, "depth": unit("in").dimension}
    >>> dimension_words(formula_dimension(read_formula("area * depth / 2"), names))
    'a volume'
    """
    unknown = sorted(formula.names - dimensions.keys())
    if unknown:
        raise fault(
            FormulaFaulty,
            f"formula {quoted(formula.text)} names the unknown input {quoted(unknown[0])}",
            did_you_mean(unknown[0], dimensions),
        )
    result = _Check(formula.text, dimensions).of(formula.tree)
    return NO_DIMENSION if result is None else result


class _Check:
    """Walks one formula; None stands for a literal zero, which fits any dimension."""

    def __init__(self, text: str, dimensions: Mapping[str, Dimension]) -> None:
        self.text = text
        self.dimensions = dimensions

    def of(self, node: ast.expr) -> Dimension | None:
        match node:
            case ast.Constant(value=value):
                return None if value == 0 else NO_DIMENSION
            case ast.Name(id=name):
                return NO_DIMENSION if name in CONSTANTS else self.dimensions[name]
            case ast.UnaryOp(operand=operand):
                return self.of(operand)
            case ast.BinOp(left=left, op=op, right=right):
                return self._operation(node, left, op, right)
            case ast.Call(func=ast.Name(id=name), args=arguments):
                return self._call(node, name, arguments)
        raise AssertionError(ast.dump(node))

    def _operation(
        self, node: ast.expr, left: ast.expr, op: ast.operator, right: ast.expr
    ) -> Dimension | None:
        first, second = self.of(left), self.of(right)
        if isinstance(op, ast.Add | ast.Sub):
            return self._same(node, [first, second])
        base, other = first or NO_DIMENSION, second or NO_DIMENSION
        if isinstance(op, ast.Mult):
            return base.times(other)
        if isinstance(op, ast.Div):
            return base.per(other)
        return base.to_power(exponent_of(right) or Fraction(0))

    def _call(self, node: ast.expr, name: str, arguments: list[ast.expr]) -> Dimension | None:
        dimensions = [self.of(argument) for argument in arguments]
        if name in TAKE_OFF:
            return self._take_off(name, dimensions)
        if name in ("min", "max"):
            return self._same(node, dimensions)
        one = dimensions[0] or NO_DIMENSION
        if name == "sqrt":
            return one.to_power(Fraction(1, 2))
        if one != NO_DIMENSION:
            raise fault(
                FormulaFaulty,
                f"{name} in formula {quoted(self.text)} is taken of {dimension_words(one)}",
                "divide by a unit size first, so that it counts something",
            )
        return one

    def _take_off(self, name: str, dimensions: list[Dimension | None]) -> Dimension:
        function = TAKE_OFF[name]
        for wanted, one, dimension in zip(
            function.arguments, function.argument_units, dimensions, strict=False
        ):
            if dimension is not None and dimension != one.dimension:
                raise fault(
                    FormulaFaulty,
                    f"{name} in formula {quoted(self.text)} is given "
                    f"{dimension_words(dimension)} as {wanted}, "
                    f"not {dimension_words(one.dimension)}",
                    f"it takes {', '.join(function.arguments)}",
                )
        return function.result_unit.dimension

    def _same(self, node: ast.expr, dimensions: list[Dimension | None]) -> Dimension | None:
        known = [dimension for dimension in dimensions if dimension is not None]
        for other in known[1:]:
            if other != known[0]:
                raise fault(
                    FormulaFaulty,
                    f"{quoted(ast.unparse(node))} in formula {quoted(self.text)} brings together "
                    f"{dimension_words(known[0])} and {dimension_words(other)}",
                )
        return known[0] if known else None
