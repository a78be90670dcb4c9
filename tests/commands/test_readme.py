"""The README's commands run, and what it shows as their output is what they print."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from tests.commands.running import groundsill

README = Path("README.md").read_text(encoding="utf-8")
CONSOLE_BLOCKS = re.findall(r"^```console\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
ANYTHING = "..."


def shown_commands() -> list[tuple[str, list[str]]]:
    """Return the commands of the README's console blocks with the lines shown below each."""
    found: list[tuple[str, list[str]]] = []
    for line in "".join(CONSOLE_BLOCKS).splitlines():
        if line.startswith("$ "):
            found.append((line[2:], []))
        else:
            found[-1][1].append(line)
    return found


def agrees(shown: list[str], printed: list[str]) -> bool:
    """Whether the printed lines are the shown ones, `...` standing for any number of lines."""
    pattern = "".join(
        r"(?:.*\n)*?" if line == ANYTHING else re.escape(line) + r"\n" for line in shown
    )
    return re.fullmatch(pattern, "".join(line + "\n" for line in printed)) is not None


@pytest.mark.parametrize(("command", "shown"), shown_commands())
def test_the_readme_shows_what_the_command_prints(
    command: str, shown: list[str], demo: Path
) -> None:
    program, *arguments = shlex.split(command)
    assert program == "groundsill"
    ran = groundsill(*arguments, folder=demo)
    assert ran.exit_code == 0, ran.err
    assert agrees(shown, ran.out.splitlines()), ran.out


def test_the_readme_opens_with_the_job_and_then_two_commands() -> None:
    blocks = re.split(r"^```\w*\n(.*?)^```\n", README, maxsplit=2, flags=re.MULTILINE | re.DOTALL)
    opening, first, between, second, _ = blocks
    assert opening.startswith("# Groundsill\n\nGroundsill prices the restoration")
    assert opening.strip().count("\n\n") == 1
    assert first.strip().endswith("groundsill demo --out out")
    assert between.strip() == ""
    assert second.strip().endswith(".venv/bin/pytest")


def test_every_file_that_the_readme_links_exists() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert links
    assert [link for link in links if not Path(link).exists()] == []
