"""docs/assemblies.md is what the tables say, and says of each assembly what a builder asks."""

from pathlib import Path

from estimator.opening import open_tables
from tests.assemblies.assemblies_page import assemblies_page

PAGE = Path("docs/assemblies.md").read_text(encoding="utf-8")
TABLES = open_tables()


def test_the_page_is_what_the_tables_say():
    assert assemblies_page(TABLES) == PAGE, (
        "run: python -m tests.assemblies.assemblies_page > docs/assemblies.md"
    )


def test_each_assembly_says_what_is_in_it_and_what_is_not():
    notes = {one.code: one.note for one in TABLES.catalogue.assemblies.values()}
    unsaid = [
        code
        for code, note in notes.items()
        if not note.startswith("in: ") or "Not in: " not in note
    ]
    assert unsaid == []
