"""`groundsill search` finds any part of a word, with the day's prices."""

import json
from pathlib import Path

from tests.commands.running import groundsill

SPRING = ("--on", "2026-03-02")


def test_assemblies_resources_and_cautions_come_together() -> None:
    shown = groundsill("search", "stone", *SPRING).out
    assert "stone-fill-skid-steer" in shown
    assert "$26.00/ton" in shown
    assert "Caution: No machine, stone pile" in shown
    assert max(map(len, shown.splitlines())) <= 80


def test_a_crew_shows_what_is_unpaid() -> None:
    shown = groundsill("search", "owner-alone", *SPRING).out
    assert "1 owner-labor" in shown
    assert "$40.00/hr, unpaid" in shown


def test_own_tables_are_searched_too(demo: Path) -> None:
    ran = groundsill(
        "search",
        "crushed deliv",
        "--json",
        "--rates",
        "out/harrow-lane-quotes",
        *SPRING,
        folder=demo,
    )
    (match,) = json.loads(ran.out)["matches"]
    assert match["prices"] == [{"amount": "24.80", "unit": "ton", "paid": True}]


def test_a_day_before_the_first_rate_says_so() -> None:
    assert "no rate yet" in groundsill("search", "crushed deliv", "--on", "2025-02-01").out


def test_nothing_found_is_a_sentence_and_no_failure() -> None:
    ran = groundsill("search", "xyzzy")
    assert ran.exit_code == 0
    assert ran.out == "Nothing has 'xyzzy' in it; try a shorter part of the word.\n"


def test_a_search_needs_a_word() -> None:
    assert groundsill("search").exit_code == 2
