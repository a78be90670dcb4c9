"""The digest: changes with whatever the figures depend on, and with nothing else."""

import os
import subprocess
import sys
from copy import deepcopy
from dataclasses import field, fields, make_dataclass, replace
from datetime import date
from pathlib import Path

import pytest

from estimator.assemblies.assembly import Assembly
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.printed_estimate import printed_estimate
from estimator.quantity.formulas import Formula
from estimator.scheduling.dated_estimate import price
from estimator.scope.input_value import InputValue
from estimator.scope.inspection import Inspection
from estimator.scope.methods.method import Method
from estimator.scope.scope import Item, Scope
from estimator.scope.scope_digest import COVERED, _covered, scope_digest
from estimator.scope.scope_reader import read_scope
from tests.factories import MADE, SPRING, item, located, made_tables, scope_of, with_cells
from tests.workbook.estimates import sample_estimate

ROOT = Path(__file__).parents[2]
SCOPE = {
    "project": "Barn",
    "shift": "8 hr/day",
    "markups": ["tax"],
    "assumptions": ["Dry."],
    "phases": [
        {
            "code": "20",
            "name": "Fill",
            "items": [
                item("010", "stone-fill", length="9 ft", width="8 ft", depth="7 ft")
                | {"crew": "gang", "element": "A1030", "note": "n"},
                item("020", "slab-pour", area="90 sf"),
            ],
        }
    ],
}


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"), MADE)


def digest(scope, tables, on=SPRING, where="scope"):
    return price(read_scope(located(scope, where), tables), tables, on).digest


def changed(path, value):
    scope = deepcopy(SCOPE)
    *way, last = path
    part = scope
    for step in way:
        part = part[step]
    part[last] = value
    return scope


FIRST = ("phases", 0, "items", 0)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("project",), "Other barn"),
        (("shift",), "9 hr/day"),
        (("markups",), []),
        (("markups",), ["overhead"]),
        (("assumptions",), ["Wet."]),
        (("phases", 0, "code"), "21"),
        (("phases", 0, "duration"), "3 day"),
        (("phases", 0, "name"), "Filling"),
        ((*FIRST, "code"), "015"),
        ((*FIRST, "name"), "Other"),
        ((*FIRST, "crew"), "solo"),
        ((*FIRST, "element"), "A1020"),
        ((*FIRST, "note"), "m"),
        ((*FIRST, "inputs", "length"), "9.01 ft"),
        ((*FIRST, "inputs", "length"), "108 in"),
        ((*FIRST, "inputs", "density"), "1.35 ton/cy"),
        (("phases", 0, "items"), list(reversed(SCOPE["phases"][0]["items"]))),
    ],
)
def test_whatever_a_scope_says_changes_the_digest(tables, path, value):
    assert digest(changed(path, value), tables) != digest(SCOPE, tables)


def test_another_duration_or_method_changes_the_digest_of_a_phase_that_has_one(tables):
    durations = [changed(("phases", 0, "duration"), days) for days in ("3 day", "4 day")]
    methods = [changed((*FIRST, "methods"), [{"name": name}]) for name in ("by hand", "by belt")]
    digests = {digest(scope, tables) for scope in (*durations, *methods)}
    assert len(digests) == 4


def test_the_day_and_every_cell_of_the_tables_change_the_digest(tables, tmp_path):
    digests = {digest(SCOPE, tables), digest(SCOPE, tables, date(2026, 4, 2))}
    edits = [
        with_cells("resources", 5, rate="24.0051"),
        with_cells("resources", 5, note="n"),
        with_cells("assemblies", 2, name="Stone"),
        with_cells("assembly_lines", 2, waste="0.06 + lost - lost"),
        with_cells("assembly_inputs", 2, most="501"),
        with_cells("crews", 2, number="3"),
        with_cells("markups", 2, percent="7.5"),
        with_cells("cautions", 2, caution="Mind."),
        with_cells("densities", 2, density="1.36"),
        with_cells("unit_precision", 5, decimals="3"),
    ]
    for number, edit in enumerate(edits):
        digests.add(digest(SCOPE, made_tables(tmp_path / str(number), edit)))
    assert len(digests) == 2 + len(edits)


