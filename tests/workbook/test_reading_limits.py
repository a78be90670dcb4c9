import pytest

from estimator.errors import WorkbookRefused
from estimator.workbook.reading_limits import ReadingLimits
from estimator.workbook.sheets import read_sheets
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
