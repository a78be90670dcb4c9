"""Rows of the library as plain JSON, as an entry of the books holds them, and back."""

from __future__ import annotations

from datetime import date, datetime, time
from decimal import Decimal
from typing import Any, TypeVar

from cattrs import Converter

from estimator.rates.exact_inputs import Count, Exact

LibraryRow = TypeVar("LibraryRow")


def _converter() -> Converter:
    converter = Converter()
    converter.register_unstructure_hook(Decimal, "{:f}".format)
    converter.register_structure_hook(Decimal, lambda text, _: Decimal(text))
    for kind in (date, datetime, time):
        converter.register_unstructure_hook(kind, kind.isoformat)
        converter.register_structure_hook(kind, lambda text, of: of.fromisoformat(text))
    converter.register_structure_hook_func(lambda of: of in (Exact, Exact | None), _exact)
    converter.register_structure_hook_func(lambda of: of == Count, lambda count, _: count)
    return converter


def _exact(text: Any, _: Any) -> Decimal | None:
    return None if text is None else Decimal(text)


_CONVERTER = _converter()


def plain_row(row: Any) -> dict[str, Any]:
    """Return a row of the library as plain JSON: decimals and dates as text."""
    plain: dict[str, Any] = _CONVERTER.unstructure(row)
    return plain


def library_row(plain: dict[str, Any], kind: type[LibraryRow]) -> LibraryRow:
    """Return the row of the library that `plain_row` gave the JSON of."""
    return _CONVERTER.structure(plain, kind)
