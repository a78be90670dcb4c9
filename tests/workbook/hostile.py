"""Builds workbooks part by part, and so also those that no spreadsheet program would write."""

import io
import struct
import zipfile
import zlib
from collections.abc import Callable, Mapping

_MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
_KINDS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_LINKED = f'xmlns:r="{_KINDS}"'
_LINKS = 'xmlns="http://schemas.openxmlformats.org/package/2006/relationships"'
_TYPES = 'xmlns="http://schemas.openxmlformats.org/package/2006/content-types"'
_XML = '<?xml version="1.0" encoding="UTF-8"?>'

SHEET = "xl/worksheets/sheet2.xml"
TEXTS = "xl/sharedStrings.xml"
BOOK_LINKS = "xl/_rels/workbook.xml.rels"
SHEET_LINKS = "xl/worksheets/_rels/sheet2.xml.rels"
TYPES = "[Content_Types].xml"
_PART_TYPES = {
    "workbook.xml": "sheet.main",
    "worksheets/sheet1.xml": "worksheet",
    "worksheets/sheet2.xml": "worksheet",
    "sharedStrings.xml": "sharedStrings",
    "styles.xml": "styles",
}

Parts = dict[str, bytes]


def text_cell(reference: str, text: str) -> str:
    return f'<c r="{reference}" t="inlineStr"><is><t>{text}</t></is></c>'


def rows_of(*rows: str) -> str:
    return "".join(f'<row r="{n}">{cells}</row>' for n, cells in enumerate(rows, start=1))


def sheet_xml(rows: str, *, before: str = "", after: str = "") -> bytes:
    data = f"<sheetData>{rows}</sheetData>"
    return f"{_XML}<worksheet {_MAIN}>{before}{data}{after}</worksheet>".encode()


def texts_xml(*texts: str, before: str = "") -> bytes:
    listed = "".join(f"<si><t>{text}</t></si>" for text in texts)
    return f"{_XML}{before}<sst {_MAIN}>{listed}</sst>".encode()


def styles_xml(*formats: str) -> bytes:
    """Return styles numbered from 1 that show numbers by these format codes."""
    codes = "".join(
        f'<numFmt numFmtId="{164 + n}" formatCode="{code}"/>' for n, code in enumerate(formats)
    )
    styles = "".join(f'<xf numFmtId="{164 + n}"/>' for n in range(len(formats)))
    body = f'<numFmts>{codes}</numFmts><cellXfs><xf numFmtId="0"/>{styles}</cellXfs>'
    return f"{_XML}<styleSheet {_MAIN}>{body}</styleSheet>".encode()


def links_xml(*links: str) -> bytes:
    return f"{_XML}<Relationships {_LINKS}>{''.join(links)}</Relationships>".encode()


def link(number: int, kind: str, target: str, mode: str = "Internal") -> str:
    return (
        f'<Relationship Id="rId{number}" Type="{_KINDS}/{kind}" Target="{target}" '
        f'TargetMode="{mode}"/>'
    )


def types_xml(kinds: Mapping[str, str]) -> bytes:
    """Return the list of what parts are: the name of a part below `xl/`, and its kind."""
    listed = "".join(
        f'<Override PartName="/xl/{name}" ContentType="application/'
        f'vnd.openxmlformats-officedocument.spreadsheetml.{kind}+xml"/>'
        for name, kind in kinds.items()
    )
    return f"{_XML}<Types {_TYPES}>{listed}</Types>".encode()


def parts_of(items: str, phases: str = "", **book: str) -> Parts:
    """Return the parts of a workbook with the given rows in its sheets Phases and Items."""
    phases = phases or rows_of(
        text_cell("A1", "code") + text_cell("B1", "name"),
        text_cell("A2", "20") + text_cell("B2", "Pits"),
    )
    names = (
        '<sheet name="Phases" sheetId="1" r:id="rId1"/>'
        '<sheet name="Items" sheetId="2" r:id="rId2"/>'
    )
    properties = "".join(f' {key}="{value}"' for key, value in book.items())
    return {
        TYPES: types_xml(_PART_TYPES),
        "_rels/.rels": links_xml(link(1, "officeDocument", "xl/workbook.xml")),
        "xl/workbook.xml": f"{_XML}<workbook {_MAIN} {_LINKED}><workbookPr{properties}/>"
        f"<sheets>{names}</sheets></workbook>".encode(),
        BOOK_LINKS: links_xml(
            link(1, "worksheet", "worksheets/sheet1.xml"),
            link(2, "worksheet", "worksheets/sheet2.xml"),
            link(3, "sharedStrings", "sharedStrings.xml"),
            link(4, "styles", "/xl/styles.xml"),
        ),
        "xl/worksheets/sheet1.xml": sheet_xml(phases),
        SHEET: sheet_xml(items),
        TEXTS: texts_xml("a", "b"),
        "xl/styles.xml": styles_xml("0.0%", "yyyy-mm-dd", "000"),
    }


