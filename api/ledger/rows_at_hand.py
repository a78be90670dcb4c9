"""Rows of the books that were read once, and are looked up again and again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import Generic, TypeVar

LibraryRow = TypeVar("LibraryRow")


class RowsAtHand(Generic[LibraryRow]):
    """Rows of a kind in the order of the books.

    Parameters
    ----------
    rows : iterable of rows of the library
        Those of the books.
    """

    def __init__(self, rows: Iterable[LibraryRow]) -> None:
        self.rows = list(rows)
        self._by: dict[Callable[[LibraryRow], Hashable], dict[Hashable, list[LibraryRow]]] = {}

    def add(self, row: LibraryRow) -> None:
        """Add a row that was posted."""
        self.rows.append(row)
        for key, places in self._by.items():
            places[key(row)].append(row)

    def alike(self, key: Callable[[LibraryRow], Hashable], value: Hashable) -> Sequence[LibraryRow]:
        """Return the rows of which a function returns a value.

        Parameters
        ----------
        key : callable
            A function that is there for good: what it returns of each row is remembered.
        value : hashable
            What it returns of the rows that are looked for.
        """
        places = self._by.get(key)
        if places is None:
            places = self._by[key] = defaultdict(list)
            for row in self.rows:
                places[key(row)].append(row)
        return places.get(value, ())
