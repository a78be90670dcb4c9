"""What a cell of a spreadsheet shows, as kind and text: numbers with their 15 digits, days in ISO.

Standard library only: the guard and the process that reads a workbook share it.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time

MOST_ROWS = 25_000
MOST_COLUMNS = 60
DIGITS = 15

# Parts of a number format that are print only: "text", \x, _x, *x, [Red].
_PRINT_ONLY = re.compile(r'"[^"]*"|\\.|_.|\*.|\[[^\[\]]*\]')
_LONGEST_FORMAT = 255
# Control characters and underscores are spelled by number: `_x000D_`, `_x005F_`.
_SPELLED = re.compile("_x00([01][0-9A-F]|5F)_")


def shown_value(value: object, number_format: str) -> tuple[str, str]:
    """Return kind and text of what a cell holds and how it shows numbers.

    Parameters
    ----------
    value : object
        Text, number, yes-or-no value, day, time or duration.
    number_format : str
        The format code of the cell, `0.0%`.

    Examples
    --------
    >>> shown_value(0.125, "0.0%"), shown_value(10, "000")
    (('percent', '12.5 %'), ('number', '010'))
    >>> shown_value(datetime(2026, 3, 2), "yyyy-mm-dd")
    ('date', '2026-03-02')
    """
    if isinstance(value, bool):
        return "boolean", "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        return _number(value, number_format)
    if isinstance(value, str):
        return "text", spelled_out(value)
    return "date", _day(value)


def spelled_out(text: str) -> str:
    r"""Return the text of a cell with what the file spells by number put in.

    Parameters
    ----------
    text : str
        As the file has it.

    Examples
    --------
    >>> spelled_out("size _x005F_x0041_")
    'size _x0041_'
    """
    return _SPELLED.sub(lambda match: chr(int(match[1], 16)), text)


def _number(value: float, number_format: str) -> tuple[str, str]:
    if not abs(value) < 10**DIGITS:
        return "error", str(value)[:40]
    code = _PRINT_ONLY.sub("", number_format[:_LONGEST_FORMAT]).partition(";")[0]
    if "%" in code:
        return "percent", f"{plain_text(value * 100)} %"
    text = plain_text(value)
    has_leading_zeros = re.fullmatch("0{2,12}", code) and text.isdigit()
    return "number", text.zfill(len(code)) if has_leading_zeros else text


def _day(value: object) -> str:
    if isinstance(value, datetime):
        is_whole_day = value.time() == time.min
        return value.date().isoformat() if is_whole_day else f"{value:%Y-%m-%d %H:%M}"
    return value.isoformat() if isinstance(value, date) else str(value)


def plain_text(value: float) -> str:
    """Return a number with the 15 digits that a spreadsheet keeps, without an exponent.

    Examples
    --------
    >>> plain_text(20.0), plain_text(0.1 + 0.2), plain_text(1e-7)
    ('20', '0.3', '0.0000001')
    """
    digits = f"{float(f'{value:.{DIGITS}g}'):.20f}" if abs(value) < 1e-4 else f"{value:.{DIGITS}g}"
    if "e" in digits:
        return f"{value:.0f}"
    return digits.rstrip("0").rstrip(".") if "." in digits else digits
