"""The sheet of methods: what each comes to, what limits it, and what would change the choice."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.money import money_text
from estimator.quantity.units import counted
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.cost_difference import SaveOrScrap
from estimator.studies.comparison.findings import Findings
from estimator.studies.comparison.level_sentences import rising_sentences, standing_sentences
from estimator.studies.comparison.method_dates import date_sentences, rest_sentences
from estimator.studies.comparison.method_notes import note_sentences
from estimator.studies.comparison.sentences import (
    STEP_NOTE,
    IntervalWords,
    best_sentences,
    changing_words,
    course_sentence,
    held_back_sentences,
    interval_words,
    obstacle_sentences,
    on_hand_sentences,
    pace_sentence,
    saving_sentence,
    sentence_case,
    step_sentence,
)
from estimator.workbook.sheets.caution_sheet import NOTE as CAUTION_NOTE
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Methods"
COLUMNS = (
    Column("No.", 6, True),
    Column("Method", 40),
    Column("Cash [$]", 14, True),
    Column("Unpaid value [$]", 14, True),
    Column("Kept for use or sold [$]", 14, True),
    Column("Days at work [day]", 11, True),
    Column("Time cost [$]", 14, True),
    Column("Total with time [$]", 15, True),
    Column("Per unit, without time [$]", 14, True),
    Column("Rank by cost", 9, True),
)
_NUMBER, _NAME, _PAID, _OWN, _KEPT, _DAYS, _WORTH, _IN_ALL, _UNIT, _RANK = range(1, 11)


@dataclass(frozen=True)
class _Basis:
    """Addresses of the quantity of the work and the worth of a day."""

    quantity: str
    day_worth: str


def write_methods(book: Book, comparison: Comparison, findings: Findings, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    basis = _top(pen, comparison)
    _costs(pen, comparison, basis)
    _work(pen, comparison)
    if findings.course is not None:
        _course(pen, comparison, findings.course)
    if findings.saving is not None:
        _saving(pen, comparison, findings.saving)
    _changing(pen, comparison, findings)
    _risks(pen, comparison)
    _cautions(pen, comparison)
    pen.finish(page)


def _top(pen: SheetPen, comparison: Comparison) -> _Basis:
    item = comparison.item
    pen.across(f"{item.code} {item.name}", "title")
    pen.across(
        f"{comparison.project}: {len(comparison.prepared)} ways to do the work, at the rates of "
        f"{comparison.on:%Y-%m-%d}. Cash includes percentage markups. A cream cell may be changed."
    )
    pen.down()
    addresses = []
    for words, value, style in (
        (f"Quantity of the work [{item.assembly.unit.name}]", comparison.quantity, "quantity 2"),
        ("What a day sooner is worth [$/day]", comparison.day_worth, "money"),
    ):
        pen.text(_NAME, words)
        pen.number(_PAID, float(value), f"input {style}")
        addresses.append(f"${pen.letters[_PAID - 1]}${pen.row}")
        pen.down()
    return _Basis(*addresses)


def _costs(pen: SheetPen, comparison: Comparison, basis: _Basis) -> None:
    pen.section("What each costs", [column.heading for column in COLUMNS])
    first = pen.row
    letter = pen.letters[_IN_ALL - 1]
    totals = [f"${letter}${first + place}" for place in comparison.competing]
    ranks = sorted(one.in_all for one in comparison.possible)
    for number, one in enumerate(comparison.results, start=1):
        style = "strong" if one is comparison.cheapest else "plain"
        pen.number(_NUMBER, number, f"{style} number")
        pen.text(_NAME, one.method.name, style)
        for column, amount in (
            (_PAID, one.cash), (_OWN, one.own), (_KEPT, -one.kept - one.sold),
        ):  # fmt: skip
            pen.number(column, float(amount), f"{style} money")
        pen.number(_DAYS, round(one.days, 2), f"{style} quantity 2")
        worth = f"ROUND({pen.at(_DAYS)}*{basis.day_worth},2)"
        pen.formula(_WORTH, worth, float(one.day_cost), f"{style} money")
        full = f"{pen.at(_PAID)}+{pen.at(_OWN)}+{pen.at(_KEPT)}"
        in_all = f"ROUND({full}+{pen.at(_WORTH)},2)"
        pen.formula(_IN_ALL, in_all, float(one.in_all), f"{style} money")
        unit = f"ROUND(({full})/{basis.quantity},2)"
        pen.formula(_UNIT, unit, float(one.unit_cost), f"{style} money")
        if one.method.obstacle:
            pen.text(_RANK, "-", style)
        else:
            rank = "+".join(("1", *(f"({total}<{pen.at(_IN_ALL)})" for total in totals)))
            pen.formula(_RANK, rank, 1 + ranks.index(one.in_all), f"{style} number")
        pen.down()
    worth = f"The sentences are for a day worth {money_text(comparison.day_worth)}."
    sentences = (
        *obstacle_sentences(comparison),
        *note_sentences(comparison),
        *rising_sentences(comparison),
        *best_sentences(comparison),
        *map(sentence_case, date_sentences(comparison, None)),
        worth,
    )
    pen.across(" ".join(sentences))


def _work(pen: SheetPen, comparison: Comparison) -> None:
    headings = (
        "No.", "Limited by", "Output per hour", "Unit", "Hours at work [hr]",
        "Hours, no waiting [hr]",         "Labor [hr]", "Machines [day]", "Cost of waiting [$]", "",
    )  # fmt: skip
    pen.section("How fast, and what limits it", headings)
    for number, one in enumerate(comparison.results, start=1):
        pen.number(1, number, "plain number")
        pen.text(2, ", ".join(one.bottlenecks) or "the crew's pace")
        pen.number(3, round(one.output_per_hr, 2), "plain quantity 2")
        pen.text(4, comparison.item.assembly.unit.name)
        for column, value in (
            (5, one.hours), (6, one.hours_at_best), (7, one.labor_hours), (8, one.machine_days),
        ):  # fmt: skip
            pen.number(column, round(value, 2), "plain quantity 2")
        pen.number(9, float(one.waiting_cost), "plain money")
        pen.fill("plain")
        pen.down()


def _changing(pen: SheetPen, comparison: Comparison, findings: Findings) -> None:
    _headed(pen, "What would change the choice", (2, "While", 5), (6, "Lowest total cost", 10))
    for words in _answers(comparison, findings):
        answer = "; ".join(part for part in (words.answer, words.beside) if part)
        _spread(pen, (2, words.condition, 5), (6, f"{answer[0].upper()}{answer[1:]}", 10))
    if findings.is_varied:
        pen.across(sentence_case(step_sentence(findings.cheapest[0])))
    elif findings.cheapest:
        pen.across(STEP_NOTE)
    else:
        pen.across("Nothing that was varied changes the choice.")
    for note in findings.notes:
        pen.across(sentence_case(note))


def _answers(comparison: Comparison, findings: Findings) -> list[IntervalWords]:
    if not findings.is_varied:
        return [changing_words(comparison, one) for one in findings.cheapest]
    (only,) = findings.cheapest
    return [interval_words(comparison, only.varied, one) for one in only.intervals]


def _headed(pen: SheetPen, title: str, *headings: tuple[int, str, int]) -> None:
    """Write the title of a table of words, and headings that span columns."""
    pen.down()
    pen.across(title, "section")
    _spread(pen, *headings, style="head")


def _spread(pen: SheetPen, *texts: tuple[int, str, int], style: str = "plain") -> None:
    """Write texts, each over the columns from the first to the last named."""
    for first, words, last in texts:
        pen.over(first, last, words, style)
    pen.fill(style)
    pen.down()


def _saving(pen: SheetPen, comparison: Comparison, saving: SaveOrScrap) -> None:
    headings = ("", "Part", "Salvage [$]", "Scrap [$]", "Difference [$]",
                *("" for _ in range(5)))  # fmt: skip
    pen.section("Where the difference between salvage and scrap comes from", headings)
    first = pen.row
    for part in saving.parts:
        pen.text(2, part.name)
        pen.number(3, float(part.first), "plain money")
        pen.number(4, float(part.second), "plain money")
        pen.formula(5, f"ROUND({pen.at(4)}-{pen.at(3)},2)", float(part.difference), "plain money")
        pen.fill("plain")
        pen.down()
    totals = (saving.save.in_all, saving.scrap.in_all, saving.scrap.in_all - saving.save.in_all)
    pen.text(2, "Total with time", "band")
    for column, total in zip((3, 4, 5), totals, strict=True):
        pen.sum(column, first, float(total), "band money")
    pen.fill("band")
    pen.down()
    pen.across(sentence_case(saving_sentence(comparison, saving)))


def _course(pen: SheetPen, comparison: Comparison, course: ChangedCourse) -> None:
    headings = ("No.", "To finish", "Cost [$]", "Days [day]", "Total with time [$]",
                *("" for _ in range(5)))  # fmt: skip
    pen.section(
        f"From here on: {counted(f'{course.now.remaining:,.2f}', course.unit)} left", headings
    )
    for number, way in enumerate(course.ways, start=1):
        name = f"{way.method.name} (under way)" if way.is_under_way else way.method.name
        style = "strong" if way is course.best else "plain"
        pen.number(1, number, f"{style} number")
        pen.text(2, name, style)
        pen.number(3, float(way.full), f"{style} money")
        pen.number(4, round(way.days, 2), f"{style} quantity 2")
        pen.number(5, float(way.in_all), f"{style} money")
        pen.fill(style)
        pen.down()
    for sentence in (
        pace_sentence(course),
        *standing_sentences(course),
        *on_hand_sentences(course),
        *held_back_sentences(course),
    ):
        pen.across(sentence)
    sentences = (course_sentence(course), *rest_sentences(comparison, course))
    pen.across(". ".join(map(sentence_case, sentences)))


def _risks(pen: SheetPen, comparison: Comparison) -> None:
    risks = [
        (number, risk)
        for number, one in enumerate(comparison.results, start=1)
        for risk in one.method.risks
    ]
    if not risks:
        return
    _headed(pen, "Risks", (1, "No.", 1), (2, "Risk", 10))
    for number, risk in risks:
        pen.number(1, number, "plain number")
        _spread(pen, (2, risk, 10))


def _cautions(pen: SheetPen, comparison: Comparison) -> None:
    _headed(pen, "Cautions", (1, "No.", 1), (2, "Caution", 7), (8, "Who decides", 10))
    for one in comparison.cautions:
        numbers = ", ".join(str(place + 1) for place in comparison.methods_with(one))
        _spread(pen, (1, numbers or "all", 1), (2, one.caution, 7), (8, one.defer_to, 10))
    pen.across(CAUTION_NOTE)
