"""A comparison as JSON: a stable form for other programs, described in docs/choosing-a-method.md.

Money, quantities and times are decimal strings; keys stand in a fixed order; the same comparison
gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from math import isfinite
from typing import Any

from estimator.money import dollars, exact_arithmetic
from estimator.pricing.pace_notes import pace_may_be_off_by
from estimator.studies.comparison.break_even import CheapestIntervals
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.cost_difference import CostPart, SaveOrScrap
from estimator.studies.comparison.curves import CostMap, Curves
from estimator.studies.comparison.findings import Findings
from estimator.studies.comparison.level_sentences import rising_sentences, standing_sentences
from estimator.studies.comparison.method_dates import date_sentences
from estimator.studies.comparison.method_notes import notes_of
from estimator.studies.comparison.method_result import MethodResult
from estimator.studies.comparison.sentences import (
    course_sentence,
    held_back_sentences,
    interval_words,
    on_hand_sentences,
    pace_sentence,
    saving_sentence,
)

FORM = 2


def comparison_json(comparison: Comparison, findings: Findings) -> str:
    """Return a comparison as JSON text with two-space indentation and a final newline."""
    return json.dumps(comparison_fields(comparison, findings), indent=2, ensure_ascii=False) + "\n"


@exact_arithmetic
def comparison_fields(comparison: Comparison, findings: Findings) -> dict[str, Any]:
    """Return a comparison as plain dictionaries, lists and strings, without parts not requested.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced.
    findings : Findings
        The request it answers.
    """
    fields: dict[str, Any] = {
        "form": FORM,
        "project": comparison.project,
        "on": comparison.on.isoformat(),
        "item": {
            "code": comparison.item.code,
            "name": comparison.item.name,
            "quantity": f"{comparison.quantity:f}",
            "unit": comparison.item.assembly.unit.name,
        },
        "day_worth": _money(comparison.day_worth),
        "cheapest": comparison.cheapest.method.name,
        "fastest": comparison.fastest.method.name,
        "methods": [
            _method(one, notes_of(comparison.prepared[place])) | _dated(comparison, place)
            for place, one in enumerate(comparison.results)
        ],
        "rises": list(rising_sentences(comparison)),
        "break_even": [_cheapest(comparison, one) for one in findings.cheapest],
        "notes": list(findings.notes),
        "cautions": [
            {"caution": one.caution, "decides": one.defer_to} for one in comparison.cautions
        ],
    }
    optional: Mapping[str, Any] = {
        "curves": findings.curves and _curves(comparison, findings.curves),
        "map": findings.cost_map and _map(comparison, findings.cost_map),
        "save_or_scrap": findings.saving and _saving(comparison, findings.saving),
        "dates": list(date_sentences(comparison, findings.course)) or None,
        "from_here": findings.course and _course(findings.course),
    }
    return fields | {key: value for key, value in optional.items() if value is not None}


def _dated(comparison: Comparison, place: int) -> dict[str, Any]:
    """Return when a method begins and ends, and what its dates make of its price, if known."""
    start = comparison.start
    if start is None:
        return {}
    days = comparison.results[place].days
    dates = {"start": start.day.isoformat(), "finish": start.finish(days).isoformat()}
    if not comparison.by_dates:
        return dates
    one = comparison.by_dates[place]
    return dates | {"by_dates": {"cash": _money(one.cash), "in_all": _money(one.in_all)}}


def _money(amount: Decimal) -> str:
    return f"{amount:.2f}"


def _number(value: float) -> str:
    """Return a number with six significant digits, never in powers of ten."""
    return f"{Decimal(f'{value:.6g}'):f}"


def _method(one: MethodResult, notes: Sequence[str]) -> dict[str, Any]:
    return {
        "name": one.method.name,
        "assembly": one.method.assembly.code,
        "crew": one.method.crew,
        "quantity": f"{one.quantity:.2f}",
        "unit": one.method.assembly.unit.name,
        "unit_cost": _money(one.unit_cost),
        "cash": _money(one.cash),
        "markups": _money(one.markups),
        "own": _money(one.own),
        "kept": _money(one.kept),
        "sold": _money(one.sold),
        "day_cost": _money(one.day_cost),
        "in_all": _money(one.in_all),
        "by_kind": {kind: _money(amount) for kind, amount in one.by_kind.items()},
        "days": f"{one.days:.2f}",
        "hours": f"{one.hours:.2f}",
        "hours_at_best": f"{one.hours_at_best:.2f}",
        "labor_hours": f"{one.labor_hours:.2f}",
        "machine_days": f"{one.machine_days:.2f}",
        "output_per_hour": f"{one.output_per_hr:.2f}",
        "pace_may_be_high_by": f"{pace_may_be_off_by(one.method)[0]:.4f}",
        "pace_may_be_low_by": f"{pace_may_be_off_by(one.method)[1]:.4f}",
        "bottlenecks": list(one.bottlenecks),
        "waiting_cost": _money(one.waiting_cost),
        "obstacle": one.method.obstacle,
        "notes": list(notes),
        "risks": list(one.method.risks),
    }


def _cheapest(comparison: Comparison, cheapest: CheapestIntervals) -> dict[str, Any]:
    return {
        "input": cheapest.varied.name,
        "unit": cheapest.varied.unit.name,
        "as_written": _number(cheapest.varied.base),
        "step": f"{cheapest.step:f}",
        "intervals": [
            {
                "from": f"{one.first:f}",
                "to": f"{one.last:f}",
                "methods": [comparison.prepared[place].method.name for place in one.methods],
                "apart": _money(one.apart),
                "sentence": interval_words(comparison, cheapest.varied, one).sentence,
            }
            for one in cheapest.intervals
        ],
    }


def _curves(comparison: Comparison, curves: Curves) -> dict[str, Any]:
    return {
        "input": curves.varied.name,
        "unit": curves.varied.unit.name,
        "values": [_number(value) for value in curves.values],
        "in_all": _by_method(comparison, [_amounts(row) for row in curves.cents.tolist()]),
    }


def _map(comparison: Comparison, cost_map: CostMap) -> dict[str, Any]:
    names = [one.method.name for one in comparison.prepared]
    return {
        "across": {"input": cost_map.across.name, "unit": cost_map.across.unit.name},
        "up": {"input": cost_map.up.name, "unit": cost_map.up.unit.name},
        "across_values": [_number(value) for value in cost_map.across_values],
        "up_values": [_number(value) for value in cost_map.up_values],
        "methods": names,
        "ties": [[names[place] for place in tie] for tie in cost_map.ties],
        "cheapest": cost_map.cheapest.tolist(),
    }


def _saving(comparison: Comparison, saving: SaveOrScrap) -> dict[str, Any]:
    return {
        "save": saving.save.method.name,
        "scrap": saving.scrap.method.name,
        "parts": [_part(part) for part in saving.parts],
        "break_even": _cheapest(comparison, saving.cheapest),
        "sentence": saving_sentence(comparison, saving),
    }


def _part(part: CostPart) -> dict[str, str]:
    return {
        "part": part.name,
        "save": _money(part.first),
        "scrap": _money(part.second),
        "difference": _money(part.difference),
    }


def _course(course: ChangedCourse) -> dict[str, Any]:
    now = course.now
    return {
        "placed": f"{now.pace.placed:.2f}",
        "remaining": f"{now.remaining:.2f}",
        "unit": course.unit,
        "per_day": f"{now.pace.per_day:.2f}",
        "remaining_days": f"{now.remaining_days:.2f}",
        "remaining_days_range": now.remaining_days_range
        and [f"{days:.2f}" if isfinite(days) else None for days in now.remaining_days_range],
        "switch": _money(course.switch),
        "ways": [
            {
                "name": way.method.name,
                "under_way": way.is_under_way,
                "full": _money(way.full),
                "in_all": _money(way.in_all),
                **({"by_dates": {"in_all": _money(way.by_dates)}} if course.is_dated else {}),
                "days": f"{way.days:.2f}",
                "held_back": way.is_held_back,
                "obstacle": way.method.obstacle,
            }
            for way in course.ways
        ],
        "pace": pace_sentence(course),
        "notes": [
            *standing_sentences(course),
            *on_hand_sentences(course),
            *held_back_sentences(course),
        ],
        "sentence": course_sentence(course),
    }


def _amounts(cents: Sequence[int]) -> list[str]:
    return [_money(dollars(one)) for one in cents]


def _by_method(comparison: Comparison, rows: Sequence[list[str]]) -> dict[str, list[str]]:
    names = (one.method.name for one in comparison.prepared)
    return dict(zip(names, rows, strict=True))
