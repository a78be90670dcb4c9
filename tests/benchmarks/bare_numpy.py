"""The same arithmetic as the engine in bare numpy: what pricing costs without explaining itself.

The formulas of each assembly are written out as flat Python source, as somebody would
who prices one job with arrays and wants nothing but the totals.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import reduce
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.assemblies.tables import Tables
from estimator.quantity.takeoff_functions import TAKE_OFF
from estimator.scope.scope import Scope

HAIR = 1e-9
ARITHMETIC: dict[str, Any] = {
    "np": np,
    "pi": np.pi,
    "sqrt": np.sqrt,
    "min": lambda *values: reduce(np.minimum, values),
    "max": lambda *values: reduce(np.maximum, values),
    "ceil": lambda value: np.ceil(value - HAIR),
    "floor": lambda value: np.floor(value + HAIR),
} | {name: function.in_base_units for name, function in TAKE_OFF.items()}


@dataclass(frozen=True)
class FlatGroup:
    """All items of one assembly: their inputs as arrays, and the needs of all its lines."""

    inputs: Mapping[str, Any]
    needs: Callable[[Mapping[str, Any]], list[tuple[Any, ...]]]
    items: npt.NDArray[np.int64]
    rows: tuple[tuple[int, int, int, int, bool], ...]


@dataclass(frozen=True)
class FlatJob:
    """A whole scope, ready for arithmetic."""

    groups: list[FlatGroup]
    phase_of_item: npt.NDArray[np.int64]
    kinds: list[str]
    is_paid: npt.NDArray[np.bool_]
    kind_of_resource: npt.NDArray[np.int64]


def flat_job(scope: Scope, tables: Tables, on: Any) -> FlatJob:
    """Return a scope as arrays and flat functions."""
    positions: dict[tuple[str, str], list[int]] = {}
    for number, item in enumerate(scope.items):
        positions.setdefault((item.assembly.code, item.crew), []).append(number)
    rates = {code: tables.rates.rate_on(code, on) for code in tables.rates.codes}
    resources = {code: number for number, code in enumerate(rates)}
    kinds = sorted({rate.kind for rate in rates.values()})
    groups = [_flat_group(scope, tables, here, rates, resources) for here in positions.values()]
    sizes = [len(phase.items) for phase in scope.phases]
    return FlatJob(
        groups,
        np.repeat(np.arange(len(sizes)), sizes),
        kinds,
        np.array([rate.is_paid for rate in rates.values()]),
        np.array([kinds.index(rate.kind) for rate in rates.values()]),
    )


def _flat_group(scope, tables, here, rates, resources):  # type: ignore[no-untyped-def]
    first = scope.items[here[0]]
    assembly, inputs = first.assembly, {"shift": float(scope.shift.value)}
    for one in assembly.inputs:
        if not one.is_derived:
            default = float((one.default or 0) * 1) * float(one.unit.factor)
            inputs[one.name] = np.array(
                [
                    float(scope.items[n].inputs[one.name].value)
                    if one.name in scope.items[n].inputs
                    else default
                    for n in here
                ]
            )
    lines, rows = [], []
    for line in tables.lines_of(assembly, first.crew):
        rate = rates[line.resource]
        factor = float(rate.unit.factor)
        waste = f" * (1 + ({line.waste.text}))" if line.waste else ""
        lines.append(
            f"(({line.formula.text}){waste} / {factor}, "
            f"{_in_unit(line.order_multiple, factor)}, {_in_unit(line.minimum, factor)})"
        )
        decimals = tables.precision.of(rate.unit)
        exact_rate = int(rate.rate.scaleb(4))
        pooled = line.ordered_per == "phase"
        rows.append((resources[line.resource], decimals, exact_rate, 1, pooled))
    return FlatGroup(
        inputs, _compiled(assembly, bool(first.crew), lines), np.array(here), tuple(rows)
    )


def _in_unit(formula, factor):  # type: ignore[no-untyped-def]
    if formula is None:
        return "None"
    return (
        f"({formula.text})" if formula.plain_number is not None else f"({formula.text}) / {factor}"
    )


def _compiled(assembly, has_crew, lines):  # type: ignore[no-untyped-def]
    steps = [f"    {name} = {formula.text}" for name, formula in assembly.steps]
    names = {name for name, _ in assembly.steps} | {one.name for one in assembly.inputs}
    if has_crew and "crew_hours" not in names:
        steps.append("    crew_hours = quantity / production_rate")
    given = [f"    {one.name} = v[{one.name!r}]" for one in assembly.inputs if not one.is_derived]
    source = "\n".join(
        [
            "def needs(v):",
            '    shift = v["shift"]',
            *given,
            *steps,
            f"    return [{', '.join(lines)}]",
        ]
    )
    space = dict(ARITHMETIC)
    exec(source, space)  # noqa: S102 (the formulas have passed the reader of formulas)
    return space["needs"]


def flat_totals(job: FlatJob) -> tuple[dict[int, int], dict[str, int], int]:
    """Return cents by phase and by kind of what is paid, and the number of lines."""
    kinds = len(job.kinds)
    phases = int(job.phase_of_item[-1]) + 1
    by_phase, by_kind = np.zeros(phases, dtype=np.int64), np.zeros(kinds, dtype=np.int64)
    pools: dict[tuple[int, int, int, int], list[tuple[Any, Any]]] = {}
    count = 0
    for group in job.groups:
        size = len(group.items)
        for row, (need, multiple, minimum) in zip(
            group.rows, group.needs(group.inputs), strict=True
        ):
            resource, decimals, rate, _, pooled = row
            count += size
            has_least = multiple is not None or minimum is not None
            printed = _up if decimals == 0 and has_least else _half_up
            ordered = printed(np.broadcast_to(need, (size,)), decimals)
            some = ordered > 0
            if minimum is not None:
                ordered = np.maximum(ordered, _half_up(minimum, decimals))
            if pooled:
                whole = int(_half_up(np.float64(np.max(multiple)), decimals))
                pools.setdefault((resource, decimals, rate, whole), []).append(
                    (group.items, ordered)
                )
                continue
            if multiple is not None:
                whole = np.maximum(_half_up(multiple, decimals), 1)
                ordered = -(-ordered // whole) * whole
            cents = _cents(np.where(some, ordered, 0), decimals, rate)
            _add(job, by_phase, by_kind, resource, group.items, cents)
    for (resource, decimals, rate, whole), parts in pools.items():
        items = np.concatenate([items for items, _ in parts])
        needs = np.concatenate([needs for _, needs in parts])
        order = np.argsort(items, kind="stable")
        items, needs = items[order], needs[order]
        shared = _shared(job.phase_of_item[items], needs, whole, phases)
        _add(job, by_phase, by_kind, resource, items, _cents(shared, decimals, rate))
    return (
        dict(enumerate(by_phase.tolist())), dict(zip(job.kinds, by_kind.tolist(), strict=True)),
        count,
    )  # fmt: skip


def _half_up(values: Any, decimals: int) -> Any:
    return np.floor(np.asarray(values) * 10.0**decimals + 0.5 + HAIR).astype(np.int64)


def _up(values: Any, decimals: int) -> Any:
    """Count whole pieces up: what is bought by the piece is not rounded off."""
    return np.ceil(np.asarray(values) * 10.0**decimals - HAIR).astype(np.int64)


def _cents(ordered: Any, decimals: int, rate: int) -> Any:
    divisor = 10 ** (decimals + 2)
    cents = (ordered * abs(rate) + divisor // 2) // divisor
    return cents if rate >= 0 else -cents


def _shared(phase: Any, needs: Any, whole: int, phases: int) -> Any:
    total = np.bincount(phase, needs, phases).astype(np.int64)
    excess = -(-total // whole) * whole - total
    of_phase = np.maximum(total, 1)[phase]
    share = excess[phase] * needs
    parts = share // of_phase
    missing = excess - np.bincount(phase, parts, phases).astype(np.int64)
    order = np.lexsort((-(share % of_phase), phase))
    first = np.searchsorted(phase[order], np.arange(phases))
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order)) - first[phase[order]]
    return needs + parts + (rank < missing[phase])


def _add(job: FlatJob, by_phase: Any, by_kind: Any, resource: int, items: Any, cents: Any) -> None:
    if job.is_paid[resource]:
        by_phase += np.bincount(job.phase_of_item[items], cents, len(by_phase)).astype(np.int64)
        by_kind[job.kind_of_resource[resource]] += int(cents.sum())
