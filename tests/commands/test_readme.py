"""The README's commands run, and what it shows as their output is what they print."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import Ran, groundsill

README = Path("README.md").read_text(encoding="utf-8")


COMMANDS = shown_commands(README)
pytestmark = pytest.mark.xdist_group("readme")


@pytest.fixture(scope="module")
def printed(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Ran]]:
    """What each command prints, one after the other, with books of its own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path_factory.mktemp("data")))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        yield [groundsill(*words_of(command), folder=demo) for command, _ in COMMANDS]


@pytest.mark.parametrize("place", range(len(COMMANDS)))
def test_the_readme_shows_what_the_command_prints(place: int, printed: list[Ran]) -> None:
    ran = printed[place]
    assert ran.exit_code == 0, ran.err
    assert agrees(COMMANDS[place][1], ran.out.splitlines()), ran.out


def test_the_readme_opens_with_the_job_and_then_two_commands() -> None:
    blocks = re.split(r"^```\w*\n(.*?)^```\n", README, maxsplit=2, flags=re.MULTILINE | re.DOTALL)
    opening, first, between, second, _ = blocks
    assert opening.startswith("# Groundsill\n\nGroundsill is for the owner-builder who restores")
    assert opening.strip().count("\n\n") == 1
    assert first.strip().endswith("groundsill demo --out out")
    assert between.strip() == ""
    assert second.strip().endswith(".venv/bin/pytest")


def test_every_file_that_the_readme_links_exists() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert links
    assert [link for link in links if not Path(link).exists()] == []
