import errno
import zlib
from xml.etree.ElementTree import ParseError
from xml.parsers.expat import errors as xml_errors

import pytest

from estimator.errors import WorkbookRefused
from estimator.workbook.reading.child import Refused, read
from estimator.workbook.reading.limits import ReadingLimits
from estimator.workbook.reading.workbook_rows import read_sheets
from tests.workbook.filled import filled

TOO_COSTLY = "takes too much time or memory to read; open it in a spreadsheet program"


def rows(content: bytes, limits: ReadingLimits) -> int:
    """Return how many rows of items were read."""
    return len(read_sheets(content, "barn.xlsx", ["Items"], limits)[1].rows)


@pytest.mark.parametrize(
    "limits",
    [ReadingLimits(processor_s=0.02), ReadingLimits(memory_bytes=20_000_000)],
    ids=["time", "memory"],
)
def test_a_workbook_that_takes_more_than_it_may_is_refused(limits: ReadingLimits) -> None:
    content = filled([["20", "010", "Saw cut", "floor-cut", "length", "100 ft"]] * 500)
    assert rows(content, ReadingLimits()) == 501
    with pytest.raises(WorkbookRefused, match=TOO_COSTLY):
        rows(content, limits)


def test_a_long_workbook_is_read_where_more_time_is_given() -> None:
    content = filled([["20", "010", "Saw cut", "floor-cut", "length", "100 ft"]] * 5_000)
    assert rows(content, ReadingLimits(processor_s=10.0)) == 5_001
    with pytest.raises(WorkbookRefused, match=TOO_COSTLY):
        rows(content, ReadingLimits(processor_s=0.2))


def xml_fault(reason: str) -> ParseError:
    error = ParseError(reason)
    error.code = xml_errors.codes[reason]
    return error


def test_a_file_is_not_called_damaged_where_memory_ran_out() -> None:
    def tell(*_what: object) -> None:
        raise MemoryError

    with pytest.raises(MemoryError):
        read(filled([]), {"items"}, tell)


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (OSError(errno.EIO, "Input/output error"), "is an archive, but not a workbook"),
        (zlib.error("Error -3 while decompressing data"), "something inside is not what it should"),
        (xml_fault(xml_errors.XML_ERROR_SYNTAX), "is damaged: it is not XML inside"),
    ],
    ids=lambda told: type(told).__name__,
)
def test_a_file_is_called_damaged_where_its_content_is(error: Exception, told: str) -> None:
    def tell(*_what: object) -> None:
        raise error

    with pytest.raises(Refused, match=told):
        read(filled([]), {"items"}, tell)


def test_whatever_the_memory_a_sound_workbook_is_read_or_said_to_take_too_much() -> None:
    content = filled([["20", "010", "Saw cut", "floor-cut", "length", "100 ft"]] * 500)
    heard = set()
    for megabytes in range(14, 40):
        try:
            heard.add(str(rows(content, ReadingLimits(memory_bytes=megabytes * 1_000_000))))
        except WorkbookRefused as refusal:
            heard.add(str(refusal))
    assert {TOO_COSTLY in told for told in heard - {"501"}} == {True}
