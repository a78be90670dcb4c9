"""Formulas of assemblies: plain arithmetic that is parsed once, checked once and run on arrays.

Allowed are `+ - * / **`, parentheses, numbers, names, and the functions named below and in
`takeoff_functions`. A formula is read into Python's syntax tree, every node is compared with a
short list, and what runs is a chain of small functions over numpy; no text is ever executed.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from math import pi

import numpy as np
import numpy.typing as npt

from estimator.errors import FormulaFaulty, did_you_mean, fault, quoted
from estimator.quantity.rounding import whole_above, whole_below
from estimator.quantity.takeoff_functions import TAKE_OFF

LONGEST_TEXT = 300
DEEPEST_NESTING = 20
LARGEST_EXPONENT = 4

# What begins with a digit, and what of that is a number: 12, 0.5, 1.5e-6.
_DIGITS = re.compile(r"(?<![\w.])\.?\d(?:[eE][+-]\d|[\w.])*", re.ASCII)
_NUMBER = re.compile(r"(\d{1,15}(\.\d{0,15})?|\.\d{1,15})([eE][+-]?\d{1,2})?", re.ASCII)

Values = npt.NDArray[np.float64]
Evaluator = Callable[[Mapping[str, Values], Mapping[str, Values]], Values]

_OPERATORS: dict[type[ast.operator], Callable[[Values, Values], Values]] = {
    ast.Add: np.add,
    ast.Sub: np.subtract,
    ast.Mult: np.multiply,
    ast.Div: np.divide,
    ast.Pow: np.power,
}
_FUNCTIONS_OF_ONE: dict[str, Callable[[Values], Values]] = {
    "ceil": whole_above,
    "floor": whole_below,
    "sqrt": np.sqrt,
}
_FUNCTIONS_OF_MANY: dict[str, Callable[[Values, Values], Values]] = {
    "min": np.minimum,
    "max": np.maximum,
}
FUNCTIONS = frozenset(_FUNCTIONS_OF_ONE) | frozenset(_FUNCTIONS_OF_MANY) | frozenset(TAKE_OFF)
CONSTANTS = {"pi": pi}


@dataclass(frozen=True)
class Formula:
    """A formula that has been read and found to be plain arithmetic.

    Parameters
    ----------
    text : str
        As it was written.
    tree : ast.expr
        Its syntax tree, of allowed nodes only.
    names : frozenset of str
        The names it needs values for.
    """

    text: str
    tree: ast.expr
    names: frozenset[str]

    @cached_property
    def _evaluator(self) -> Evaluator:
        return _compiled(self.tree)

    def evaluate(
        self, values: Mapping[str, Values], whole: Mapping[str, Values] | None = None
    ) -> Values:
        """Return the result for arrays (or single floats) of values, in base units.

        A division by zero gives infinity, and an impossible root NaN, without a warning: the
        caller knows the item and refuses what is not finite.

        Parameters
        ----------
        values : mapping of str to float array
            Of all names of the formula.
        whole : mapping of str to float array, or None
            What `ceil` and `floor` see instead, where it is not the same.

        Raises
        ------
        GeometryFaulty
            If a take-off function is given dimensions that describe no shape.

        Examples
        --------
        >>> float(read_formula("area * thickness / 2").evaluate({"area": 6.0, "thickness": 0.5}))
        1.5
        """
        with np.errstate(all="ignore"):
            return np.asarray(
                self._evaluator(values, values if whole is None else whole), dtype=np.float64
            )

    @cached_property
    def plain_number(self) -> Fraction | None:
        """The number that the formula consists of, exactly, or None if there is more to it."""
        if isinstance(self.tree, ast.Constant):
            return Fraction(str(self.tree.value))
        return None

    def with_values(self, shown: Mapping[str, str]) -> str:
        """Return the text with each name replaced by a printed value.

        Examples
        --------
        >>> read_formula("area * depth").with_values({"area": "6 sf", "depth": "4 in"})
        '6 sf * 4 in'
        """
        return re.sub(r"[a-z_][a-z0-9_]*", lambda m: shown.get(m[0], m[0]), self.text)


@lru_cache(maxsize=4096)  # a catalogue has some 600 formulas, and is read with every scope
def read_formula(text: str) -> Formula:
    """Return the formula that a text says.

    Parameters
    ----------
    text : str
        At most 300 characters, nested at most 20 deep.

    Raises
    ------
    FormulaFaulty
        If it does not parse or uses anything but plain arithmetic.

    Examples
    --------
    >>> sorted(read_formula("ceil(length / spacing) + 1").names)
    ['length', 'spacing']
    """
    if len(text) > LONGEST_TEXT:
        raise fault(
            FormulaFaulty, f"formula {quoted(text)} is longer than {LONGEST_TEXT} characters"
        )
    if not text.isascii():
        raise fault(FormulaFaulty, f"formula {quoted(text)} has characters that are not ASCII")
    for digits in _DIGITS.findall(text):
        if not _NUMBER.fullmatch(digits):
            what = f"formula {quoted(text)} has {quoted(digits)}, which is not a plain number"
            raise fault(FormulaFaulty, what, "write it as 1234.50")
    try:
        tree = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError) as error:
        raise fault(
            FormulaFaulty,
            f"formula {quoted(text)} is not arithmetic",
            "check the operators and parentheses",
        ) from error
    _check_node(text, tree, DEEPEST_NESTING)
    called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    names = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and id(n) not in called}
    return Formula(text.strip(), tree, frozenset(names - CONSTANTS.keys()))


def _check_node(text: str, node: ast.expr, levels_left: int) -> None:
    if levels_left == 0:
        raise fault(FormulaFaulty, f"formula {quoted(text)} is nested too deeply")
    for part in _checked_parts(text, node):
        _check_node(text, part, levels_left - 1)


def _checked_parts(text: str, node: ast.expr) -> list[ast.expr]:
    """Return the parts of an allowed node, or refuse the node."""
    match node:
        case ast.BinOp(left=left, op=ast.Pow(), right=right):
            _check_exponent(text, right)
            return [left, right]
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _OPERATORS:
            return [left, right]
        case ast.UnaryOp(op=ast.USub() | ast.UAdd(), operand=operand):
            return [operand]
        case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]):
            _check_call(text, name, arguments)
            return arguments
        case ast.Constant(value=value) if _is_plain(value):
            return []
        case ast.Name():
            return []
    raise fault(
        FormulaFaulty,
        f"formula {quoted(text)} uses {quoted(ast.unparse(node))}, which is not plain arithmetic",
        "allowed are + - * / **, parentheses, names, numbers and "
        + ", ".join(sorted(FUNCTIONS | CONSTANTS.keys())),
    )


def _check_call(text: str, name: str, arguments: list[ast.expr]) -> None:
    if name not in FUNCTIONS:
        raise fault(
            FormulaFaulty,
            f"formula {quoted(text)} calls the unknown function {quoted(name)}",
            did_you_mean(name, FUNCTIONS),
        )
    if not _takes(name, len(arguments)):
        wanted = _wanted_arguments(name)
        raise fault(FormulaFaulty, f"{name} in formula {quoted(text)} takes {wanted}")


def _takes(name: str, count: int) -> bool:
    if name in TAKE_OFF:
        return TAKE_OFF[name].fewest <= count <= len(TAKE_OFF[name].arguments)
    return count >= 2 if name in _FUNCTIONS_OF_MANY else count == 1


def _wanted_arguments(name: str) -> str:
    if name in TAKE_OFF:
        return ", ".join(TAKE_OFF[name].arguments)
    return "two or more values" if name in _FUNCTIONS_OF_MANY else "one value"


def exponent_of(node: ast.expr) -> Fraction | None:
    """Return the plain number, of either sign, that a node is, or None."""
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        inner = exponent_of(node.operand)
        return None if inner is None else -inner
    if isinstance(node, ast.Constant) and _is_plain(node.value):
        return Fraction(str(node.value))
    return None


def _is_plain(value: object) -> bool:
    """Whether a constant is a number, not a truth value or text."""
    return type(value) in (int, float)


def _check_exponent(text: str, node: ast.expr) -> None:
    exponent = exponent_of(node)
    if exponent is None or abs(exponent) > LARGEST_EXPONENT:
        raise fault(
            FormulaFaulty,
            f"the exponent {quoted(ast.unparse(node))} in formula {quoted(text)} is not "
            f"a plain number up to {LARGEST_EXPONENT}",
        )


def _compiled(node: ast.expr) -> Evaluator:
    """Return a function of the values for a node that has been checked."""
    match node:
        case ast.BinOp(left=left_node, op=op, right=right_node):
            operate = _OPERATORS[type(op)]
            left, right = _compiled(left_node), _compiled(right_node)
            return lambda values, whole: operate(left(values, whole), right(values, whole))
        case ast.UnaryOp(op=op, operand=operand_node):
            operand = _compiled(operand_node)
            if isinstance(op, ast.UAdd):
                return operand
            return lambda values, whole: np.negative(operand(values, whole))
        case ast.Call(func=ast.Name(id=name), args=argument_nodes):
            return _compiled_call(name, [_compiled(argument) for argument in argument_nodes])
        case ast.Name(id=name):
            if name in CONSTANTS:
                constant = np.float64(CONSTANTS[name])
                return lambda _, __: constant  # type: ignore[return-value]
            return lambda values, _: values[name]
    number = np.float64(node.value)  # type: ignore[attr-defined]
    return lambda _, __: number  # type: ignore[return-value]


def _compiled_call(name: str, arguments: list[Evaluator]) -> Evaluator:
    if name in TAKE_OFF:
        take_off = TAKE_OFF[name].in_base_units
        return lambda values, whole: take_off(*(one(values, whole) for one in arguments))
    if name in _FUNCTIONS_OF_ONE:
        function, argument = _FUNCTIONS_OF_ONE[name], arguments[0]
        if name == "sqrt":
            return lambda values, whole: function(argument(values, whole))
        return lambda _, whole: function(argument(whole, whole))
    combine = _FUNCTIONS_OF_MANY[name]

    def combined(values: Mapping[str, Values], whole: Mapping[str, Values]) -> Values:
        result = arguments[0](values, whole)
        for argument in arguments[1:]:
            result = combine(result, argument(values, whole))
        return result

    return combined
