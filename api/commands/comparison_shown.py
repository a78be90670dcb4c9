"""A comparison on the terminal: the methods, what limits them, what would change the choice."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

import numpy as np

from api.commands.cautions_shown import show_cautions
from api.commands.printing import hanging, page, sentences, show_table, table
from estimator.money import dollars
from estimator.quantity.units import counted

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.studies.comparison.break_even import CheapestIntervals
    from estimator.studies.comparison.changing_course import ChangedCourse
    from estimator.studies.comparison.comparison import Comparison
    from estimator.studies.comparison.cost_difference import SaveOrScrap
    from estimator.studies.comparison.curves import CostMap, Curves
    from estimator.studies.comparison.findings import Findings

CURVE_ROWS = 9
MAP_COLUMNS, MAP_ROWS = 56, 15
MOST_CHANGING = 10


def show_comparison(comparison: Comparison, findings: Findings) -> None:
    """Print a comparison and its results."""
    from estimator.studies.comparison.method_dates import date_sentences
    from estimator.studies.comparison.sentences import sentence_case

    with page() as out:
        item = comparison.item
        out.print(f"{comparison.project}, priced at the rates of {comparison.on}")
        quantity = counted(f"{comparison.quantity:,f}", item.assembly.unit.name)
        out.print(f"{item.code} {item.name}: {quantity}\n")
        _show_costs(out, comparison)
        _show_work(out, comparison)
        _show_best(out, comparison)
        if findings.course:
            _show_course(out, findings.course)
        for sentence in date_sentences(comparison, findings.course):
            hanging(out, "", "", sentence_case(sentence))
        if findings.saving:
            _show_saving(out, comparison, findings.saving)
        if findings.is_varied and findings.curves:
            _show_curves(out, comparison, findings.curves, findings.cheapest[0])
        elif findings.cost_map:
            _show_map(out, comparison, findings.cost_map)
        else:
            _show_changing(out, comparison, findings.cheapest)
        for note in findings.notes:
            hanging(out, "", "", sentence_case(note))
        _show_words(out, comparison)


def _show_costs(out: Console, comparison: Comparison) -> None:
    results = comparison.results
    unit = comparison.item.assembly.unit.name
    columns: list[tuple[str, list[Decimal]]] = [
        (f"$/{unit}", [one.unit_cost for one in results]),
        ("Cash $", [one.cash for one in results]),
        ("Unpaid $", [one.own for one in results]),
        ("Kept for\nuse $", [-one.kept for one in results]),
        ("Sale of\nsalvage $", [-one.sold for one in results]),
        ("Time\ncost $", [one.day_cost for one in results]),
        ("Total with\ntime $", [one.in_all for one in results]),
    ]
    used = [(name, values) for name, values in columns if any(values)]
    shown = table(("", "code"), ("Method", "text"), *((name, "number") for name, _ in used))
    for n, one in enumerate(results):
        amounts = (f"{values[n]:,.2f}" if values[n] else "-" for _, values in used)
        shown.add_row(str(n + 1), one.method.name, *amounts)
    show_table(out, shown)
    out.print(
        f"\nCash includes markups. A day is worth ${comparison.day_worth:,.2f}"
        + ("; set it with --day-worth." if not comparison.day_worth else ".")
    )


def _show_work(out: Console, comparison: Comparison) -> None:
    shown = table(
        ("", "code"), ("Limited by", "text"), ("Output\nper hour", "number"), ("Days", "number"),
        ("Days,\nno waiting", "number"), ("Labor\nhours", "number"), ("Machine\ndays", "number"),
        ("Waiting $", "number"),
    )  # fmt: skip
    for n, one in enumerate(comparison.results, start=1):
        shown.add_row(
            str(n),
            ", ".join(one.bottlenecks) or "the crew's pace",
            counted(f"{one.output_per_hr:,.2f}", comparison.item.assembly.unit.name),
            f"{one.days:,.2f}",
            f"{one.days_at_best:,.2f}",
            f"{one.labor_hours:,.1f}",
            f"{one.machine_days:,.2f}",
            f"{one.waiting_cost:,.2f}" if one.waiting_cost else "-",
        )
    out.print()
    show_table(out, shown)


def _show_best(out: Console, comparison: Comparison) -> None:
    from estimator.studies.comparison.level_sentences import rising_sentences
    from estimator.studies.comparison.method_notes import note_sentences
    from estimator.studies.comparison.sentences import best_sentences, obstacle_sentences

    out.print()
    notes = (
        *obstacle_sentences(comparison),
        *note_sentences(comparison),
        *rising_sentences(comparison),
    )
    for sentence in (*notes, *best_sentences(comparison)):
        hanging(out, "", "", sentence)


def _show_changing(
    out: Console, comparison: Comparison, changing: Sequence[CheapestIntervals]
) -> None:
    """Print what changes the choice: how far that of now holds, and what is beside it."""
    from estimator.studies.comparison.sentences import STEP_NOTE, changing_words

    if not changing:
        out.print("\nNo single value between half and double changes the choice.")
        return
    out.print("\nWhat would change the choice, nearest first")
    lead = ""
    for one in changing[:MOST_CHANGING]:
        words = changing_words(comparison, one)
        if words.answer != lead:
            lead = words.answer
            hanging(out, "  ", "  ", f"{lead} while")
        hanging(out, "  - ", "    ", f"{words.condition}; {words.beside}")
    if len(changing) > MOST_CHANGING:
        out.print(f"  and {len(changing) - MOST_CHANGING} more: --json lists them all")
    hanging(out, "", "", STEP_NOTE)


def _show_curves(
    out: Console, comparison: Comparison, curves: Curves, cheapest: CheapestIntervals
) -> None:
    from estimator.studies.comparison.sentences import (
        cheapest_sentences,
        sentence_case,
        step_sentence,
        value_text,
    )

    out.print()
    for sentence in (*cheapest_sentences(comparison, cheapest), step_sentence(cheapest)):
        hanging(out, "", "", sentence_case(sentence))
    count = len(comparison.prepared)
    shown = table(
        (curves.varied.name, "text"), *((f"{n} $", "number") for n in range(1, count + 1)),
        ("Best", "number"),
    )  # fmt: skip
    rows = np.unique(np.linspace(0, len(curves.values) - 1, CURVE_ROWS).round().astype(int))
    for row in rows.tolist():
        amounts = (f"{dollars(int(cents)):,.2f}" for cents in curves.cents[:, row])
        value = value_text(curves.varied, float(curves.values[row]))
        best = ", ".join(str(place + 1) for place in curves.cheapest_at(row))
        shown.add_row(value, *amounts, best)
    out.print()
    show_table(out, shown)


def _show_map(out: Console, comparison: Comparison, cost_map: CostMap) -> None:
    from estimator.studies.comparison.map_key import map_key
    from estimator.studies.comparison.sentences import value_text

    out.print(f"\nLowest total cost: {cost_map.up.name} up, {cost_map.across.name} across")
    key = map_key(comparison, cost_map)
    ny, nx = cost_map.cheapest.shape
    rows = np.linspace(ny - 1, 0, MAP_ROWS).round().astype(int)
    columns = np.linspace(0, nx - 1, MAP_COLUMNS).round().astype(int)
    labels = [value_text(cost_map.up, float(cost_map.up_values[row])) for row in rows.tolist()]
    width = max(map(len, labels))
    for label, row in zip(labels, rows.tolist(), strict=True):
        field = "".join(key[place][0] for place in cost_map.cheapest[row, columns].tolist())
        out.print(f"{label:>{width}}  {field}")
    low, high = (value_text(cost_map.across, float(cost_map.across_values[n])) for n in (0, -1))
    out.print(f"{'':{width}}  {low}{high:>{MAP_COLUMNS - len(low)}}")
    written = (f"{one.name} {value_text(one, one.base)}" for one in (cost_map.across, cost_map.up))
    out.print(f"As written: {', '.join(written)}")
    hanging(out, "", "", "; ".join(f"{mark} {words}" for mark, words in key))


def _show_saving(out: Console, comparison: Comparison, saving: SaveOrScrap) -> None:
    from estimator.studies.comparison.sentences import saving_sentence, sentence_case

    shown = table(
        ("Where the difference comes from", "text"), ("Salvage $", "number"), ("Scrap $", "number"),
        ("Difference $", "number"),
    )  # fmt: skip
    for part in saving.parts:
        shown.add_row(
            part.name, f"{part.first:,.2f}", f"{part.second:,.2f}", f"{part.difference:,.2f}"
        )
    save, scrap = saving.save.in_all, saving.scrap.in_all
    shown.add_row(
        "Total with time", f"{save:,.2f}", f"{scrap:,.2f}", f"{scrap - save:,.2f}", style="bold"
    )
    out.print()
    show_table(out, shown)
    out.print()
    hanging(out, "", "", sentence_case(saving_sentence(comparison, saving)))


def _show_course(out: Console, course: ChangedCourse) -> None:
    from estimator.studies.comparison.level_sentences import standing_sentences
    from estimator.studies.comparison.sentences import (
        course_sentence,
        held_back_sentences,
        on_hand_sentences,
        pace_sentence,
    )

    out.print()
    notes = (*standing_sentences(course), *on_hand_sentences(course), *held_back_sentences(course))
    for sentence in (pace_sentence(course), *notes):
        hanging(out, "", "", sentence)
    shown = table(
        ("", "code"), ("To finish", "text"), ("Cost $", "number"), ("Days", "number"),
        ("Total with\ntime $", "number"),
    )  # fmt: skip
    for n, way in enumerate(course.ways, start=1):
        name = f"{way.method.name} (under way)" if way.is_under_way else way.method.name
        shown.add_row(str(n), name, f"{way.full:,.2f}", f"{way.days:,.2f}", f"{way.in_all:,.2f}")
    out.print()
    show_table(out, shown)
    out.print()
    hanging(out, "", "", course_sentence(course) + ".")


def _show_words(out: Console, comparison: Comparison) -> None:
    risks = [
        f"{n} {risk}" for n, one in enumerate(comparison.results, start=1)
        for risk in one.method.risks
    ]  # fmt: skip
    sentences(out, "Risks", risks)
    rows = [(one, _numbers(comparison.methods_with(one))) for one in comparison.cautions]
    show_cautions(out, "Cautions, by who decides, with the methods if not of all", rows)


def _numbers(places: Sequence[int]) -> str:
    return ", ".join(str(place + 1) for place in places)
