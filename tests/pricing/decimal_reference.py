"""Pricing line by line in exact fractions and decimals: slow, plain, and independent of the engine.

It takes the assemblies, rates and units as data, and shares no arithmetic with the library:
formulas are walked in fractions, rounding is `Decimal.quantize`, and orders are shared out one
line at a time.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction
from functools import cache
from math import ceil, floor

from estimator.assemblies.tables import Tables
from estimator.quantity.units import unit
from estimator.scope.scope import Item, Scope

PI = Fraction("3.14159265358979323846264338327950288419716939937510")


class NoQuantity(Exception):
    """The inputs of an item lead to no quantity: a division by zero, or less than nothing."""


@dataclass(frozen=True)
class ReferenceLine:
    """One cost line; quantities print with `decimals`."""

    phase: str
    item: str
    number: int
    resource: str
    net: Decimal
    waste: Decimal
    ordered: Decimal
    multiple: Decimal
    is_pooled: bool
    decimals: int
    rate: Decimal

    @property
    def cents(self) -> int:
        """The extension, half-up to the cent."""
        with localcontext(prec=60):
            amount = (self.ordered * self.rate).quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
            return int(amount.scaleb(2))


def reference_lines(scope: Scope, tables: Tables, on: date) -> list[ReferenceLine]:
    """Return the cost lines of a scope, in the order of the scope."""
    lines = [
        line
        for phase in scope.phases
        for item in phase.items
        for line in _item_lines(phase.code, item, scope, tables, on)
    ]
    return _pooled(lines)


def _item_lines(
    phase: str, item: Item, scope: Scope, tables: Tables, on: date
) -> list[ReferenceLine]:
    values = _values(item, scope)
    made_of = item.assembly.unit
    finished = values["quantity"] / made_of.factor
    if _printed(finished, tables.precision.of(made_of)) <= 0:
        raise NoQuantity(item.code)
    parts = []
    for member in tables.crews[item.crew].members if item.crew else ():
        need = values["crew_hours"] * Fraction(member.number)
        if tables.rates.unit_of(member.resource).dimension == unit("day").dimension:
            need /= values["shift"]
        multiple = None if member.order_multiple is None else Fraction(member.order_multiple)
        parts.append((member.resource, need, Fraction(0), multiple, None, member.ordered_per, None))
    for line in item.assembly.lines:
        factor = tables.rates.unit_of(line.resource).factor
        parts.append(
            (
                line.resource,
                _value(line.formula.text, values),
                _value(line.waste.text, values) if line.waste else Fraction(0),
                _in_unit(line.order_multiple, values, factor),
                _in_unit(line.minimum, values, factor),
                line.ordered_per,
                _who_comes(line, tables.rates.unit_of(line.resource), values),
            )
        )
    return [
        _line(phase, item.code, number, part, scope, tables, on)
        for number, part in enumerate(parts, start=1)
    ]


def _line(phase, code, number, part, scope, tables, on):  # type: ignore[no-untyped-def]
    resource, base_need, waste, multiple, minimum, ordered_per, who = part
    row = tables.rates.rate_on(resource, on)
    decimals = tables.precision.of(row.unit)
    need = base_need / row.unit.factor
    if need < 0 or waste < 0:
        raise NoQuantity(code)
    net, total = (_needed(one, decimals, multiple, minimum) for one in (need, need * (1 + waste)))
    ordered, step = total, Decimal(1).scaleb(-decimals)
    if minimum is not None:
        ordered = max(ordered, _printed(minimum, decimals))
    if multiple is not None:
        step = max(step, _printed(multiple, decimals))
    is_pooled = ordered_per == "phase"
    if not is_pooled:
        ordered = ceil(ordered / step) * step
    if who is not None:
        paid = _called_out(need * (1 + waste), *who, minimum, Fraction(step))
        ordered = max(total, _printed(paid, decimals))
    if total == 0:
        ordered = Decimal(0)
    rate = _paid_rate(row, Fraction(scope.shift.value))
    return ReferenceLine(
        phase, code, number, resource, net, total - net, ordered, step, is_pooled, decimals, rate
    )


def _needed(value, decimals, multiple, minimum):  # type: ignore[no-untyped-def]
    """Return a need half-up, but up where whole pieces are bought by multiples or a minimum."""
    is_counted_up = decimals == 0 and (multiple is not None or minimum is not None)
    return Decimal(ceil(value)) if is_counted_up else _printed(value, decimals)


def _paid_rate(row, shift):  # type: ignore[no-untyped-def]
    """Return the rate of an hour in a week of five such days (29 CFR 778.107, .110).

    Hours over forty are paid one and a half times: 5 x 10 hr are paid as 55 hr.
    """
    week, is_labor = 5 * shift, row.kind == "labor" and row.is_paid and row.unit.name == "hr"
    if not is_labor or week <= 40:
        return row.rate
    rate = Fraction(row.rate) * (week + (week - 40) / 2) / week
    return _printed(rate, 4)


def _who_comes(line, per, values):  # type: ignore[no-untyped-def]
    """Return how many are called out by the hour, on how many days, and the hours of a full day."""
    if line.minimum is None or per.dimension != unit("hr").dimension or line.ordered_per == "phase":
        return None
    shift, crew_hours = values["shift"], values.get("crew_hours", Fraction(0))
    days_of_crew = max(crew_hours / shift, values.get("least_days", Fraction(0)))
    hours = _value(line.formula.text, values)
    if "crew_hours" in _names(line.formula.text):
        longer = _value(line.formula.text, {**values, "crew_hours": crew_hours + 1})
        return max(ceil(longer - hours), 1), days_of_crew, shift / per.factor
    number = max(ceil(hours / shift / days_of_crew), 1) if days_of_crew else 1
    return number, hours / shift / number, shift / per.factor


def _called_out(needed, number, days, shift, minimum, multiple):  # type: ignore[no-untyped-def]
    """Return what all are paid, one day after the other; waiting days share the hours evenly."""
    each = needed / number
    waits = ceil(days) > ceil(each / shift)
    days_of_one = []
    while sum(days_of_one) < each:
        days_of_one.append(each / ceil(days) if waits else min(shift, each - sum(days_of_one)))
    paid = [ceil(max(hours, minimum) / multiple) * multiple for hours in days_of_one]
    return number * sum(paid, Fraction(0))


def _pooled(lines: list[ReferenceLine]) -> list[ReferenceLine]:
    """Raise what a phase buys together once, and share the excess by largest remainder."""
    pools = defaultdict(list)
    for position, line in enumerate(lines):
        if line.is_pooled:
            pools[line.phase, line.resource, line.multiple].append(position)
    result = list(lines)
    for (_, _, multiple), positions in pools.items():
        needs = [Fraction(lines[n].ordered) for n in positions]
        if not sum(needs):
            continue
        last = Fraction(Decimal(1).scaleb(-lines[positions[0]].decimals))
        excess = (ceil(sum(needs) / Fraction(multiple)) * Fraction(multiple) - sum(needs)) / last
        exact = [excess * need / sum(needs) for need in needs]
        shares = [Fraction(floor(share)) for share in exact]
        rest = [(shares[n] - exact[n], n) for n in range(len(exact))]
        for _, n in sorted(rest)[: int(excess - sum(shares))]:
            shares[n] += 1
        for n, share in zip(positions, shares, strict=True):
            more = _printed(share * last, lines[n].decimals)
            result[n] = replace(lines[n], ordered=lines[n].ordered + more)
    return result


def _values(item: Item, scope: Scope) -> dict[str, Fraction]:
    values = {"shift": scope.shift.value}
    waiting = {"quantity": item.assembly.quantity.text}
    for one in item.assembly.inputs:
        if one.formula is not None:
            waiting[one.name] = one.formula.text
        elif one.name in item.inputs:
            values[one.name] = item.inputs[one.name].value
        else:
            assert one.default is not None
            values[one.name] = Fraction(one.default) * one.unit.factor
    if item.crew and "crew_hours" not in waiting:
        waiting["crew_hours"] = "quantity / production_rate"
    while waiting:
        ready = [name for name, text in waiting.items() if not _names(text) & waiting.keys()]
        for name in ready:
            values[name] = _value(waiting.pop(name), values)
    return values


def _in_unit(formula, values, factor):  # type: ignore[no-untyped-def]
    if formula is None:
        return None
    plain = isinstance(_tree(formula.text), ast.Constant)
    return _value(formula.text, values) / (1 if plain else factor)


def _printed(value: Fraction, decimals: int) -> Decimal:
    with localcontext(prec=60):
        exact = Decimal(value.numerator) / Decimal(value.denominator)
        return exact.quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)


@cache
def _tree(text: str) -> ast.expr:
    return ast.parse(text.strip(), mode="eval").body


def _names(text: str) -> set[str]:
    return {node.id for node in ast.walk(_tree(text)) if isinstance(node, ast.Name)}


def _value(text: str, values: Mapping[str, Fraction]) -> Fraction:
    try:
        return _walk(_tree(text), values)
    except ZeroDivisionError as error:
        raise NoQuantity(text) from error


def _walk(node: ast.expr, values: Mapping[str, Fraction]) -> Fraction:
    match node:
        case ast.Constant(value=value):
            return Fraction(str(value))
        case ast.Name(id="pi"):
            return PI
        case ast.Name(id=name):
            return values[name]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_walk(operand, values)
        case ast.UnaryOp(operand=operand):
            return _walk(operand, values)
        case ast.BinOp(left=left, op=op, right=right):
            return _OPERATORS[type(op)](_walk(left, values), _walk(right, values))
        case ast.Call(func=ast.Name(id=name), args=arguments):
            return FUNCTIONS[name](*(_walk(argument, values) for argument in arguments))
    raise AssertionError(ast.dump(node))


def _power(base: Fraction, exponent: Fraction) -> Fraction:
    if exponent.denominator == 1:
        return base**exponent.numerator
    if base < 0:
        raise NoQuantity("a root of less than nothing")
    with localcontext(prec=60):
        of = Decimal(base.numerator) / Decimal(base.denominator)
        if exponent == Fraction(1, 2):
            return Fraction(of.sqrt())
        return Fraction(of ** (Decimal(exponent.numerator) / exponent.denominator))


def _pieces(run: Fraction, stock: Fraction, lap: Fraction) -> Fraction:
    if lap >= stock:
        raise NoQuantity("a lap as long as the bar")
    return Fraction(max(ceil((run - lap) / (stock - lap)), 1))


def _bars(width: Fraction, spacing: Fraction, cover: Fraction) -> Fraction:
    between = width - 2 * cover
    if between < 0:
        raise NoQuantity("the cover leaves no width for bars")
    return Fraction(ceil(between / spacing) + 1)


def _is_short(volume: Fraction, truck: Fraction, least: Fraction) -> int:
    """Return 1 if an order by the half yard does not fill its trucks to the least load."""
    if least > truck:
        raise NoQuantity("a least load that no truck brings")
    order = ceil(volume / Fraction(27, 2)) * Fraction(27, 2)
    return int(order < ceil(order / truck) * least)


def _exposure(length: Fraction, lap: Fraction) -> Fraction:
    if lap >= length:
        raise NoQuantity("a lap as long as the slate")
    return (length - lap) / 2


_OPERATORS: dict[type[ast.operator], Callable[[Fraction, Fraction], Fraction]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: _power,
}

# In base units: feet, pounds. The take-off functions, from the formulas that their pages state.
FUNCTIONS: dict[str, Callable[..., Fraction]] = {
    "min": min,
    "max": max,
    "ceil": lambda value: Fraction(ceil(value)),
    "floor": lambda value: Fraction(floor(value)),
    "sqrt": lambda value: _power(value, Fraction(1, 2)),
    "prism": lambda length, width, depth: length * width * depth,
    "trench": lambda length, width, depth, slope: length * depth * (width + slope * depth),
    "pit": lambda length, width, depth, slope: (
        length * width * depth
        + (length + width) * slope * depth**2
        + Fraction(4, 3) * slope**2 * depth**3
    ),
    "slab": lambda area, thickness: area * thickness,
    "short_loads": lambda volume, waste, pours, truck, least: (
        pours * _is_short(volume * (1 + waste) / max(pours, Fraction(1)), truck, least)
    ),
    "bars_at_spacing": lambda width, spacing, cover: _bars(width, spacing, cover),
    "lapped_pieces": _pieces,
    "lapped": lambda length, width, strip, lap: _pieces(width, strip, lap) * length * strip,
    "lapped_length": lambda run, stock, lap: run + (_pieces(run, stock, lap) - 1) * lap,
    "bar_mat": lambda length, width, spacing, cover: (
        _bars(width, spacing, cover) * (length - 2 * cover)
        + _bars(length, spacing, cover) * (width - 2 * cover)
    ),
    "wall_form": lambda length, height: 2 * length * height,
    "pad_form": lambda length, width, height: 2 * (length + width) * height,
    "pocket_fill": lambda pockets, width, height, depth: pockets * width * height * depth,
    "coating": lambda area, coverage, coats: area * coats / coverage,
    "roof": lambda area, rise: area * _power(1 + rise**2, Fraction(1, 2)),
    # board feet, of 1/12 cf: a third of the area more for tongues, a quarter from 3 in of face on
    "matched_flooring": lambda area, face: (
        area * (1 + (Fraction(1, 4) if face * 12 >= 3 else Fraction(1, 3))) / 12
    ),
    "worn": lambda cut, spikes, lost: cut + spikes * lost,
    "brick_per_sf": lambda length, height, joint: 1 / ((length + joint) * (height + joint)),
    "brick_per_cf": lambda length, width, height, joint: (
        1 / ((length + joint) * (width + joint) * (height + joint))
    ),
    # a square is 100 square feet; a slate shows half of what its head lap leaves
    "shingles_per_square": lambda exposure, width: 1 / (exposure * width),
    "slates_per_square": lambda length, width, lap=Fraction(1, 4): (
        1 / (_exposure(length, lap) * width)
    ),
    "floor_fasteners": lambda area, spacing, board, each: area / (spacing * board) * each,
    "fasteners": lambda number, each, loss: number * (1 + loss) / each,
    # mils are a plain number, 12,000 to the foot
    "film_coverage_sf_per_gal": lambda mils, solids: 12_000 * solids / mils,
    "repointing_mortar": lambda length, width, depth: length * width * depth,
    "boxes_needed": lambda volume, density, box, limit: Fraction(
        ceil(max(volume / box, volume * density / limit))
    ),
}
