"""Assemblies priced once by hand: need, quantity as bought, and dollars of each line.

A file `..._by_hand.csv` beside this one has one row a line: what the assembly is given, the working
with its numbers, the quantity that comes of it (raised where it says `whole`), the rate (0 where
the job itself recovered the material) and the amount. The items of a file make one scope.
"""

import csv
from itertools import groupby
from pathlib import Path

import pytest

import estimator
from estimator.money import cents_text, fixed_point_text

FILES = sorted(Path(__file__).parent.glob("*_by_hand.csv"))
ASSEMBLIES = [
    (file.stem, code, list(rows))
    for file in FILES
    for code, rows in groupby(
        csv.DictReader(file.read_text(encoding="utf-8").splitlines()),
        key=lambda row: row["assembly"],
    )
]


@pytest.fixture(scope="module")
def lines(tmp_path_factory):
    """Lines of an estimate a file, which has each assembly as the only item of a phase."""
    return {
        name: _lines(tmp_path_factory.mktemp(name) / "scope.yaml", list(cases))
        for name, cases in groupby(ASSEMBLIES, key=lambda case: case[0])
    }


def _lines(path, cases):
    path.write_text(
        "project: Harrow Lane Carbarn\non: 2026-03-02\nmarkups: []\nphases:\n"
        + "".join(_phase(place, code, rows) for place, (_, code, rows) in enumerate(cases)),
        encoding="utf-8",
    )
    scope, tables, on = estimator.open_scope(path)
    return estimator.price(scope, tables, on).cost_lines


def _phase(place, code, rows):
    inputs = rows[0]["inputs"].replace("; ", ", ")
    return (
        f'  - code: "{place + 100}"\n    name: {code}\n    items:\n'
        f'      - {{code: "010", name: {code}, assembly: {code}, inputs: {{{inputs}}}}}\n'
    )


@pytest.mark.parametrize(
    ("file", "code", "rows"), ASSEMBLIES, ids=[code for _, code, _ in ASSEMBLIES]
)
def test_an_assembly_is_priced_as_by_hand(file, code, rows, lines):
    assert sorted(
        (line.resource, fixed_point_text(line.ordered, line.decimals), cents_text(line.cents))
        for line in lines[file]
        if line.assembly == code
    ) == sorted((row["resource"], row["quantity"], row["amount"]) for row in rows)


def test_every_assembly_that_uses_something_is_priced_by_hand_with_cautions_and_credit_answer():
    uses = {
        code: one
        for code, one in estimator.open_tables().catalogue.assemblies.items()
        if one.crew or one.lines
    }
    assert len(uses) >= 57 + 90
    assert uses.keys() - {code for _, code, _ in ASSEMBLIES} == set()
    assert [code for code, one in uses.items() if not (one.inputs and one.cautions)] == []
    assert {one.credit for one in uses.values()} == {"yes", "no", "ask"}