def test_where_a_scope_and_its_tables_stand_changes_nothing(tables, tmp_path):
    elsewhere = made_tables(tmp_path, MADE)
    assert digest(SCOPE, elsewhere, where="other.yaml line 5") == digest(SCOPE, tables)


def with_later_items(scope):
    """Return a scope as it would be if an item had one optional field more."""
    later = make_dataclass("Later", [("color", str, field(default=""))], bases=(Item,), frozen=True)
    phases = tuple(
        replace(phase, items=tuple(later(**vars(one)) for one in phase.items))
        for phase in scope.phases
    )
    return later, replace(scope, phases=phases)


def test_a_field_that_an_item_gets_later_leaves_the_digest_until_it_is_used(tables, monkeypatch):
    before = read_scope(located(SCOPE), tables)
    later, after = with_later_items(before)
    name, covered = COVERED[Item]
    monkeypatch.setitem(COVERED, later, (name, covered))
    assert scope_digest(after) == scope_digest(before)
    monkeypatch.setitem(COVERED, later, (name, f"{covered} color"))
    _covered.cache_clear()
    assert scope_digest(after) == scope_digest(before)
    (phase,) = after.phases
    painted = replace(phase, items=(replace(phase.items[0], color="red"), *phase.items[1:]))
    assert scope_digest(replace(after, phases=(painted,))) != scope_digest(before)


LEFT_OUT = {
    Scope: {"on", "notes"}, Item: {"where"}, Method: {"where"}, Inspection: {"where"},
    InputValue: {"base_value", "profile", "is_along", "until"},  # its text says the last two
}  # fmt: skip


@pytest.mark.parametrize("kind", [kind for kind in COVERED if kind not in (Assembly, Formula)])
def test_every_field_that_says_something_is_covered(kind):
    names = {one.name for one in fields(kind)}
    assert names - LEFT_OUT.get(kind, set()) == set(COVERED[kind][1].split())


def test_the_digests_of_the_sample_stay_what_they_are():
    estimate = sample_estimate()
    assert estimate.digest == "8c93786008154f201b160a39615cc171cb8550dc96e5ad35f025c8f4db73c406"
    assert printed_estimate(estimate).lines_digest == (
        "ff2a7a61f2b6a603fa89b7eca45627d535e8bd647048f0253b9efc99bb1d50db"
    )


def test_what_is_read_back_from_its_json_is_what_was_printed(tables):
    estimate = price(read_scope(located(SCOPE), tables), tables, SPRING)
    for one in (estimate, sample_estimate()):
        assert estimate_from_json(estimate_json(one)) == printed_estimate(one)


def test_the_same_inputs_give_the_same_frames(tables):
    one, other = (price(scope_of(tables, {"20": SCOPE["phases"][0]["items"]}), tables, SPRING)
                  for _ in range(2))  # fmt: skip
    assert one.lines.equals(other.lines)
    assert one.items.equals(other.items)


PROGRAM = """
import sys
from pathlib import Path
from tests.factories import MADE, SPRING, made_tables
from tests.pricing.test_digest import SCOPE
from estimator.pricing import summaries
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_reader import read_scope
from tests.factories import located
tables = made_tables(Path(sys.argv[1]), MADE)
estimate = price(read_scope(located(SCOPE), tables), tables, SPRING)
print(estimate.digest, estimate.lines.to_csv(), estimate.items.to_csv(), estimate.markups)
print(estimate.cautions, summaries.cash_by_kind(estimate), summaries.labor_hours(estimate))
"""


def test_the_same_bytes_come_out_whatever_the_hash_seed(tmp_path):
    outputs = {
        subprocess.run(
            [sys.executable, "-c", PROGRAM, str(tmp_path)],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            cwd=ROOT,
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "4711")
    }
    assert len(outputs) == 1
    assert len(outputs.pop()) > 1000
