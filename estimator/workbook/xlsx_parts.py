"""The small parts of a workbook, walked through without keeping a tree: links, sheets, styles.

Standard library only: this runs in the process that reads a workbook (`reading_child.py`).
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Callable
from xml.parsers import expat

LONGEST_TEXT = 32_767
LONGEST_FORMAT = 255

_CHUNK_BYTES = 1 << 20
_PERCENT_FORMATS = {9, 10}
_DATE_FORMATS = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
# Parts of a number format that are print only: "text", \x, _x, *x, [Red] but not [h].
_PRINT_ONLY = re.compile(r'"[^"]*"|\\.|_.|\*.|\[(?![hms]+\])[^\[\]]*\]', re.IGNORECASE)
_NUMBERED = re.compile(r"_x([0-9A-Fa-f]{4})_")


class Refused(Exception):
    """The workbook cannot be read; says why, in the words that follow its name."""


class Part:
    """Walks through one XML part; subclasses say which tags are of interest.

    `starts` and `ends` hold, by the name of a tag without its prefix, what is done there; other
    tags pass unheeded.
    """

    def __init__(self) -> None:
        self.starts: dict[str, Callable[[dict[str, str]], None]] = {}
        self.ends: dict[str, Callable[[], None]] = {}
        self.is_text = False
        self.texts: list[str] = []

    def walk(self, archive: zipfile.ZipFile, name: str) -> None:
        """Go through a part of the archive from its first tag to its last."""
        parser = expat.ParserCreate()
        parser.buffer_text = True
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._characters
        parser.StartDoctypeDeclHandler = _refuse_declaration
        try:
            with archive.open(name) as part:
                while chunk := part.read(_CHUNK_BYTES):
                    parser.Parse(chunk, False)
                parser.Parse(b"", True)
        except expat.ExpatError as error:
            raise Refused("is damaged: it is not XML inside") from error
        except KeyError as error:
            raise Refused("is damaged: a part of it is missing") from error

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        action = self.starts.get(tag if ":" not in tag else tag.rpartition(":")[2])
        if action is not None:
            action(attributes)

    def _end(self, tag: str) -> None:
        action = self.ends.get(tag if ":" not in tag else tag.rpartition(":")[2])
        if action is not None:
            action()

    def _characters(self, text: str) -> None:
        if self.is_text:
            self.texts.append(text)

    def taken_text(self) -> str:
        """Return the text that was gathered, and begin anew."""
        text = "".join(self.texts)
        self.texts.clear()
        if len(text) > LONGEST_TEXT:
            raise Refused("holds more text in a cell than a cell can hold")
        return text


def _refuse_declaration(*_: object) -> None:
    raise Refused("declares XML entities or types, which no scope needs")


class Links(Part):
    """Where a part points: identifier to (kind, name of the part)."""

    def __init__(self, folder: str) -> None:
        super().__init__()
        self.folder = folder
        self.targets: dict[str, tuple[str, str]] = {}
        self.starts = {"Relationship": self._link}

    def _link(self, attributes: dict[str, str]) -> None:
        target = posixpath.join(self.folder, attributes.get("Target", ""))
        kind = attributes.get("Type", "").rpartition("/")[2]
        self.targets[attributes.get("Id", "")] = (kind, posixpath.normpath(target).lstrip("/"))

    def of_kind(self, kind: str) -> str | None:
        """Return the name of the first part of a kind."""
        return next((name for found, name in self.targets.values() if found == kind), None)


class Contents(Part):
    """The sheets by name, in order, and which day dates are counted from."""

    def __init__(self) -> None:
        super().__init__()
        self.sheets: list[tuple[str, str]] = []
        self.from_1904 = False
        self.starts = {"sheet": self._sheet, "workbookPr": self._properties}

    def _sheet(self, attributes: dict[str, str]) -> None:
        link = next((value for key, value in attributes.items() if key.endswith(":id")), "")
        self.sheets.append((attributes.get("name", ""), link))

    def _properties(self, attributes: dict[str, str]) -> None:
        self.from_1904 = attributes.get("date1904", "0") in ("1", "true")


class SharedTexts(Part):
    """The texts that cells share, by number; aids to reading Asian words are left out."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.is_reading_aid = False
        self.starts = {"t": self._begin, "rPh": self._begin_aid}
        self.ends = {"t": self._stop, "rPh": self._end_aid, "si": self._take}

    def _begin(self, _: dict[str, str]) -> None:
        self.is_text = not self.is_reading_aid

    def _stop(self) -> None:
        self.is_text = False

    def _begin_aid(self, _: dict[str, str]) -> None:
        self.is_reading_aid = True

    def _end_aid(self) -> None:
        self.is_reading_aid = False

    def _take(self) -> None:
        self.found.append(with_spelled_characters(self.taken_text()))


class Styles(Part):
    """What the numbers of each cell style are: `number`, `percent`, `date`, or `00` padded."""

    def __init__(self) -> None:
        super().__init__()
        self.kinds: list[str] = []
        self.formats: dict[int, str] = {}
        self.known: dict[int, str] = {}
        self.is_cells = False
        self.starts = {"numFmt": self._format, "cellXfs": self._cells, "xf": self._style}
        self.ends = {"cellXfs": self._end_of_cells}

    def _format(self, attributes: dict[str, str]) -> None:
        self.formats[whole_number(attributes, "numFmtId")] = attributes.get("formatCode", "")

    def _cells(self, _: dict[str, str]) -> None:
        self.is_cells = True

    def _end_of_cells(self) -> None:
        self.is_cells = False

    def _style(self, attributes: dict[str, str]) -> None:
        if self.is_cells:
            number = whole_number(attributes, "numFmtId")
            if number not in self.known:
                self.known[number] = self._kind(number)
            self.kinds.append(self.known[number])

    def _kind(self, number: int) -> str:
        if number in _PERCENT_FORMATS:
            return "percent"
        if number in _DATE_FORMATS:
            return "date"
        code = _PRINT_ONLY.sub("", self.formats.get(number, "")[:LONGEST_FORMAT]).partition(";")[0]
        if "%" in code:
            return "percent"
        if re.fullmatch("0{2,12}", code):
            return code
        is_day = code.lower() != "general" and re.search("[dmyhs]", code, re.IGNORECASE)
        return "date" if is_day else "number"


def whole_number(attributes: dict[str, str], key: str) -> int:
    """Return a whole number that an attribute holds, 0 if it is not there."""
    text = attributes.get(key, "0")
    if not (text.isascii() and text.isdigit() and len(text) < 9):
        raise Refused("is damaged: a number inside is none")
    return int(text)


def with_spelled_characters(text: str) -> str:
    """Return a text with the characters that are spelled by number, `_x0041_`, as themselves.

    Examples
    --------
    >>> with_spelled_characters("pit_x0020_3")
    'pit 3'
    """
    if "_x" not in text:
        return text
    return _NUMBERED.sub(lambda found: chr(int(found[1], 16)), text)
