"""Prints docs/checks.md: `python -m tests.published.checks_page > docs/checks.md`."""

from __future__ import annotations

import sys
from collections import Counter
from itertools import groupby

from tests.published.source import STATUSES, Check, checks

_INTRODUCTION = """\
# Checks against the outside world

Every calculation is checked against something this project did not make: a published standard, a
handbook's worked example, open data, or a general-purpose library. Each row is one test in
`tests/published/`; this page is printed from their marks, do not edit it:
`python -m tests.published.checks_page > docs/checks.md`.

Where a printed answer is itself rounded or wrong, the test asserts the exact value and the note
says why the print differs. No code was bent to meet a figure.
"""


def checks_page() -> str:
    """Return the page of all outside checks as Markdown."""
    all_checks = checks()
    parts = [_INTRODUCTION, _status_table(all_checks)]
    for topic, of_topic in groupby(all_checks, key=lambda check: check.topic):
        parts.append(_topic_table(topic, list(of_topic)))
    return "\n".join(parts)


def _status_table(all_checks: list[Check]) -> str:
    number = Counter(check.source.status for check in all_checks)
    rows = [
        f"| {status} | {number[status]} | {meaning} |"
        for status, meaning in STATUSES.items()
        if number[status]
    ]
    head = ["| status | checks | meaning |", "| --- | ---: | --- |"]
    return "\n".join([*head, *rows, f"| all | {len(all_checks)} | |", ""])


def _topic_table(topic: str, of_topic: list[Check]) -> str:
    head = [f"## {topic}", "", "| check | source | section | status | note |", "| --- " * 5 + "|"]
    return "\n".join([*head, *(_row(check) for check in of_topic), ""])


def _row(check: Check) -> str:
    source = check.source
    cells = (check.sentence, source.source, source.section, source.status, source.note)
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells).rstrip() + " |"


if __name__ == "__main__":
    sys.stdout.write(checks_page())
