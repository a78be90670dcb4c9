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
from tests.assemblies.test_hazards import PAIRS

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
        "'hauling': haul-truck has no minimum charge",
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
        [cell("assembly_inputs", of("opening-widened", input="debris"), formula="quantity")],
        "'opening-widened': wrecked-brick is recovered, and tipping does not become less by it",
    ),
    "a wall is wrecked and no brick recovered": (
        [rows_of("own_material", assembly="masonry-break-out")],
        "'masonry-break-out': all of it is tipped; recover a part, or say 'nothing is recovered'",
    ),
    "rubble is fetched and weighs nothing": (
        [rows_of("assembly_lines", assembly="fire-tile-out", resource="tip-fee-rubble")],
        "'fire-tile-out': dumpster-20cy is pulled, and nothing is paid for its weight at the dump",
    ),
    "half of the brick of an opening is nobody's": (
        [rows_of("assembly_lines", assembly="opening-closed", resource="salvaged-brick")],
        "'opening-closed': one part of the material by 'new_share' has a line, the rest none",
    ),
    "a pit is dug by fuel alone": (
        [rows_of("crews", crew="excavator", resource="mini-excavator")],
        "'machine-excavation': fuel is burned, and no machine takes any",
    ),
    "planks are thrown away, and nobody says so": (
        [cell("assemblies", {"code": "plank-floor-wreck"}, note="in: sawing. Not in: joists")],
        "'plank-floor-wreck': all of it is tipped",
    ),
    "sound joists vanish": (
        [rows_of("own_material", assembly="joists-out")],
        "'joists-out': what comes out sound is not counted; add it to own_material.csv",
    ),
    "the crew of a pump sets up nothing": (
        [cell("assembly_inputs", of("flowable-fill-pumped", input="crew_hours"),
              formula="quantity / production_rate")],
        "'flowable-fill-pumped': concrete-pump follows 'lift_height', hours of the crew do not",
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
        [rows_of("crews", crew="skid-steer-fill", resource="equipment-operator")],
        "'haul-road-outside': skid-steer has no operator",
    ),
    "nobody is on the roller": (
        [rows_of("assembly_lines", assembly="yard-stone", resource="equipment-operator")],
        "'yard-stone': trench-roller follows 'roller_rate', hours of the crew do not",
    ),
    "scaffold is rented at three times the market": (
        [cell("resources", {"code": "scaffold-bay"}, rate="45", high="60")],
        "rate of 'scaffold-bay': 45 is outside 7.5 to 22.5",
    ),
    "a slab is sawn in no time": (
        [cell("assembly_inputs", of("slab-break-out", input="crew_hours"),
              formula="breaking_hours")],
        "'slab-break-out': concrete-saw follows 'saw_speed', hours of the crew do not",
    ),
    "a saw cut in brick takes nobody's time": (
        [cell("assembly_inputs", of("masonry-break-out", input="crew_hours"),
              formula="breaking_hours")],
        "'masonry-break-out': masonry-saw follows 'saw_speed', hours of the crew do not",
    ),
    "sides of an opening are sawn without a saw": (
        [rows_of("assembly_lines", assembly="opening-widened", resource="masonry-saw")],
        "'opening-widened': diamond-blade wears, and no saw runs it",
    ),
    "forms are not stripped": (
        [rows_of("assembly_lines", assembly="strip-footing", line="8"),
         rows_of("assembly_inputs", assembly="strip-footing", input="strip_rate")],
        "'strip-footing': forms are set and not stripped",
    ),
    "needles are set once a lintel, however wide": (
        [cell("assembly_inputs", of("lintel-repair", input="crew_hours"),
              formula="lintels * (needle_time + angle_length / angle_rate + bricks_each "
                      "/ production_rate)")],
        "'lintel-repair': shoring-post follows 'needle_spacing', hours of the crew do not",
    ),
    "a haul road outside counts toward the credit": (
        [cell("assemblies", {"code": "haul-road-outside"}, credit="yes")],
        "'haul-road-outside': site work is said to count toward the credit",
    ),
    "the machine of a haul road is never fetched": (
        [cell("assembly_inputs", of("haul-road-outside", input="deliveries"), default="1")],
        "'haul-road-outside': machine-delivery brings it and does not pick it up: 'deliveries' 1",
    ),
    "a delivery is one way": (
        [cell("assembly_inputs", of("machine-delivery", input="ways"), default="1")],
        "'machine-delivery': machine-delivery brings it and does not pick it up: 'ways' 1",
    ),
    "dense stone is as light as any": (
        [cell("densities", {"material": "crushed-stone-57"}, density="1.15")],
        "density of 'crushed-stone-57': 1.15 is outside 1.30 to 1.45",
    ),
    "dirt is light": (
        [cell("densities", {"material": "sweepings"}, density="0.35")],
        "density of 'sweepings': 0.35 is outside 0.40 to 0.90",
    ),
    "a coefficient has neither a source nor a range": (
        [cell("assembly_inputs", of("limewash", input="pail_cover"),
              source="common practice, no source")],
        "'limewash': 1200 of 'pail_cover' has neither a source nor a range",
    ),
    "two people load a truck at twelve yards an hour": (
        [cell("assembly_inputs", of("hand-excavation", input="loading_rate"), default="12")],
        "'hand-excavation': 12 of 'loading_rate' is outside 0.8 to 1.6",
    ),
    "not every tongue can be ripped": (
        [cell("assembly_inputs", of("plank-floor-salvage", input="ripped_share"), most="0.5")],
        "'plank-floor-salvage': 'ripped_share' takes no more than 0.5; its source says 0 to 1",
    ),
    "strip flooring is too narrow to be taken up": (
        [cell("assembly_inputs", of("plank-floor-salvage", input="plank_width"), least="2.5")],
        "'plank-floor-salvage': 'plank_width' takes no less than 2.5; its source says 1.5 to 9",
    ),
    "a needle in half an hour": (
        [cell("assembly_inputs", of("lintel-repair", input="needle_time"), default="0.5")],
        "'lintel-repair': 0.5 of 'needle_time' is outside 0.8 to 2.5",
    ),
    "shoring is set four times as fast": (
        [cell("assembly_inputs", of("temporary-shoring", input="production_rate"), default="0.6",
              source="common practice, no source: 0.25 to 0.5")],
        "'temporary-shoring': 0.6 of 'production_rate' is outside 0.25 to 0.5",
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


def test_each_caution_of_a_hazard_that_is_left_out_is_found(put_back):
    """All of them at once, of each assembly: 727 pairs."""
    hazards = {caution for caution, _ in PAIRS}
    silent = [
        cell("assemblies", {"code": code}, cautions=";".join(set(one.cautions) - hazards))
        for code, one in CATALOGUE.assemblies.items()
    ]
    doubts = trade_doubts(put_back(*silent))
    seen = {
        (caution, doubt.split("'")[1])
        for doubt in doubts
        for caution in doubt.rpartition("; add ")[2].split(", ")
    }
    assert len(PAIRS) == 727
    assert sorted(set(PAIRS) - seen) == []


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
    "118 bricks a mason-hour": ("brick-wall-patch", "production_rate", "236"),
    "set-up of a load in no time": ("stone-fill-conveyor-truck", "set_up", "0"),
}


