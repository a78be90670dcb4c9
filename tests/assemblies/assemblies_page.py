"""Writes docs/assemblies.md from the shipped tables.

`.venv/bin/python -m tests.assemblies.assemblies_page > docs/assemblies.md`
"""

from __future__ import annotations

import sys
from collections.abc import Iterator

from estimator.assemblies.assembly import Assembly, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.opening import open_tables

_CREDIT = {
    "yes": "normally counts", "no": "normally does not count", "ask": "ask a tax adviser",
}  # fmt: skip
_HEAD = """\
# The assemblies

What the program can price, from the shipped tables: what is in each assembly and what is not, what
you give, what is taken unless you say otherwise, who does it, what it uses, and which cautions
stand beside it. All rates of the tables are illustrative until your quotes lie over them; "common
practice, no source" is a range to think in, not a measurement. `groundsill rates assemblies CODE`
shows the formulas. This page is written from the tables:
`.venv/bin/python -m tests.assemblies.assemblies_page > docs/assemblies.md`.
"""


def assemblies_page(tables: Tables) -> str:
    """Return the page, in the order of the tables.

    Parameters
    ----------
    tables : Tables
        The shipped tables.
    """
    assemblies = tables.catalogue.assemblies.values()
    parts = [_HEAD, "| assembly | work | unit |\n| --- | --- | --- |"]
    parts += [
        f"| [`{one.code}`](#{one.code}) | {one.name} | {one.unit.name} |" for one in assemblies
    ]
    for one in assemblies:
        parts += ["", *_section(one, tables)]
    parts += ["", "## The cautions", ""]
    parts += [
        f"- `{one.code}`: {one.caution} (Ask: {one.defer_to}.)"
        for one in tables.catalogue.cautions.values()
    ]
    return "\n".join(parts) + "\n"


def _section(one: Assembly, tables: Tables) -> Iterator[str]:
    yield f"## {one.code}\n\n**{one.name}**, per {one.unit.name}. {_sentence(one.note)}\n"
    yield from _inputs("You give", [x for x in one.inputs if x.is_required])
    yield from _inputs("Taken unless you say otherwise", [
        x for x in one.inputs if not x.is_required and not x.is_derived
    ])  # fmt: skip
    if one.crew:
        members = tables.crews[one.crew].members
        names = ", ".join(f"{m.number} {tables.rates.name_of(m.resource)}" for m in members)
        yield f"- Crew `{one.crew}`: {names}"
    used = dict.fromkeys(tables.rates.name_of(line.resource) for line in one.lines)
    if used:
        yield f"- Uses: {'; '.join(used)}"
    yield f"- Tax credit: {_CREDIT[one.credit]}"
    if one.cautions:
        yield f"- Cautions: {', '.join(f'`{code}`' for code in one.cautions)}"


def _inputs(title: str, inputs: list[AssemblyInput]) -> Iterator[str]:
    if inputs:
        yield f"- {title}:"
    for one in inputs:
        source = "" if one.default is None else f" [{one.source}]"
        yield f"  - `{one.name}` ({_default(one)}): {one.meaning}{source}"


def _default(one: AssemblyInput) -> str:
    if one.default is None:
        return one.unit.name
    if one.unit.name == "fraction":
        return f"{(one.default * 100).normalize():f} %"
    return f"{one.default.normalize():f} {one.unit.name}"


def _sentence(note: str) -> str:
    return f"{note[:1].upper()}{note[1:]}." if note else ""


if __name__ == "__main__":
    sys.stdout.write(assemblies_page(open_tables()))
