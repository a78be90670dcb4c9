"""Numbers of the tables against the range that their own source states.

A source that says `common practice, no source: 0.25 to 0.6` is a promise: the number lies in that
range, and the scope may give any number of it. A number with neither source nor range is a doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from estimator.assemblies.assembly import AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.errors import quoted

_NUMBER = r"(\d+(?:\.\d+)?)"
# What follows in another unit, such as `lb a cubic foot`, is no range of this number.
_STATED = re.compile(rf"no source: {_NUMBER} to {_NUMBER}(?=$|[;:]| of | by | with )")

_BARE = ("common practice, no source", "illustrative, invented for the demo")


def stated_range(source: str) -> tuple[Decimal, Decimal] | None:
    """Return the lowest and the highest number that a source states, None if it states none.

    Examples
    --------
    >>> stated_range("common practice, no source: 0.8 to 1.6 by two people with shovels")
    (Decimal('0.8'), Decimal('1.6'))
    >>> stated_range("common practice, no source: 125 to 140 lb a cubic foot")
    """
    stated = _STATED.search(source)
    return None if stated is None else (Decimal(stated[1]), Decimal(stated[2]))


def source_range_doubts(tables: Tables) -> Iterator[str]:
    """Yield a sentence for each number of the tables that its source does not bear out.

    Parameters
    ----------
    tables : Tables
        Checked tables: inputs of assemblies, densities, and rates whose note states a range.
    """
    for code, assembly in tables.catalogue.assemblies.items():
        for one in assembly.inputs:
            for doubt in _input_doubts(one):
                yield f"assembly {quoted(code)}: {doubt}"
    for material, density in tables.catalogue.densities.items():
        yield from _outside(f"density of {quoted(material)}", density.density, density.source)
    for row in tables.rates.rows():
        yield from _outside(f"rate of {quoted(row.code)}", row.rate, row.note)


def _outside(what: str, number: Decimal, source: str) -> Iterator[str]:
    stated = stated_range(source)
    if stated and not stated[0] <= number <= stated[1]:
        yield f"{what}: {number} is outside {_words(stated)}, which its source states"


def _input_doubts(one: AssemblyInput) -> Iterator[str]:
    if one.default is not None and one.source in _BARE:
        yield f"{one.default} of {quoted(one.name)} has neither a source nor a range"
    stated = stated_range(one.source)
    if stated is None:
        return
    if one.default is not None and not stated[0] <= one.default <= stated[1]:
        yield f"{one.default} of {quoted(one.name)} is outside {_words(stated)}, as its source says"
    if one.least is not None and one.least > stated[0]:
        yield f"{quoted(one.name)} takes no less than {one.least}; its source says {_words(stated)}"
    if one.most is not None and one.most < stated[1]:
        yield f"{quoted(one.name)} takes no more than {one.most}; its source says {_words(stated)}"


def _words(stated: tuple[Decimal, Decimal]) -> str:
    return f"{stated[0]} to {stated[1]}"
