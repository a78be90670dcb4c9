"""Which parts of a workbook hold sheets that nobody reads, by the list of its sheets."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from posixpath import normpath
from xml.etree import ElementTree

BOOK, BOOK_LINKS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
_LINK_ID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


def unread_parts(book: bytes, links: bytes, wanted: Collection[str]) -> frozenset[str]:
    """Return the names of the parts of sheets that are not wanted; none if the lists are damaged.

    Parameters
    ----------
    book, links : bytes
        The lists of sheets and of parts, searched already: without declarations.
    wanted : collection of str
        Names of the sheets that are read; capitals do not matter.
    """
    try:
        sheets = list(_sheets(ElementTree.fromstring(book)))  # noqa: S314 (without declarations)
        listed = ElementTree.fromstring(links)  # noqa: S314
    except ElementTree.ParseError:
        return frozenset()
    parts = {one.get("Id"): _path(one.get("Target", "")) for one in listed}
    names = {one.lower() for one in wanted}
    read = {parts.get(link) for title, link in sheets if title.strip().lower() in names}
    return frozenset(parts[link] for _, link in sheets if link in parts) - read


def part_of_sheet(book: bytes, links: bytes, title: str) -> str:
    """Return the name of the part of a sheet; empty where there is none, or the lists are damaged.

    Parameters
    ----------
    book, links : bytes
        See `unread_parts`.
    title : str
        Of the sheet; capitals do not matter.
    """
    others = unread_parts(book, links, [title])
    return next(iter(unread_parts(book, links, []) - others), "")


def _sheets(book: ElementTree.Element) -> Iterator[tuple[str, str | None]]:
    for one in book.iter():
        if one.tag.rpartition("}")[2] == "sheet":
            yield one.get("name", ""), one.get(_LINK_ID)


def _path(target: str) -> str:
    """Return the name of a part, which is written from the root or from the folder `xl`."""
    return normpath(target.lstrip("/") if target.startswith("/") else f"xl/{target}")
