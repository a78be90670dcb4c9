"""A door that carriers pass both ways: right within the noise, or said how far off it may be."""

from statistics import fmean

import pytest
from openpyxl import load_workbook

from api.commands.comparison_shown import show_comparison
from estimator.production.cycle import Load, Step
from estimator.production.repeat_visits import may_be_high_by
from estimator.production.waiting_lines import queued_output
from estimator.production.working_system import Station, WorkingSystem
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.comparison_json import comparison_fields
from estimator.studies.comparison.findings import findings_of
from estimator.studies.comparison.method_notes import note_sentences
from estimator.workbook.comparison_workbook import write_comparison
from tests.factories import SPRING
from tests.production.site_run import at_random, play
from tests.scope.methods.choices import DIG, THROW, pit_scope, shipped

DOOR = (Station("door"),)
DOOR_AND_PIT = (Station("door"), Station("pit"))


def system_of(carriers, stations, *steps):
    cycle = tuple(Step(f"step {n}", *step) for n, step in enumerate(steps))
    return WorkingSystem("carts", carriers, Load(1.0, "ton"), cycle, stations)


def played(system, minutes=1500.0):
    loads = [one.placed for one in play(system, minutes, at_random(7))]
    return 60 * fmean(loads) / minutes


@pytest.mark.parametrize("carriers", [2, 4])
def test_equal_times_both_ways_are_exact(carriers):
    system = system_of(carriers, DOOR_AND_PIT, (2, "door"), (3, "pit"), (2, "door"), (4,))
    assert may_be_high_by(system) == 0.0
    assert queued_output(system).output_per_hr == pytest.approx(played(system), rel=0.02)


@pytest.mark.parametrize("carriers", [2, 3, 5, 8])
@pytest.mark.parametrize(
    "steps",
    [
        [(0.05, "door"), (3, "pit"), (3, "door")],
        [(0.05, "door"), (3, "pit"), (3, "door"), (0.05, "pit")],
        [(0.49, "door"), (3.05, "pit"), (3.12, "door"), (0.38,)],
        [(1, "door"), (3, "pit"), (2, "door"), (5,)],
    ],
)
def test_unequal_times_are_no_further_off_than_is_said(carriers, steps):
    """Summed times put out up to 22 % too much; what is said covers that, within 2 % of noise."""
    system = system_of(carriers, DOOR_AND_PIT, *steps)
    queued = queued_output(system)
    true = played(system)
    assert queued.output_per_hr * (1 - queued.may_be_high_by) <= true * 1.02
    assert true <= queued.output_per_hr * 1.02


def test_a_station_passed_once_has_nothing_to_say():
    assert may_be_high_by(system_of(3, DOOR, (2, "door"), (3,))) == 0.0
    assert may_be_high_by(system_of(3, DOOR, (2, "door"), (1, "door"), (3,))) == 0.0


TWICE = DIG | {
    "production": DIG["production"]
    | {
        "carriers": "2",
        "each carrier brings": {"equipment-operator": "1", "skid-steer": "1"},
        "cycle": [
            {"step": "in", "time": "0.5 min", "station": "door"},
            {"step": "tip", "time": "3 min"},
            {"step": "out", "time": "3 min", "station": "door"},
        ],
        "stations": [{"name": "door"}],
    }
}


def test_the_estimate_says_whose_pace_may_be_too_high():
    estimate = price(pit_scope(TWICE, THROW), shipped(), SPRING)
    (note,) = estimate.warnings
    assert note.startswith("the pace of 30.010 may be up to ")
    assert note.endswith(
        "too high: each machine passes a station twice in a cycle, for different times"
    )


def test_the_comparison_says_whose_pace_may_be_too_high_wherever_it_is_shown(tmp_path, capsys):
    comparison = compare(pit_scope(TWICE, THROW), shipped(), SPRING, "30.010")
    (sentence,) = note_sentences(comparison)
    assert sentence.startswith("The pace of ")
    assert sentence.endswith("passes a station twice in a cycle, for different times.")
    findings = findings_of(comparison, ())
    first, second = comparison_fields(comparison, findings)["methods"]
    assert sentence[1:-1] == first["notes"][0][1:]
    assert (second["notes"], second["pace_may_be_high_by"]) == ([], "0.0000")
    percent = sentence.partition("up to ")[2].partition(" %")[0]
    assert round(float(first["pace_may_be_high_by"]) * 100) == int(percent) > 0
    write_comparison(comparison, findings, tmp_path / "c.xlsx")
    cells = load_workbook(tmp_path / "c.xlsx")["Methods"].iter_rows(values_only=True)
    assert any(sentence in str(cell) for row in cells for cell in row)
    show_comparison(comparison, findings)
    assert sentence in " ".join(capsys.readouterr().out.split())
