"""The sheet of inputs: what each method was priced with, down to the source of each rate."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.quantity.units import unit
from estimator.scope.methods.method import Production
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.prepared_method import PreparedMethod
from estimator.studies.comparison.step_times import own_number
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Inputs"
COLUMNS = (
    Column("What", 44),
    Column("Value", 16, True),
    Column("Unit", 12),
    Column("As written", 30),
    Column("Meaning", 46),
    Column("Source", 44),
)
NOTE = (
    "Each value is the scope's, or the assembly's default where the scope gives none. Change it "
    "in the scope and compare again: this sheet is for reading only."
)


@dataclass(frozen=True)
class _Shown:
    """One row of the sheet."""

    what: str
    value: float
    unit: str
    stated: str
    meaning: str
    source: str


def write_method_inputs(book: Book, comparison: Comparison, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.across(TITLE, "title")
    pen.across(NOTE)
    for number, prepared in enumerate(comparison.prepared, start=1):
        method = prepared.method
        pen.section(
            f"{number} {method.name}: {method.assembly.name} ({method.assembly.code})",
            [column.heading for column in COLUMNS],
        )
        for shown in (*_inputs(prepared), *_steps(prepared), *_sums(prepared), *_rates(prepared)):
            pen.text(1, shown.what)
            pen.number(2, shown.value, "plain quantity 4")
            for column, words in enumerate(
                (shown.unit, shown.stated, shown.meaning, shown.source), start=3
            ):
                pen.text(column, words)
            pen.down()
    pen.finish(page)


def _inputs(prepared: PreparedMethod) -> Iterator[_Shown]:
    for one in prepared.assembly.inputs:
        if not one.is_derived:
            value = float(prepared.inputs[one.name]) / float(one.unit.factor)
            stated = prepared.method.inputs.get(one.name)
            yield _Shown(
                one.name,
                value,
                one.unit.name,
                stated.text if stated else "",
                one.meaning,
                "the scope" if stated else f"{one.source} ({one.origin})",
            )


def _steps(prepared: PreparedMethod) -> Iterator[_Shown]:
    production = prepared.method.production
    for kind in production.kinds if production else ():
        yield from _kind_steps(kind)
    if production and production.pile:
        pile, name = production.pile, prepared.assembly.unit.name
        for what, written, per in (
            ("the pile holds", pile.holds, name), ("comes to the pile", pile.comes, f"{name}/hr"),
        ):  # fmt: skip
            value = written.base_value / float(unit(per).factor)
            yield _Shown(what, value, per, written.text, "what lies outside", "the scope")


def _kind_steps(production: Production) -> Iterator[_Shown]:
    system = production.system
    load = f"{production.carrier} load"
    yield _Shown(
        f"{production.carrier}s", system.carriers, "ea", "", "how many there are", "the scope"
    )
    yield _Shown(load, system.load.size, system.load.unit, "", "load of each", "the scope")
    yield _Shown("efficiency", system.efficiency, "", "", "working share of an hour", "the scope")
    for step in system.cycle:
        number, per = own_number(production, step.name)
        station = f"at the station {step.station}" if step.station else "on the way"
        yield _Shown(step.name, number, per, "", station, "the scope")


def _sums(prepared: PreparedMethod) -> Iterator[_Shown]:
    method = prepared.method
    for what, amount, meaning in (
        ("mobilization", method.mobilization, "delivery, setup and pickup"),
        ("storage", method.storage, "storing what is kept"),
    ):
        if amount:
            yield _Shown(what, float(amount), "$", "", meaning, "the scope")


def _rates(prepared: PreparedMethod) -> Iterator[_Shown]:
    lines = (*prepared.lines, prepared.kept) if prepared.kept else prepared.lines
    for rate in {one.rate.code: one.rate for one in lines}.values():
        yield _Shown(
            rate.code, float(rate.rate), f"$/{rate.unit.name}", "", rate.name,
            f"{rate.source} ({rate.origin})",
        )  # fmt: skip