LEFT_OUT_OF_FORMULAS = {
    "ripping takes no time": (
        cell("assembly_inputs", of("plank-floor-salvage", input="crew_hours"),
             formula="quantity / production_rate"), "rip_rate"),
    "spikes in a rip wear no blade": (
        cell("assembly_lines", of("plank-floor-salvage", resource="demolition-blade"),
             formula="worn(cut_length + rip_length, cut_length * spikes_hit, spike_allowance) "
                     "/ blade_life"), "rip_spikes_hit"),
    "needling takes no time": (
        cell("assembly_inputs", of("lintel-repair", input="crew_hours"),
             formula="lintels * (angle_length / angle_rate + bricks_each / production_rate)"),
        "needle_time"),
    "toothed work goes as fast as plain": (
        cell("assembly_inputs", of("brick-wall-patch", input="crew_hours"),
             formula="bricks / production_rate"), "toothed_pace"),
    "cutting the teeth of a pocket takes no time": (
        cell("assembly_inputs", of("pockets-in-brick", input="crew_hours"),
             formula="volume * bricks_per_volume / production_rate"), "tooth_time"),
    "shoring is never moved or taken out, and cribs build themselves": (
        cell("assembly_inputs", of("temporary-shoring", input="crew_hours"),
             formula="posts / production_rate"), "out_share"),
    "shoring has neither headers nor cribs": (
        rows_of("assembly_lines", assembly="temporary-shoring", resource="heavy-timber"),
        "header_length"),
    "shoring has no jacks": (
        rows_of("assembly_lines", assembly="temporary-shoring", resource="screw-jack"), "jacks"),
    "nobody reads the levels of shoring": (
        rows_of("assembly_lines", assembly="temporary-shoring", resource="carpenter"),
        "reading_time"),
    "lifts of pumped fill do not wait for each other": (
        rows_of("assembly_inputs", assembly="flowable-fill-pumped", input="least_days"),
        "lift_days"),
}  # fmt: skip


def test_a_pump_that_comes_once_for_all_lifts_is_found(put_back):
    once = cell("assembly_lines", of("flowable-fill-pumped", resource="concrete-pump"),
                formula="max(pump_minimum, set_up + quantity / 1 / production_rate)")  # fmt: skip
    assert trade_doubts(put_back(once)) == (
        "assembly 'flowable-fill-pumped': hours of the crew follow 'lift_height', those of "
        "concrete-pump do not",
    )


def test_what_a_formula_leaves_out_is_refused(put_back):
    with pytest.raises(TablesFaulty) as refusal:
        put_back(*(change for change, _ in LEFT_OUT_OF_FORMULAS.values()))
    messages = " ".join(map(str, refusal.value.faults))
    unseen = [
        fault
        for fault, (_, name) in LEFT_OUT_OF_FORMULAS.items()
        if f"input '{name}' is used by no formula" not in messages
    ]
    assert unseen == []


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
