"""Writes what the commands of pages print now below them, where a page shows it.

`.venv/bin/python -m tests.refreshed_pages README.md docs/what-if.md` runs the `console` blocks of
these pages, in order and in a fresh folder, after a change of the tables or of the sample. Lines
that stand around `...` are looked up by how much they are alike but for their figures: read the
difference before you commit it. Sentences of the text are yours to correct.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from difflib import SequenceMatcher
from itertools import groupby
from pathlib import Path

from tests.commands.console import ANYTHING

_BLOCK = re.compile(r"(^```console\n)(.*?)(^```)", re.MULTILINE | re.DOTALL)
_COMMAND = re.compile(r"(?:^|(?<=\n))(\$ (?:.*\\\n)*.*\n)")


def refreshed(page: Path) -> str:
    """Return a page with what its commands print now.

    Parameters
    ----------
    page : Path
        A page of the README or docs/ whose commands run on the demo's files.
    """
    text = page.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _run("groundsill demo --out out", folder, folder / "data")
        for suffix, file in (("yaml", "chapel.yaml"), ("csv", "bank.csv")):
            for content in re.findall(rf"^```{suffix}\n(.*?)^```", text, re.MULTILINE | re.DOTALL):
                (folder / file).write_text(content, encoding="utf-8")
        data = folder / ("data" if page.name == "tracking.md" else "own-data")
        return _BLOCK.sub(lambda block: block[1] + _block(block[2], folder, data) + block[3], text)


def _block(block: str, folder: Path, data: Path) -> str:
    _, *parts = _COMMAND.split(block)
    shown = ""
    for command, output in zip(parts[::2], parts[1::2], strict=True):
        printed = _run(command[2:], folder, data).splitlines()
        shown += command + "".join(f"{line}\n" for line in _as_shown(output.splitlines(), printed))
    return shown


def _run(command: str, folder: Path, data: Path) -> str:
    environment = os.environ | {
        "PATH": f"{Path(sys.executable).parent}:{os.environ['PATH']}",
        "GROUNDSILL_DATA_FOLDER": str(data),
        "COLUMNS": "80",
        "TERM": "dumb",
    }
    return subprocess.run(
        ["bash", "-c", command], cwd=folder, env=environment, check=True, text=True,
        stdout=subprocess.PIPE,
    ).stdout  # fmt: skip


def _as_shown(shown: list[str], printed: list[str]) -> list[str]:
    """Return the printed lines, those left out that the page leaves out."""
    parts = [(is_gap, list(lines)) for is_gap, lines in groupby(shown, ANYTHING.__eq__)]
    if not shown:
        return []
    if ANYTHING not in shown:
        is_alike = len(shown) == len(printed)
        return list(map(_cut, shown, printed)) if is_alike else printed
    result: list[str] = []
    start = 0
    for place, (is_gap, lines) in enumerate(parts):
        if is_gap:
            result += lines
            continue
        start = _start(lines, printed, start, place == 0, place == len(parts) - 1)
        now = printed[start : start + len(lines)]
        result += [_cut(old, new) for old, new in zip(lines, now, strict=True)]
        start += len(lines)
    return result


def _start(lines: list[str], printed: list[str], start: int, is_first: bool, is_last: bool) -> int:
    if is_first or is_last:
        return 0 if is_first else len(printed) - len(lines)

    def likeness(place: int) -> float:
        now = printed[place : place + len(lines)]
        pairs = zip(map(_without_figures, lines), map(_without_figures, now), strict=True)
        return sum(SequenceMatcher(None, old, new).ratio() for old, new in pairs)

    return max(range(start, len(printed) - len(lines) + 1), key=likeness)


def _without_figures(line: str) -> str:
    return re.sub(r"\d[\d,]*[.,]\d+|\d{3,}", "#", line)


def _cut(old: str, new: str) -> str:
    """Return a line, cut where the page cuts it."""
    return new[: len(old) - len(ANYTHING)] + ANYTHING if old.endswith(f" {ANYTHING}") else new


if __name__ == "__main__":
    for one in map(Path, sys.argv[1:]):
        one.write_text(refreshed(one), encoding="utf-8")
