"""Prints docs/checks.md: `python -m tests.published.checks_page > docs/checks.md`."""

from __future__ import annotations

import sys
from collections import Counter
from itertools import groupby

from tests.published.calculations import calculations, called_by_checks
from tests.published.source import PRINTED, STATUSES, Check, checks

_INTRODUCTION = """\
# Checks against the outside world

Of {calculations} public calculations, {called} are called by a check on this page; the other
{rest} rest on tests of our own. Of {checks} checks, {printed} ({share}) assert an answer that
somebody outside printed; the others work one out from a published rule, a unit of measure or a
general-purpose library. {unrecorded} stand on a text that was read or remembered, but whose title
nobody wrote down: their source begins with "Source not recorded".

A public calculation is a function with a public name, from `money` up to `studies`, that gives back
a number, an amount or a record of them. Each row is one test in `tests/published/`; this page is
printed from their marks, do not edit it: `python -m tests.published.checks_page > docs/checks.md`.

Where a printed answer is itself rounded or wrong, the test asserts the exact value and the note
says why the print differs. No code was bent to meet a figure.
"""


def checks_page() -> str:
    """Return the page of all outside checks as Markdown."""
    all_checks = checks()
    parts = [_introduction(all_checks), _status_table(all_checks)]
    for topic, of_topic in groupby(all_checks, key=lambda check: check.topic):
        parts.append(_topic_table(topic, list(of_topic)))
    return "\n".join(parts)


def _introduction(all_checks: list[Check]) -> str:
    known, sources = calculations(), [check.source for check in all_checks]
    called = known & called_by_checks()
    printed = sum(one.status in PRINTED for one in sources)
    return _INTRODUCTION.format(
        calculations=len(known),
        called=len(called),
        rest=len(known - called),
        checks=len(sources),
        printed=printed,
        share=f"{printed / len(sources):.0%}".replace("%", " %"),
        unrecorded=sum(one.source.startswith("Source not recorded") for one in sources),
    )


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
