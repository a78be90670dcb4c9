"""Assemblies on the terminal: the list, and one assembly with what it asks for and uses."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.commands.printing import page, show_table, table

if TYPE_CHECKING:
    from rich.table import Table

    from estimator.assemblies.assembly import Assembly, AssemblyInput
    from estimator.assemblies.tables import Tables


def show_assemblies(tables: Tables) -> None:
    """Print every assembly with its unit."""
    shown = table(("Assembly", "code"), ("Work", "text"), ("Unit", "code"))
    for assembly in tables.catalogue.assemblies.values():
        shown.add_row(assembly.code, assembly.name, assembly.unit.name)
    with page() as out:
        show_table(out, shown)
        out.print(
            "\n'groundsill rates assemblies CODE' shows the inputs and resources of an assembly."
        )


def show_assembly(tables: Tables, assembly: Assembly) -> None:
    """Print what an assembly asks for, works out and uses."""
    with page() as out:
        out.print(f"{assembly.name} ({assembly.code}), per {assembly.unit.name}")
        if assembly.note:
            out.print(assembly.note)
        out.print(f"quantity = {assembly.quantity.text}")
        if assembly.crew:
            members = tables.crews[assembly.crew].members
            listed = ", ".join(f"{member.number} {member.resource}" for member in members)
            out.print(f"crew {assembly.crew}: {listed}")
        for shown in (_inputs(assembly), _uses(tables, assembly)):
            out.print()
            show_table(out, shown)
        for code in assembly.cautions:
            out.print(f"\nCaution: {tables.catalogue.cautions[code].caution}")


def _inputs(assembly: Assembly) -> Table:
    shown = table(("Input", "code"), ("Unit", "code"), ("Value", "text"), ("Meaning", "text"))
    for one in assembly.inputs:
        shown.add_row(one.name, one.unit.name, _value(one), one.meaning)
    return shown


def _uses(tables: Tables, assembly: Assembly) -> Table:
    shown = table(("Uses", "code"), ("Need", "text"), ("Waste", "code"), ("Unit", "code"))
    for line in assembly.lines:
        waste = line.waste.text if line.waste else ""
        unit_name = tables.rates.unit_of(line.resource).name
        shown.add_row(line.resource, line.formula.text, waste, unit_name)
    return shown


def _value(one: AssemblyInput) -> str:
    if one.formula is not None:
        return f"= {one.formula.text}"
    if one.default is not None:
        return f"{one.default.normalize():f}"
    limits = [f"{limit.normalize():f}" for limit in (one.least, one.most) if limit is not None]
    return f"required ({' to '.join(limits)})" if limits else "required"
