"""Sets pages from the top down: words, tables whose headings are repeated, and the foot."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import takewhile
from typing import Any

from estimator.charts.palette import ACCENT, BAND, GRAY, INK, RULE
from estimator.own_mark import PROGRAM, marked_pdf
from estimator.printed.line_breaks import broken
from estimator.printed.typeface import BOLD, REGULAR, UNKNOWN, Letters, printable, width_pt

PLAIN, STRONG, TOTAL, GROUP = "plain", "strong", "total", "group"
_LETTER = (612.0, 792.0)
_SIDE, _TOP, _BOTTOM = 36.0, 40.0, 50.0
_SIZE, _LEADING, _GAP = 7.0, 8.6, 8.0
_HEAD_SIZE, _FOOT_SIZE = 6.6, 6.6
_LONGEST_FOOT = 70


@dataclass(frozen=True)
class PrintColumn:
    """A column of a printed table: its heading, its share of the width, and how it is set."""

    heading: str
    share: float
    is_number: bool = False


@dataclass(frozen=True)
class PrintRow:
    """A row of a printed table: a text for each column, and `plain`, `strong`, `total` or `group`.

    A line feed in a text begins a new line. The first text of a `group` runs on over the columns
    without one, and the next row, of up to three lines, stands on the same page.
    """

    cells: tuple[str, ...]
    manner: str = PLAIN


@dataclass(frozen=True)
class Foot:
    """What stands at the foot of every page, and at its top where it must not be overlooked."""

    left: str
    middle: str
    mark: str = ""


@dataclass
class _Page:
    """A page under way: its size [pt] and its operators."""

    width: float
    height: float
    operators: list[str]


class PagePen:
    """Sets the pages of one document.

    Parameters
    ----------
    title : str
        Of the document.
    foot : Foot
        Of every page.
    scale : float
        Below 1, all is set so much smaller, and a page holds more.
    """

    def __init__(self, title: str, foot: Foot, scale: float = 1.0) -> None:
        from reportlab import rl_config
        from reportlab.pdfgen.canvas import Canvas

        rl_config.useA85 = 0  # else each page is written in letters, a quarter longer

        self._file = io.BytesIO()
        width_pt("", 1)  # the font is there before the canvas asks for it
        self._canvas: Any = Canvas(
            self._file, pagesize=_LETTER, invariant=1, pageCompression=1, initialFontName=REGULAR
        )
        self._canvas.setTitle(title)
        self._canvas.setAuthor(PROGRAM)
        self._canvas.setCreator(PROGRAM)
        self._canvas.setSubject(foot.middle)
        self._letters = Letters(self._canvas._doc)
        self._foot, self._pages, self._scale = foot, list[_Page](), scale
        self._y = self._pad = 0.0
        self._lacks_letters = self._is_wide = False

    def sheet(self, title: str, *, is_wide: bool) -> None:
        """Begin a page with the title of a sheet."""
        self._is_wide = is_wide
        self._begin()
        self._lines([title], 15, BOLD, ACCENT)

    def section(self, title: str) -> None:
        """Set a heading within a sheet, with room for what follows."""
        self._room(120)
        self._y -= 8
        self._lines([title], 10, BOLD, ACCENT)

    def paragraph(self, words: str, size_pt: float = 8, color: str = INK) -> None:
        """Set words over the whole width."""
        self._lines([words], size_pt, REGULAR, color)

    def sentences(self, sentences: Iterable[str]) -> None:
        """Set each sentence as an entry of a list."""
        self._lines([f"\u2022 {one}" for one in sentences], 7.4, REGULAR, INK)

    def table(
        self, columns: Sequence[PrintColumn], rows: Iterable[PrintRow], pad_pt: float = 2.6
    ) -> None:
        """Set a table over as many pages as it takes, its headings on each; pad its rows."""
        self._y -= 6
        self._pad = pad_pt
        places = _places(columns, self._page.width - 2 * _SIDE)
        self._room(60)
        self._heading(columns, places)
        for row in rows:
            self._row(columns, places, row)

    def content(self) -> bytes:
        """Return the file's bytes: the same pages give the same bytes."""
        for number, page in enumerate(self._pages, start=1):
            self._set_foot(page, number)
            self._canvas.setPageSize((page.width * self._scale, page.height * self._scale))
            if self._scale != 1.0:
                self._canvas.scale(self._scale, self._scale)
            self._canvas.addLiteral("\n".join(page.operators))
            self._canvas.showPage()
        self._canvas.save()
        return marked_pdf(self._file.getvalue())

    @property
    def pages(self) -> int:
        """How many pages there are so far."""
        return len(self._pages)

    @property
    def _page(self) -> _Page:
        return self._pages[-1]

    def _begin(self) -> None:
        width, height = (
            side / self._scale for side in (reversed(_LETTER) if self._is_wide else _LETTER)
        )
        self._pages.append(_Page(width, height, []))
        self._y = height - _TOP
        if self._foot.mark:
            self._right(self._foot.mark, width - _SIDE, height - 28, 8, BOLD, ACCENT)

    def _room(self, needed: float) -> None:
        if self._y - needed < _BOTTOM:
            self._begin()

    def _lines(self, paragraphs: Iterable[str], size: float, font: str, color: str) -> None:
        width = self._page.width - 2 * _SIDE
        for words in paragraphs:
            for line in broken(self._shown(words), width, size, font):
                self._room(size * 1.3)
                self._y -= size * 1.3
                self._left(line, _SIDE, self._y, size, font, color)
            self._y -= 2

    def _heading(
        self, columns: Sequence[PrintColumn], places: Sequence[tuple[float, float]]
    ) -> None:
        cells = [
            broken(printable(one.heading), width - _GAP, _HEAD_SIZE, BOLD)
            for one, (_, width) in zip(columns, places, strict=True)
        ]
        deepest = max(len(lines) for lines in cells)
        for column, (x, width), lines in zip(columns, places, cells, strict=True):
            for number, line in enumerate(lines):
                y = self._y - (number + 1 + deepest - len(lines)) * _LEADING
                put = self._right if column.is_number else self._left
                put(line, x + width - _GAP if column.is_number else x, y, _HEAD_SIZE, BOLD, GRAY)
        self._y -= deepest * _LEADING + 3
        self._rule(self._y, 0.9, GRAY)

    def _row(
        self, columns: Sequence[PrintColumn], places: Sequence[tuple[float, float]], row: PrintRow
    ) -> None:
        font = REGULAR if row.manner == PLAIN else BOLD
        cells = [
            [self._shown(words)]
            if column.is_number
            else [
                line
                for part in words.split("\n")
                for line in broken(self._shown(part), width - _GAP, _SIZE, font)
            ]
            for column, width, words in zip(columns, _widths(places, row), row.cells, strict=True)
        ]
        while any(cells):
            cells = self._part(columns, places, cells, row.manner)

    def _part(
        self,
        columns: Sequence[PrintColumn],
        places: Sequence[tuple[float, float]],
        cells: list[list[str]],
        manner: str,
    ) -> list[list[str]]:
        """Set a row, broken only where it is longer than a page, and return the rest."""
        deepest = max(map(len, cells))
        following = 3 * _LEADING + 2 * self._pad if manner == GROUP else 0.0
        is_whole = deepest <= self._lines_below(self._page.height - _TOP - 5 * _LEADING)
        if self._lines_below(self._y - following) < (deepest if is_whole else 2):
            self._begin()
            self._heading(columns, places)
        deep = min(deepest, max(self._lines_below(self._y), 1))
        if manner == TOTAL:
            self._band(deep * _LEADING + 2 * self._pad)
        font = REGULAR if manner == PLAIN else BOLD
        for column, (x, width), lines in zip(columns, places, cells, strict=True):
            y = self._y - self._pad
            for line in lines[:deep]:
                y -= _LEADING
                if column.is_number:
                    self._number(line, x + width - _GAP, y + 1.8, width - _GAP, font)
                else:
                    self._left(line, x, y + 1.8, _SIZE, font, INK)
        self._y -= deep * _LEADING + 2 * self._pad
        self._rule(self._y, 0.3, RULE)
        return [lines[deep:] for lines in cells]

    def _lines_below(self, y: float) -> int:
        """Return how many lines of a row the page holds below a height [pt]."""
        return int((y - 2 * self._pad - _BOTTOM) / _LEADING)

    def _number(self, text: str, x: float, y: float, width: float, font: str) -> None:
        """Set a figure on one line, smaller where the column is narrow: it is never cut."""
        needed = width_pt(text, _SIZE, font)
        size = _SIZE if needed <= width else _SIZE * width / needed
        self._right(text, x, y, size, font, INK)

    def _shown(self, words: str) -> str:
        shown = printable(words)
        self._lacks_letters = self._lacks_letters or (UNKNOWN in shown and UNKNOWN not in words)
        return shown

    def _left(self, text: str, x: float, y: float, size: float, font: str, color: str) -> None:
        if text:
            self._page.operators.append(
                f"{_color(color)} rg {self._letters.placed(text, x, y, size, font)}"
            )

    def _right(self, text: str, x: float, y: float, size: float, font: str, color: str) -> None:
        self._left(text, x - width_pt(text, size, font), y, size, font, color)

    def _rule(self, y: float, weight: float, color: str) -> None:
        right = self._page.width - _SIDE
        self._page.operators.append(
            f"{_color(color)} RG {weight} w {_SIDE:g} {y:.2f} m {right:g} {y:.2f} l S"
        )

    def _band(self, height: float) -> None:
        width = self._page.width - 2 * _SIDE
        self._page.operators.append(
            f"{_color(BAND)} rg {_SIDE:g} {self._y - height:.2f} {width:g} {height:.2f} re f"
        )

    def _set_foot(self, page: _Page, number: int) -> None:
        place = self._letters.placed
        count = f"page {number} of {len(self._pages)}"
        left = printable(self._foot.left)
        if len(left) > _LONGEST_FOOT:
            left = left[: _LONGEST_FOOT - 3] + "..."
        second = printable(self._foot.middle)
        right = page.width - _SIDE - width_pt(count, _FOOT_SIZE)
        page.operators += [
            f"{_color(GRAY)} rg",
            place(left, _SIDE, 30, _FOOT_SIZE, REGULAR),
            place(second, _SIDE, 21, _FOOT_SIZE, REGULAR),
            place(count, right, 30, _FOOT_SIZE, REGULAR),
        ]
        if self._lacks_letters:
            words = f"{UNKNOWN} stands for a letter that this page cannot print: see the workbook."
            page.operators.append(place(words, _SIDE, 12, _FOOT_SIZE, REGULAR))


def _places(columns: Sequence[PrintColumn], width: float) -> list[tuple[float, float]]:
    """Return where each column begins and how wide it is [pt]."""
    whole = sum(one.share for one in columns)
    places, x = [], _SIDE
    for one in columns:
        own = width * one.share / whole
        places.append((x, own))
        x += own
    return places


def _widths(places: Sequence[tuple[float, float]], row: PrintRow) -> list[float]:
    """Return how wide each text of a row may be [pt]."""
    widths = [width for _, width in places]
    if row.manner == GROUP:
        without = takewhile(lambda at: not row.cells[at], range(1, len(widths)))
        widths[0] += sum(widths[at] for at in without)
    return widths


@lru_cache(maxsize=16)
def _color(code: str) -> str:
    return " ".join(f"{int(code[at : at + 2], 16) / 255:.3f}" for at in (0, 2, 4))
