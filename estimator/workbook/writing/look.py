"""How our sheets look: one plain typeface, thin rules, warm grays, one brick-red accent."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from estimator.charts.palette import ACCENT, BAND, GRAY, INK, PAPER, RULE

if TYPE_CHECKING:
    from openpyxl.styles import NamedStyle

TYPEFACE = "Arial"

# A third part of a format is for zero: a dash, so that a page of zeros stays quiet.
MONEY = '"$"#,##0.00;-"$"#,##0.00;"-"'
RATE = '"$"#,##0.00##'
DAY = "yyyy-mm-dd"
QUANTITIES = tuple(
    f'{form};-{form};"-"' for form in ("#,##0", "#,##0.0", "#,##0.00", "#,##0.000", "#,##0.0000")
)
SHARE = "0.0%"
PERCENT = "0.00##%"

_FORMATS = {
    "money": MONEY,
    "rate": RATE,
    "day": DAY,
    "share": SHARE,
    "percent": PERCENT,
    "number": "0",
    "exact": "General",
    **{f"quantity {decimals}": form for decimals, form in enumerate(QUANTITIES)},
}


@dataclass(frozen=True)
class _Manner:
    """One way of setting a cell, before its number format."""

    size: float = 9
    bold: bool = False
    color: str = INK
    fill: str = ""
    rule: Literal["", "hair", "thin", "medium"] = ""
    right: bool = False


_MANNERS = {
    "plain": _Manner(rule="hair"),
    "strong": _Manner(bold=True, rule="hair"),
    "band": _Manner(bold=True, fill=BAND, rule="thin"),
    "total": _Manner(size=10, bold=True, fill=BAND, rule="medium"),
    "input": _Manner(fill=PAPER, rule="hair"),
    "warning": _Manner(bold=True, color=ACCENT, rule="hair"),
}
_WORDS = {
    "title": _Manner(size=16, bold=True, color=ACCENT),
    "section": _Manner(size=11, bold=True, color=ACCENT),
    "note": _Manner(color=GRAY),
    "head": _Manner(size=8.5, bold=True, color=GRAY, rule="medium"),
    "head right": _Manner(size=8.5, bold=True, color=GRAY, rule="medium", right=True),
    **_MANNERS,
}


def named_styles() -> Iterator[NamedStyle]:
    """Return the styles of all cells: `plain`, `band money`, `plain quantity 2`, and so on."""
    for name, manner in _WORDS.items():
        yield _style(name, manner, "")
    for name, manner in _MANNERS.items():
        for form, number_format in _FORMATS.items():
            yield _style(f"{name} {form}", manner, number_format)


def _style(name: str, manner: _Manner, number_format: str) -> NamedStyle:
    from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

    is_words = not number_format
    style = NamedStyle(f"Groundsill {name}", number_format=number_format or "General")
    style.font = Font(name=TYPEFACE, size=manner.size, bold=manner.bold, color=manner.color)
    horizontal = "right" if manner.right or not is_words else "left"
    indent = 1 if manner.rule and horizontal == "left" else 0
    style.alignment = Alignment(horizontal, "center", wrap_text=is_words, indent=indent)
    if manner.fill:
        style.fill = PatternFill("solid", start_color=manner.fill, end_color=manner.fill)
    if manner.rule:
        style.border = Border(bottom=Side(manner.rule, RULE))
    return style
