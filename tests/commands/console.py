"""The console blocks of a page: its commands, and what it shows below each."""

from __future__ import annotations

import re
import shlex

ANYTHING = "..."
_BLOCK = re.compile(r"^```console\n(.*?)^```", re.MULTILINE | re.DOTALL)


def shown_commands(page: str) -> list[tuple[str, list[str]]]:
    """Return the commands of a page with the lines shown below each; a backslash goes on below."""
    found: list[tuple[str, list[str]]] = []
    for line in "".join(_BLOCK.findall(page)).replace("\\\n", " ").splitlines():
        if line.startswith("$ "):
            found.append((line[2:], []))
        else:
            found[-1][1].append(line)
    return found


def words_of(command: str) -> list[str]:
    """Return what follows `groundsill` in a command."""
    program, *words = shlex.split(command)
    assert program == "groundsill"
    return words


def agrees(shown: list[str], printed: list[str]) -> bool:
    """Whether the printed lines are the shown ones, `...` standing for any number of lines.

    At the end of a line it stands for the rest of it.
    """
    pattern = "".join(r"(?:.*\n)*?" if line == ANYTHING else _line(line) for line in shown)
    return re.fullmatch(pattern, "".join(line + "\n" for line in printed)) is not None


def _line(shown: str) -> str:
    """Return the pattern of a shown line."""
    if shown.endswith(f" {ANYTHING}"):
        return re.escape(shown.removesuffix(ANYTHING)) + r".*\n"
    return re.escape(shown) + r"\n"