_HEADINGS = "".join(
    text_cell(f"{column}1", heading)
    for column, heading in zip(
        "ABCDEF", ("phase", "code", "name", "assembly", "input 1", "measure 1"), strict=True
    )
)
_ITEM = "".join(
    text_cell(f"{column}2", text)
    for column, text in zip(
        "ABCDEF", ("20", "010", "Saw cut", "floor-cut", "length", "100 ft"), strict=True
    )
)


def items_with(cells: str = "") -> str:
    """Return a row of headings and one of an item, whose cells may be replaced."""
    return rows_of(_HEADINGS, cells or _ITEM)


def good_parts() -> Parts:
    return parts_of(items_with())


def packed(parts: Mapping[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", method) as archive:
        for name, content in parts.items():
            archive.writestr(zipfile.ZipInfo(name), content, method, 1)
    return whole.getvalue()


def with_part(name: str, content: bytes = b"<x/>") -> bytes:
    return packed(good_parts() | {name: content})


def with_sheet(rows: str, *, before: str = "", after: str = "") -> bytes:
    return with_part(SHEET, sheet_xml(rows, before=before, after=after))


def _with_two_of_a_name() -> bytes:
    content = with_part("xl/worksheets/sheet9.xml")
    return content.replace(b"sheet9.xml", b"sheet1.xml")


def _renamed(old: bytes, new: bytes) -> bytes:
    return with_part(old.decode()).replace(old, new)


def _flagged(flag: int) -> bytes:
    """Return a workbook whose first part has a flag set, in its head and in the list."""
    content = bytearray(packed(good_parts()))
    content[6] |= flag
    content[content.index(b"PK\x01\x02") + 8] |= flag
    return bytes(content)


def _with_forged_size(size: int, *, with_fitting_sum: bool = False) -> bytes:
    """Return a workbook one part of which unpacks to more than it says."""
    name, content = "xl/theme/theme1.xml", b" " * 60_000_000
    whole = bytearray(packed(good_parts() | {name: content}))
    head = whole.index(name.encode()) - 30
    entry = whole.rindex(name.encode()) - 46
    for place in (head + 22, entry + 24):
        struct.pack_into("<L", whole, place, size)
    if with_fitting_sum:
        for place in (head + 14, entry + 16):
            struct.pack_into("<L", whole, place, zlib.crc32(content[:size]))
    return bytes(whole)


def _with_shared_body(times: int) -> bytes:
    """Return a workbook whose list names one big part many times over."""
    name = "xl/media/0001.png"
    whole = packed(good_parts() | {name: b" " * 4_000_000})
    end = len(whole) - 22
    entry = whole.rindex(name.encode()) - 46
    more = b"".join(
        whole[entry:end].replace(name.encode(), f"xl/media/{n:04}.png".encode())
        for n in range(2, times + 2)
    )
    record = list(struct.unpack("<4s4H2LH", whole[end:]))
    record[3] += times
    record[4] += times
    record[5] += len(more)
    return whole[:end] + more + struct.pack("<4s4H2LH", *record)


def _with_big_archive_locator() -> bytes:
    whole = packed(good_parts())
    end = len(whole) - 22
    record = list(struct.unpack("<4s4H2LH", whole[end:]))
    locator = struct.pack("<4sLQL", b"PK\x06\x07", 0, 0, 1)
    return whole[:end] + locator + struct.pack("<4s4H2LH", *record)


def _with_bad_sum() -> bytes:
    whole = bytearray(packed(good_parts(), zipfile.ZIP_STORED))
    place = whole.index(b"Saw cut")
    whole[place : place + 3] = b"Sew"
    return bytes(whole)


def _laughs() -> str:
    levels = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 10))
    return f'<!DOCTYPE sst [<!ENTITY e0 "ha">{levels}]>'


