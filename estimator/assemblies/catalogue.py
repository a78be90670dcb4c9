"""The catalogue of assemblies, read from three tables: assemblies, their inputs and their lines."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from estimator.assemblies.assembly import (
    CREDIT_ANSWERS,
    Assembly,
    AssemblyInput,
    AssemblyLine,
    Recovery,
)
from estimator.assemblies.assembly_check import check_assembly
from estimator.assemblies.cautions import Caution, read_cautions
from estimator.errors import Faults, ScopeFaulty, did_you_mean, fault, quoted
from estimator.production.crews import ORDERED_PER, Crew
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import UNREADABLE, Unit
from estimator.rates.densities import Density, read_densities
from estimator.rates.folders import TableFolder, keyed_rows, table_rows
from estimator.rates.precision import UnitPrecision
from estimator.rates.resources import RateTable
from estimator.rates.rows import Origin, Row

_DENSITY_OF = "density of "
_STAND_IN = read_formula("0")


@dataclass(frozen=True)
class Catalogue:
    """All assemblies, cautions and densities by code."""

    assemblies: Mapping[str, Assembly]
    cautions: Mapping[str, Caution]
    densities: Mapping[str, Density]

    @cached_property
    def own_materials(self) -> Mapping[str, Recovery]:
        """By code of each own material that is counted, what it is sold and bought as."""
        rows = [row for one in self.assemblies.values() for row in one.recoveries]
        return {row.material: row for row in reversed(rows)}


@dataclass(frozen=True)
class Below:
    """What the assemblies are made from: rates, crews, densities, cautions, printed precision."""

    rates: RateTable
    crews: Mapping[str, Crew]
    densities: Mapping[str, Density]
    cautions: Mapping[str, Caution]
    precision: UnitPrecision


def assembly_named(catalogue: Catalogue, code: str) -> Assembly:
    """Return the assembly of a code.

    Raises
    ------
    ScopeFaulty
        If there is none, with the nearest code.
    """
    if code not in catalogue.assemblies:
        raise fault(
            ScopeFaulty,
            f"there is no assembly {quoted(code)}",
            did_you_mean(code, catalogue.assemblies, "'groundsill rates assemblies' lists them"),
        )
    return catalogue.assemblies[code]


def read_catalogue(
    folders: Sequence[TableFolder],
    rates: RateTable,
    crews: Mapping[str, Crew],
    precision: UnitPrecision,
    faults: Faults,
) -> Catalogue:
    """Return the assemblies from a stack of sets, checked, noting all faults.

    The highest set that names an assembly replaces it whole, with its inputs and lines.
    """
    below = Below(
        rates, crews, read_densities(folders, faults), read_cautions(folders, faults), precision
    )
    inputs = _grouped(folders, "assembly_inputs.csv", faults)
    lines = _grouped(folders, "assembly_lines.csv", faults)
    recoveries = _grouped(folders, "own_material.csv", faults)
    heads: dict[str, Row] = {}
    named: set[tuple[str, str]] = set()
    for code, row in keyed_rows(folders, "assemblies.csv", "code", "assembly", faults):
        heads[code] = row
        named.add((row.origin.tables, code))
    _check_reachable(heads, named, inputs, lines, recoveries)
    assemblies = {}
    for code, head in heads.items():
        key = (head.origin.tables, code)
        assembly = replace(
            _assembly(code, head, inputs.get(key, []), lines.get(key, []), below),
            recoveries=_recoveries(recoveries.get(key, [])),
        )
        check_assembly(assembly, below.rates, below.precision, faults)
        assemblies[code] = assembly
    return Catalogue(assemblies, below.cautions, below.densities)


def _grouped(
    folders: Sequence[TableFolder], file: str, faults: Faults
) -> dict[tuple[str, str], list[Row]]:
    """Return the rows of a table by set and assembly."""
    groups: dict[tuple[str, str], list[Row]] = {}
    for row in table_rows(folders, file, faults):
        groups.setdefault((row.origin.tables, row.code("assembly")), []).append(row)
    return groups


def _check_reachable(
    heads: Mapping[str, Row],
    named: Collection[tuple[str, str]],
    *tables: Mapping[tuple[str, str], Sequence[Row]],
) -> None:
    """Note rows that belong to no assembly of their own set: nothing could ever use them."""
    for table in tables:
        for (set_name, code), rows in table.items():
            if (set_name, code) not in named and code:
                rows[0].fault(
                    f"can never be used: assembly {quoted(code)} is not in the "
                    f"assemblies.csv of {set_name}",
                    did_you_mean(code, heads) if code not in heads else "repeat the assembly there",
                )


def _assembly(
    code: str, head: Row, input_rows: list[Row], line_rows: list[Row], below: Below
) -> Assembly:
    for caution in head.words("cautions"):
        if caution not in below.cautions:
            head.fault(f"unknown caution {quoted(caution)}", did_you_mean(caution, below.cautions))
    crew = head.code("crew", required=False)
    if crew and crew not in below.crews:
        head.fault(f"unknown crew {quoted(crew)}", did_you_mean(crew, below.crews))
    numbers = [int(row.decimal("line", decimals=0) or 0) for row in line_rows]
    ordered = [row for _, row in sorted(zip(numbers, line_rows, strict=True), key=lambda x: x[0])]
    _check_repeats(line_rows, [str(number) for number in numbers], "line")
    _check_repeats(input_rows, [row.cells["input"] for row in input_rows], "input")
    return Assembly(
        code=code,
        name=head.text("name"),
        unit=head.unit("unit"),
        quantity=head.formula("quantity") or _STAND_IN,
        crew=crew,
        element=head.text("element", required=False),
        credit=head.choice("credit", CREDIT_ANSWERS),
        cautions=head.words("cautions"),
        inputs=tuple(_input(row, below.densities) for row in input_rows),
        lines=tuple(_line(row) for row in ordered),
        source=head.source(),
        origin=head.origin,
        note=head.text("note", required=False),
    )


def _check_repeats(rows: Sequence[Row], keys: Sequence[str], what: str) -> None:
    first: dict[str, Origin] = {}
    for row, key in zip(rows, keys, strict=True):
        if key in first:
            row.fault(f"repeats {what} {quoted(key)} of row {first[key].row}")
        first.setdefault(key, row.origin)


def _input(row: Row, densities: Mapping[str, Density]) -> AssemblyInput:
    entered_in = row.unit("unit")
    one = AssemblyInput(
        name=row.name("input"),
        unit=entered_in,
        default=_default(row, entered_in, densities),
        least=row.decimal("least", decimals=6, required=False),
        most=row.decimal("most", decimals=6, required=False),
        formula=row.formula("formula", required=False),
        meaning=row.text("meaning"),
        source=row.source(),
        origin=row.origin,
        note=row.text("note", required=False),
    )
    if one.formula is not None and one.default is not None:
        row.fault(f"input {quoted(one.name)} has both a default and a formula", "keep one of them")
    _check_range(row, one)
    return one


def _check_range(row: Row, one: AssemblyInput) -> None:
    if one.least is not None and one.most is not None and one.least > one.most:
        row.fault(f"least {one.least} is above most {one.most}")
    if one.default is None:
        return
    if one.least is not None and one.default < one.least:
        row.fault(f"default {one.default} is below least {one.least}")
    if one.most is not None and one.default > one.most:
        row.fault(f"default {one.default} is above most {one.most}")


def _default(row: Row, entered_in: Unit, densities: Mapping[str, Density]) -> Decimal | None:
    written = row.text("default", required=False)
    if not written.startswith(_DENSITY_OF):
        return row.decimal("default", decimals=6, required=False)
    material = written.removeprefix(_DENSITY_OF).strip()
    if material not in densities:
        row.fault(f"unknown material {quoted(material)}", did_you_mean(material, densities))
        return None
    density = densities[material]
    if entered_in not in (density.unit, UNREADABLE):
        row.fault(
            f"the density of {quoted(material)} is per {density.unit.name}",
            "use that unit in the row",
        )
    return density.density


def _line(row: Row) -> AssemblyLine:
    ordered_per = row.text("ordered_per", required=False) or "item"
    if ordered_per not in ORDERED_PER:
        row.fault(f"ordered_per {quoted(ordered_per)} is not known", "write item or phase")
    row.source()
    return AssemblyLine(
        resource=row.code("resource"),
        formula=row.formula("formula") or _STAND_IN,
        waste=row.formula("waste", required=False),
        order_multiple=row.formula("order_multiple", required=False),
        minimum=row.formula("minimum", required=False),
        ordered_per=ordered_per,
        is_crew=False,
        origin=row.origin,
    )


def _recoveries(rows: Sequence[Row]) -> tuple[Recovery, ...]:
    recoveries = tuple(
        Recovery(
            material=row.code("material"),
            formula=row.formula("formula") or _STAND_IN,
            sold_as=row.code("sold_as", required=False),
            bought_as=row.code("bought_as", required=False),
            origin=row.origin,
        )
        for row in rows
    )
    _check_repeats(rows, [one.material for one in recoveries], "material")
    for row in rows:
        row.source()
    return recoveries
