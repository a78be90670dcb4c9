"""On a narrow terminal words wrap; no figure, code or unit is cut or broken."""

import re
from pathlib import Path

import pytest

from tests.commands.running import groundsill

PIT = """\
      - code: "{n:03d}"
        name: Stone fill, pit {n}
        assembly: stone-fill-skid-steer
        inputs: {{length: 1900 ft, width: 180 ft, depth: [6 ft, 7 ft 3 in]}}
"""
LARGE = (
    'project: Large\non: 2026-03-02\nphases:\n  - code: "30"\n    name: Pits filled\n    items:\n'
    + "".join(PIT.format(n=n) for n in range(1, 30))
)
FIGURE = re.compile(r"(?<![\w,.])[\d,]+\.\d+(?![\w,.])")


@pytest.fixture
def large(tmp_path: Path) -> Path:
    """A scope of over a hundred million dollars."""
    path = tmp_path / "large.yaml"
    path.write_text(LARGE, encoding="utf-8")
    return path


def figures(*arguments: str | Path, columns: int) -> list[str]:
    ran = groundsill(*arguments, columns=columns)
    assert ran.exit_code == 0, ran.err
    return sorted(FIGURE.findall(ran.out))


def test_what_does_not_fit_side_by_side_goes_one_below_the_other(large: Path) -> None:
    told = groundsill("price", large, columns=40).out
    assert (
        """
30.001  Stone fill, pit 1
  Quantity  114,546.25 tons
  Cash $       4,157,350.07
"""
        in told
    )


@pytest.mark.parametrize("columns", [40, 50, 60])
def test_a_narrow_terminal_shows_the_figures_of_a_wide_one(large: Path, columns: int) -> None:
    assert figures("price", large, columns=columns) == figures("price", large, columns=80)


def test_no_word_of_an_assembly_is_broken() -> None:
    told = groundsill("rates", "assemblies", "geotextile", columns=40).out
    assert "area  sf  required (10 to 200000)" in told
    assert max(map(len, told.splitlines())) <= 40
