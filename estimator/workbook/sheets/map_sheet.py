"""The sheet of a map: the number of the cheapest method over two values."""

from __future__ import annotations

import numpy as np

from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.curves import CostMap
from estimator.studies.comparison.map_key import map_key
from estimator.studies.comparison.sentences import value_text
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Map"
ACROSS, UP = 16, 20


def write_map(book: Book, comparison: Comparison, cost_map: CostMap, page: PageSetup) -> None:
    """Write the sheet: values of the second input downward from the highest, the first across."""
    rows = np.linspace(len(cost_map.up_values) - 1, 0, UP).round().astype(int).tolist()
    places = np.linspace(0, len(cost_map.across_values) - 1, ACROSS).round().astype(int).tolist()
    heads = [value_text(cost_map.across, float(cost_map.across_values[place])) for place in places]
    columns = (
        Column(f"{cost_map.up.name} down, {cost_map.across.name} across", 24),
        *(Column(head, 10, True) for head in heads),
    )
    pen = SheetPen(book, TITLE, columns)
    key = map_key(comparison, cost_map)
    written = (f"{one.name} {value_text(one, one.base)}" for one in (cost_map.across, cost_map.up))
    legend = "; ".join(f"{mark} {words}" for mark, words in key)
    pen.top("Lowest total cost, by number", f"{legend}. As written: {', '.join(written)}.")
    for row in rows:
        pen.text(1, value_text(cost_map.up, float(cost_map.up_values[row])))
        for column, place in enumerate(places, start=2):
            best = int(cost_map.cheapest[row, place])
            band = "band number" if best % 2 else "plain number"
            if best < len(comparison.prepared):
                pen.number(column, best + 1, band)
            else:
                pen.text(column, key[best][0], band)
        pen.down()
    pen.finish(page)
