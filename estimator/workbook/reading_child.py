"""A process of its own that reads the sheets of a workbook and writes their cells as JSON lines.

It runs apart from the program that asks (`sheets.py`), with little memory and time: should a
workbook get past the guard and still do harm, only this process ends. It imports nothing but the
standard library, so that it starts at once, and keeps no grid: cells far apart cost nothing.

In: the workbook on standard input, the names of the sheets to read as arguments (lower case).
Out: `["sheet", name]` for every sheet; for those to be read also `["row", number, [[column, kind,
text], ...]]` for rows with content and `["merged", "A1:B2"]`; at the end `["end"]`. A workbook
that cannot be read gives `["refused", what]` and the exit code 1.
"""

from __future__ import annotations

import contextlib
import io
import json
import posixpath
import sys
import zipfile
from collections.abc import Callable

from estimator.workbook.xlsx_cells import Cells
from estimator.workbook.xlsx_parts import Contents, Links, Part, Refused, SharedTexts, Styles

MOST_MEMORY_BYTES = 256_000_000
MOST_CPU_SECONDS = 8
MOST_CHARACTERS = 20_000_000


def read(content: bytes, wanted: set[str], tell: Callable[..., None]) -> None:
    """Tell every sheet of a workbook, and the cells of the wanted ones."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        root = Links("")
        root.walk(archive, "_rels/.rels")
        book = root.of_kind("officeDocument")
        if book is None:
            raise Refused("is an archive, but not a workbook")
        contents, links = Contents(), Links(posixpath.dirname(book))
        contents.walk(archive, book)
        folder, file = posixpath.split(book)
        links.walk(archive, posixpath.join(folder, "_rels", f"{file}.rels"))
        texts, styles = SharedTexts(), Styles()
        _walk_if_there(texts, archive, links.of_kind("sharedStrings"))
        _walk_if_there(styles, archive, links.of_kind("styles"))
        for name, link in contents.sheets:
            tell("sheet", name)
            kind, part = links.targets.get(link, ("", ""))
            if kind == "worksheet" and name.strip().lower() in wanted:
                Cells(texts.found, styles.kinds, contents.from_1904, tell).walk(archive, part)
    tell("end")


def _walk_if_there(part: Part, archive: zipfile.ZipFile, name: str | None) -> None:
    if name is not None:
        part.walk(archive, name)


def _limit() -> None:
    """Take from this process what it must never need; where there are no limits, do without."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_CPU, (MOST_CPU_SECONDS, MOST_CPU_SECONDS))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY_BYTES, MOST_MEMORY_BYTES))


def _teller() -> Callable[..., None]:
    encode = json.JSONEncoder(separators=(",", ":")).encode
    told = 0

    def tell(*what: object) -> None:
        nonlocal told
        line = encode(what)
        told += len(line)
        if told > MOST_CHARACTERS:
            raise Refused("holds too much text to be a scope")
        sys.stdout.write(line + "\n")

    return tell


def main() -> int:
    """Read a workbook from standard input; return the exit code."""
    _limit()
    try:
        read(sys.stdin.buffer.read(), set(sys.argv[1:]), _teller())
    except Refused as refusal:
        sys.stdout.write(json.dumps(["refused", str(refusal)]) + "\n")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