def _with_many_references_to_a_long_text() -> bytes:
    cells = '<c t="s"><v>0</v></c>' * 50
    parts = good_parts() | {TEXTS: texts_xml("long " * 6000)}
    return packed(parts | {SHEET: sheet_xml(f"<row>{cells}</row>" * 400)})


_OLE = bytes.fromhex("d0cf11e0a1b11ae1") + b"\0" * 600
_DTD = b'<!DOCTYPE worksheet SYSTEM "http://invented.example/x.dtd"><worksheet'
_OUTSIDE = links_xml(link(1, "oleObject", "file:///etc/passwd", "External"))

# Kind of harm: how to build it, and words of the sentence that refuses it.
HOSTILE: dict[str, tuple[Callable[[], bytes], str]] = {
    "an empty file": (lambda: b"", "is not a workbook"),
    "a CSV file that was renamed": (lambda: b"phase,code\n20,010\n", "is not a workbook"),
    "a picture that was renamed": (lambda: b"\x89PNG\r\n\x1a\n" + b"\0" * 99, "is not a workbook"),
    "a text document that was renamed": (
        lambda: packed({"[Content_Types].xml": b"<x/>", "word/document.xml": b"<x/>"}),
        "not a workbook",
    ),
    "a binary workbook": (lambda: with_part("xl/workbook.bin"), "binary workbook"),
    "a workbook locked with a password": (
        lambda: _OLE + "EncryptedPackage".encode("utf-16-le"),
        "locked with a password",
    ),
    "an old workbook": (lambda: _OLE, "old or foreign"),
    "an archive locked with a password": (lambda: _flagged(1), "locked with a password"),
    "20 MB": (lambda: with_part("xl/media/image1.png") + b"\0" * 20_000_000, "larger than 10 MB"),
    "a file that is cut off": (lambda: packed(good_parts())[:-40], "cut off"),
    "a file with something behind it": (lambda: packed(good_parts()) + b"MZ", "added at its end"),
    "a file with something inside it": (
        lambda: packed(good_parts())[:-22] + b"MZ" + packed(good_parts())[-22:],
        "not in place",
    ),
    "a byte that was changed": (_with_bad_sum, "cannot be unpacked"),
    "packing that can take all memory": (
        lambda: packed(good_parts(), zipfile.ZIP_LZMA),
        "packed in an unusual way",
    ),
    "the form for huge archives": (_with_big_archive_locator, "huge files"),
    "thousands of parts": (
        lambda: packed(good_parts() | {f"xl/media/{n}": b"" for n in range(3000)}),
        "more than 200 parts",
    ),
    "a bomb": (
        lambda: with_part("xl/theme/theme1.xml", b" " * 120_000_000),
        "unpacks to more than 50 MB",
    ),
    "a bomb in many parts": (
        lambda: packed(good_parts() | {f"xl/media/{n}": b" " * 1_000_000 for n in range(100)}),
        "unpacks to more than 50 MB",
    ),
    "a bomb with a forged size": (lambda: _with_forged_size(1000), "cannot be unpacked"),
    "a bomb with a forged size and sum": (
        lambda: _with_forged_size(1000, with_fitting_sum=True),
        "cannot be unpacked",
    ),
    "one body under many names": (lambda: _with_shared_body(11), "cannot be unpacked"),
    "macros": (lambda: with_part("xl/vbaProject.bin"), "holds macros"),
    "macros told by type only": (
        lambda: with_part(
            "[Content_Types].xml",
            b'<Types><Override ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/>'
            b"</Types>",
        ),
        "holds macros",
    ),
    "macros of the old kind": (lambda: with_part("xl/macrosheets/sheet1.xml"), "holds macros"),
    "links to another workbook": (
        lambda: with_part("xl/externalLinks/externalLink1.xml"),
        "links to other files",
    ),
    "a link to a file": (lambda: with_part(SHEET_LINKS, _OUTSIDE), "links to other files"),
    "an embedded file": (lambda: with_part("xl/embeddings/oleObject1.bin"), "embedded"),
    "an embedded program": (lambda: with_part("xl/activeX/activeX1.xml"), "embedded"),
    "a data connection": (lambda: with_part("xl/connections.xml"), "from elsewhere"),
    "two parts of one name": (_with_two_of_a_name, "two parts of the same name"),
    "a name that climbs": (lambda: with_part("xl/../../../root/x"), "harmful name"),
    "a name from the root": (lambda: with_part("/root/x"), "harmful name"),
    "a name with a drive": (lambda: with_part("c:/x"), "harmful name"),
    "a name with backslashes": (
        lambda: _renamed(b"xl/media_1", b"xl\\media_1"),
        "harmful name",
    ),
    "a billion laughs": (
        lambda: with_part(TEXTS, texts_xml("&e9;", before=_laughs())),
        "declares XML entities",
    ),
    "a type declared elsewhere": (
        lambda: with_part(SHEET, sheet_xml("").replace(b"<worksheet", _DTD)),
        "declares XML entities",
    ),
    "entities in UTF-16": (
        lambda: with_part(TEXTS, f"{_laughs()}<sst/>".encode("utf-16")),
        "not XML in UTF-8",
    ),
    "entities in an encoding of its own": (
        lambda: with_part(
            TEXTS, b'<?xml version="1.0" encoding="cp037"?>' + f"{_laughs()}<sst/>".encode("cp037")
        ),
        "not XML in UTF-8",
    ),
    "two cells at the far corners": (
        lambda: with_sheet(rows_of(text_cell("A1", "x")) + '<row r="1048576">'
                           + text_cell("XFD1048576", "x") + "</row>"),
        "as far as row 1048576",
    ),
    "a far cell in disguise": (
        lambda: with_sheet('<row r="1"><c r="&#88;FD1"><v>1</v></c></row>'),
        "as far as &#88;FD1",
    ),
    "a far cell in single quotes": (
        lambda: with_sheet("<row r='1'><c a='>' r = 'A25001'><v>1</v></c></row>"),
        "as far as A25001",
    ),
    "a far row": (
        lambda: with_sheet('<row r="900000"><c><v>1</v></c></row>'),
        "as far as row 900000",
    ),
    "an extent that is a lie": (
        lambda: with_sheet("", before='<dimension ref="A1:XFD1048576"/>'),
        "as far as A1:XFD1048576",
    ),
    "rows without end": (lambda: with_sheet("<row/>" * 25_001), "more than 25,000 rows"),
    "cells without end": (
        lambda: with_sheet("<row>" + "<c><v>1</v></c>" * 20_000 + "</row>"),
        "a row of more than 60 cells",
    ),
    "tags without end": (
        lambda: with_sheet("<row>" + "<x/>" * 10_000_000 + "</row>"),
        "too many cells",
    ),
    "an attribute without end": (
        lambda: with_sheet(f'<row a="{"x" * 45_000_000}"/>'),
        "longer than any",
    ),
    "a blank without end": (lambda: with_sheet(f"<row r{' ' * 45_000_000}/>"), "longer than any"),
    "references without end": (
        lambda: with_sheet(("<row" + ' r="99999"' * 25_000 + "/>") * 100),
        "as far as row 99999",
    ),
    "a cell that stands in another row": (
        lambda: with_sheet('<row r="1"><c r="A9"><v>1</v></c></row>'),
        "not in its place",
    ),
    "rows out of order": (
        lambda: with_sheet('<row r="3"><c r="A3"><v>1</v></c></row><row r="2"/>'),
        "row 2 is not in its place",
    ),
    "a row that is listed twice": (
        lambda: with_sheet('<row r="1"/><row/><row r="2"><c r="A2"><v>1</v></c></row>'),
        "row 2 is not in its place",
    ),
    "a text that is not there": (
        lambda: with_sheet('<row r="1"><c r="A1" t="s"><v>99</v></c></row>'),
        "a text inside is missing",
    ),
    "a text longer than a cell": (
        lambda: with_sheet(rows_of(text_cell("A1", "x" * 40_000))),
        "more text in a cell",
    ),
    "one long text in thousands of cells": (
        _with_many_references_to_a_long_text,
        "too much text",
    ),
    "a sheet that is not XML": (lambda: with_part(SHEET, b"<worksheet><"), "not XML inside"),
    "links that are not XML": (lambda: with_part(BOOK_LINKS, b"<x><"), "not XML inside"),
    "no list of what its parts are": (
        lambda: packed({k: v for k, v in good_parts().items() if k != TYPES}),
        "a part of it is missing",
    ),
}  # fmt: skip
