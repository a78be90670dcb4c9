"""What a practitioner would not sign in the tables: each fault put back in a copy is found."""

import csv
import shutil

import pytest

from estimator.assemblies.tables import load_tables
from estimator.assemblies.trade_check import trade_doubts
from estimator.errors import TablesFaulty
from estimator.opening import open_tables
from estimator.rates.folders import TableFolder, shipped_tables


@pytest.fixture
def put_back(tmp_path):
    """A function that changes or takes out rows of a copy of the shipped tables."""
    shutil.copytree(shipped_tables().path, tmp_path / "rates")

    def tables_with(*changes):
        for file, where, cells in changes:
            path = tmp_path / "rates" / f"{file}.csv"
            rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
            hit = [row for row in rows if where.items() <= row.items()]
            assert hit, where
            for row in hit:
                row.update(cells or {})
            with path.open("w", encoding="utf-8", newline="") as content:
                writer = csv.DictWriter(content, rows[0])
                writer.writeheader()
                writer.writerows(row for row in rows if cells or row not in hit)
        return load_tables([TableFolder("copy", tmp_path / "rates")])

    return tables_with


def rows_of(file, **where):
    return file, where, None


def cell(file, where, **cells):
    return file, where, cells


def of(assembly, **more):
    return {"assembly": assembly, **more}


def test_the_shipped_tables_raise_no_doubt():
    assert trade_doubts(open_tables()) == ()


PUT_BACK = {
    "a wall's hours ignore its wythes": (
        [cell("assembly_inputs", of("brick-wall-patch", input="crew_hours"),
              formula="area * bricks_per_area * (1 - toothed_share + toothed_share / toothed_pace) "
                      "/ production_rate")],
        "'brick-wall-patch': hours do not follow 'wythes'",
    ),
    "a truck does not wait for loading by hand": (
        [cell("assembly_lines", of("machine-excavation", resource="haul-truck"),
              formula="max(least_charge * min(loads, 1), loads * cycle_time)")],
        "'machine-excavation': haul-truck does not wait as long as its loading takes",
    ),
    "hauling has no least charge": (
        [cell("assembly_lines", of("hauling", resource="haul-truck"), minimum="")],
        "'hauling': haul-truck has no least charge",
    ),
    "a telehandler has no operator": (
        [cell("crews", {"crew": "timber-setters", "resource": "equipment-operator"},
              resource="laborer")],
        "'new-posts': telehandler has no operator",
    ),
    "a telehandler has no fuel": (
        [rows_of("assembly_lines", assembly="post-caps", resource="diesel"),
         rows_of("assembly_inputs", assembly="post-caps", input="fuel_rate")],
        "'post-caps': telehandler has no fuel",
    ),
    "a compressor has no fuel": (
        [rows_of("assembly_lines", assembly="masonry-break-out", resource="diesel"),
         rows_of("assembly_inputs", assembly="masonry-break-out", input="fuel_rate")],
        "'masonry-break-out': compressor-breaker has no fuel",
    ),
    "a saw has no fuel": (
        [rows_of("assembly_lines", assembly="curing-and-joints", resource="gasoline"),
         rows_of("assembly_inputs", assembly="curing-and-joints", input="saw_fuel")],
        "'curing-and-joints': concrete-saw has no fuel",
    ),
    "a mixer has no fuel": (
        [rows_of("assembly_lines", assembly="repointing", resource="gasoline"),
         rows_of("assembly_inputs", assembly="repointing", input="mixer_fuel")],
        "'repointing': mortar-mixer has no fuel",
    ),
    "a machine says nothing of its fuel": (
        [cell("resources", {"code": "power-trowel"}, note="")],
        "'slab-on-grade': power-trowel does not say in its note whether fuel comes with it",
    ),
    "brick is set aside and tipped": (
        [cell("assembly_inputs", of("masonry-break-out", input="debris"),
              formula="quantity * bricks_per_volume / bricks_per_volume")],
        "'masonry-break-out': wrecked-brick is recovered, and tipping does not become less by it",
    ),
    "the crew of a pump sets up nothing": (
        [cell("assembly_inputs", of("flowable-fill-pumped", input="crew_hours"),
              formula="quantity / production_rate")],
        "'flowable-fill-pumped': hours of concrete-pump follow 'lift_height', the crew's do not",
    ),
    "concrete is not tested": (
        [rows_of("assembly_lines", assembly="trench-footing", resource="concrete-test"),
         rows_of("assembly_inputs", assembly="trench-footing", input="tests")],
        "'trench-footing': concrete is placed and not tested",
    ),
    "a slab is not cured": (
        [cell("assemblies", {"code": "slab-on-grade"}, note="")],
        "'slab-on-grade': concrete is placed and not cured",
    ),
    "brooms where sweeping is warned of": (
        [cell("resources", {"code": "cleaning-supplies"}, name="Brooms and sweeping compound")],
        "'cleaning-up': cleaning-supplies is for sweeping, and a caution warns of it",
    ),
    "nobody is warned of fumes": (
        [cell("assemblies", {"code": "compaction"}, cautions="pit-air")],
        "'compaction': an engine runs, and no caution tells of its fumes",
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", PUT_BACK)
def test_a_fault_that_is_put_back_is_found(put_back, fault):
    changes, doubt = PUT_BACK[fault]
    doubts = trade_doubts(put_back(*changes))
    assert any(doubt in one for one in doubts), doubts


BEYOND = {
    "a conveyor truck at 45 tons an hour": ("stone-fill-conveyor-truck", "production_rate", "45"),
    "shoring in half an hour a post": ("temporary-shoring", "production_rate", "0.9"),
    "repointing at 75 feet an hour": ("repointing", "production_rate", "75"),
    "toothed work as fast as plain": ("brick-wall-patch", "toothed_pace", "1"),
    "one trip for delivery and pick-up of scaffold": ("scaffold", "deliveries", "1"),
    "scaffold as fast as it falls": ("scaffold", "production_rate", "4"),
    "dirt as light as mixed debris": ("cleaning-up", "density", "0.175"),
    "two posts in all under two needles": ("lintel-repair", "needle_posts", "1"),
    "set-up of a load in no time": ("stone-fill-conveyor-truck", "set_up", "0"),
}


@pytest.mark.parametrize("fault", BEYOND)
def test_a_coefficient_beyond_what_is_done_is_refused(put_back, fault):
    assembly, name, default = BEYOND[fault]
    with pytest.raises(TablesFaulty, match=rf"default {default} is (below least|above most)"):
        put_back(cell("assembly_inputs", of(assembly, input=name), default=default))


def test_hours_that_ignore_a_size_say_why_or_are_found(put_back):
    silent = cell("assembly_inputs", of("scaffold", input="weeks"), note="")
    assert "assembly 'scaffold': hours do not follow 'weeks' (time that it stands)" in trade_doubts(
        put_back(silent)
    )
