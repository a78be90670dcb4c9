"""What can be checked of an item whose assembly nobody knows, so that no fault hides behind it."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.assemblies.tables import Tables
from estimator.errors import Faults, did_you_mean, quoted
from estimator.quantity.measures import check_measure
from estimator.scope.input_reader import SPOTS
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.located_reader import LocatedReader


def check_unknown_work(section: Section, code: str, tables: Tables, faults: Faults) -> None:
    """Note the faults of an item that show without its assembly.

    Parameters
    ----------
    section : Section
        The item, or one of its methods.
    code : str
        The item's cost code.
    tables : Tables
        The crews and assemblies that there are.
    faults : Faults
        Where faults are noted.
    """
    reader = LocatedReader(faults)
    crew = reader.text(section, "crew", required=False)
    if crew and crew not in tables.crews:
        what = f"item {code} names the unknown crew {quoted(crew)}"
        faults.add(section.entries["crew"].where, what, did_you_mean(crew, tables.crews))
    for name, text in _measures(section.entries.get("inputs")):
        reader.tried(text.where, f"item {code}, {name}", check_measure, text.value)
    for method in reader.parts(section, "methods", required=False):
        if isinstance(method, Section):
            reader.known(method, "assembly", "", tables.catalogue.assemblies)
            check_unknown_work(method, code, tables, faults)


def _measures(inputs: Located | None) -> Iterator[tuple[str, Text]]:
    """Yield the name of each input with every measure that it lists."""
    if isinstance(inputs, Section):
        for name, written in inputs.entries.items():
            yield from ((name, text) for text in _texts(written))


def _texts(written: Located) -> Iterator[Text]:
    if isinstance(written, Text):
        yield written
    elif isinstance(written, Listing):
        for part in written.parts:
            yield from _texts(part)
    elif SPOTS in written.entries:
        yield from _texts(written.entries[SPOTS])
