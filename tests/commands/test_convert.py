"""A scope goes from YAML to a workbook and back without losing a value."""

from pathlib import Path

from tests.commands.running import groundsill

SCOPE = "harrow-lane-carbarn.yaml"
WITH_A_LUMP_SUM = """\
project: One roof
'on': '2026-03-02'
markups: []
phases:
- code: '10'
  name: Roof
  items:
  - code: '010'
    name: Roof covered
    lump_sum:
      amount: $18,400
      days: 3 day
  after: []
  duration:
  - 2 day
  - 3 day
  - 5 day
- code: '20'
  name: Gutters
  items:
  - code: '010'
    name: Gutters hung
    lump_sum:
      amount: $2,100
      days: 2 day
  after:
  - '10'
  wait: 7 days
- code: '30'
  name: Cleaning
  items:
  - code: '010'
    name: Yard cleaned
    lump_sum:
      amount: $300
  along:
  - '10'
  - '20'
calendar:
  start: '2026-04-06'
  week: 4 days of 10 hr
  days_off:
  - '2026-05-01'
  weather:
    Apr: 2 days
crew:
  laborer: '2'
"""


def test_the_sample_prices_to_the_same_there_and_back(demo: Path) -> None:
    """Beside its quotes, so that the names of the folders hold."""
    out = demo / "out"
    book, back = out / "there.xlsx", out / "back.yaml"
    try:
        for before, after in ((out / SCOPE, book), (book, back)):
            ran = groundsill("convert", before, after)
            assert ran.exit_code == 0, ran.err
        first, *others = (
            groundsill("price", one, "--json").out for one in (out / SCOPE, book, back)
        )
        assert first
        assert others == [first, first]
    finally:
        book.unlink(missing_ok=True)
        back.unlink(missing_ok=True)


def test_a_stated_price_and_what_a_phase_waits_for_go_along(tmp_path: Path) -> None:
    scope, book, back = (tmp_path / name for name in ("a.yaml", "b.xlsx", "c.yaml"))
    scope.write_text(WITH_A_LUMP_SUM, encoding="utf-8")
    assert groundsill("convert", scope, book).exit_code == 0
    assert groundsill("convert", book, back).exit_code == 0
    assert back.read_text(encoding="utf-8") == WITH_A_LUMP_SUM


def test_the_other_form_has_the_other_ending(demo: Path) -> None:
    ran = groundsill("convert", f"out/{SCOPE}", "out/other.yaml", folder=demo)
    assert ran.exit_code == 2
    assert "FILE must end in .xlsx, as SCOPE ends in .yaml." in ran.err


def test_a_file_that_is_there_stays(demo: Path, tmp_path: Path) -> None:
    mine = tmp_path / "mine.xlsx"
    mine.write_bytes(b"mine")
    ran = groundsill("convert", f"out/{SCOPE}", mine, folder=demo)
    assert ran.exit_code == 1
    assert "was not made by Groundsill" in ran.err
    assert mine.read_bytes() == b"mine"


def test_a_faulty_scope_is_not_converted(tmp_path: Path) -> None:
    scope = tmp_path / "scope.yaml"
    scope.write_text("project: Barn\nphases: []\n", encoding="utf-8")
    ran = groundsill("convert", scope, tmp_path / "scope.xlsx")
    assert ran.exit_code == 1
    assert not (tmp_path / "scope.xlsx").exists()
