"""What a practitioner would not sign in the tables: each fault put back in a copy is found."""

import csv
import re
import shutil

import pytest

from estimator.assemblies.tables import load_tables
from estimator.assemblies.trade_check import trade_doubts
from estimator.errors import TablesFaulty
from estimator.opening import open_tables
from estimator.rates.folders import TableFolder, shipped_tables

CATALOGUE = open_tables().catalogue


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
    "a machine says nothing of its fuel": (
        [cell("resources", {"code": "plate-compactor"}, note="")],
        "'compaction': plate-compactor does not say in its note whether fuel comes with it",
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
    "a slab is not cured": (
        [cell("assemblies", {"code": "slab-on-grade"}, note="")],
        "'slab-on-grade': concrete is placed and not cured",
    ),
    "brooms where sweeping is warned of": (
        [cell("resources", {"code": "cleaning-supplies"}, name="Brooms and sweeping compound")],
        "'cleaning-up': cleaning-supplies is for sweeping, and a caution warns of it",
    ),
    "pockets ignore their size": (
        [cell("assembly_inputs", of("pockets-in-brick", input="crew_hours"),
              formula="pockets * tooth_time")],
        "'pockets-in-brick': hours do not follow 'pocket_depth'",
    ),
    "a skid steer on the yard has no operator": (
        [rows_of("crews", crew="skid-steer-fill", resource="equipment-operator"),
         rows_of("assembly_lines", assembly="yard-stone", resource="equipment-operator")],
        "'yard-stone': skid-steer has no operator",
    ),
    "forms are not stripped": (
        [rows_of("assembly_lines", assembly="strip-footing", line="8"),
         rows_of("assembly_inputs", assembly="strip-footing", input="strip_rate")],
        "'strip-footing': forms are set and not stripped",
    ),
}  # fmt: skip
LEFT_OUT = {
    "a telehandler has no fuel": ("post-caps", "diesel", "fuel_rate", "telehandler has no fuel"),
    "a compressor has no fuel": (
        "masonry-break-out", "diesel", "fuel_rate", "compressor-breaker has no fuel"),
    "a saw has no fuel": (
        "curing-and-joints", "gasoline", "saw_fuel", "concrete-saw has no fuel"),
    "a mixer has no fuel": ("repointing", "gasoline", "mixer_fuel", "mortar-mixer has no fuel"),
    "a trowel has no fuel": (
        "slab-on-grade", "gasoline", "trowel_fuel", "power-trowel has no fuel"),
    "concrete is not tested": (
        "trench-footing", "concrete-test", "tests", "concrete is placed and not tested"),
}  # fmt: skip
PUT_BACK |= {
    fault: (
        [rows_of("assembly_lines", assembly=assembly, resource=resource),
         rows_of("assembly_inputs", assembly=assembly, input=name)],
        f"'{assembly}': {doubt}",
    )
    for fault, (assembly, resource, name, doubt) in LEFT_OUT.items()
}  # fmt: skip
UNTOLD = {
    "a machine may roll over": ("haul-road-inside", "rollover"),
    "stone is thrown": ("stone-fill-conveyor-truck", "thrown-stone"),
    "boards lie loose underfoot": ("plank-floor-wreck", "loose-boards"),
    "utilities are cut": ("masonry-break-out", "utilities-off"),
    "asbestos is opened": ("plank-floor-salvage", "asbestos-survey"),
    "the floor is overloaded": ("slab-break-out", "floor-overload"),
    "masons stand on a scaffold under lintels": ("lintel-repair", "scaffold-use"),
    "carbon monoxide from an engine": ("compaction", "engine-fumes"),
}


def test_each_hazard_that_no_caution_tells_of_is_found(put_back):
    silent = [
        cell("assemblies", {"code": assembly}, cautions=";".join(
            one for one in CATALOGUE.assemblies[assembly].cautions if one != caution))
        for assembly, caution in UNTOLD.values()
    ]  # fmt: skip
    doubts = trade_doubts(put_back(*silent))
    unseen = [
        hazard
        for hazard, (assembly, caution) in UNTOLD.items()
        if not any(f"'{assembly}': " in one and f"add {caution}" in one for one in doubts)
    ]
    assert unseen == []


def test_each_fault_that_is_put_back_is_found(put_back):
    doubts = trade_doubts(put_back(*(one for changes, _ in PUT_BACK.values() for one in changes)))
    unseen = [
        fault for fault, (_, doubt) in PUT_BACK.items() if not any(doubt in one for one in doubts)
    ]
    assert unseen == []


BEYOND = {
    "a conveyor truck at 45 tons an hour": ("stone-fill-conveyor-truck", "production_rate", "45"),
    "shoring in half an hour a post": ("temporary-shoring", "production_rate", "0.9"),
    "repointing at 75 feet an hour": ("repointing", "production_rate", "75"),
    "toothed work as fast as plain": ("brick-wall-patch", "toothed_pace", "1"),
    "one trip for delivery and pick-up of scaffold": ("scaffold", "deliveries", "1"),
    "scaffold as fast as it falls": ("scaffold", "production_rate", "4"),
    "lintels at ninety bricks an hour": ("lintel-repair", "production_rate", "90"),
    "dirt as light as mixed debris": ("cleaning-up", "density", "0.175"),
    "two posts in all under two needles": ("lintel-repair", "needle_posts", "1"),
    "set-up of a load in no time": ("stone-fill-conveyor-truck", "set_up", "0"),
}


def test_each_coefficient_beyond_what_is_done_is_refused(put_back):
    changes = (cell("assembly_inputs", of(assembly, input=name), default=default)
              for assembly, name, default in BEYOND.values())  # fmt: skip
    with pytest.raises(TablesFaulty) as refusal:
        put_back(*changes)
    messages = [str(one) for one in refusal.value.faults]
    assert len(messages) == len(BEYOND)
    for _, _, default in BEYOND.values():
        assert any(
            re.search(rf"default {default} is (below least|above most)", one) for one in messages
        )


def test_hours_that_ignore_a_size_say_why_or_are_found(put_back):
    silent = cell("assembly_inputs", of("scaffold", input="weeks"), note="")
    assert "assembly 'scaffold': hours do not follow 'weeks' (time that it stands)" in trade_doubts(
        put_back(silent)
    )
