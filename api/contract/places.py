"""Where in a request a fault is: a JSON pointer into the body, a parameter, or a header.

Faults have one text for their place. In a request it begins with `#/` for a pointer (RFC 6901,
section 6: as a URI fragment, so that it holds no blanks and no commas), with `?` for a parameter
and with `header ` for a header; what follows a comma tells more.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from urllib.parse import quote

from estimator.errors import Fault, InputFaulty

ROOT = "#"
_PARAMETER, _HEADER = "?", "header "
_UNESCAPED = "-._~!$&'()*+;=:@?"


def pointer(*steps: str | int, of: str = ROOT) -> str:
    """Return the JSON pointer that leads to a value of the body.

    Examples
    --------
    >>> pointer("phases", 0, "a/b, c")
    '#/phases/0/a~1b%2C%20c'
    """
    escaped = (str(step).replace("~", "~0").replace("/", "~1") for step in steps)
    return "/".join([of, *(quote(step, safe=_UNESCAPED) for step in escaped)])


def parameter(name: str) -> str:
    """Return the place of a query parameter."""
    return f"{_PARAMETER}{name}"


def header(name: str) -> str:
    """Return the place of a header."""
    return f"{_HEADER}{name}"


def place_json(where: str) -> dict[str, str]:
    """Return a place as a problem tells it.

    Examples
    --------
    >>> place_json("#/scope/phases/0, depth")
    {'pointer': '#/scope/phases/0', 'where': 'depth'}
    >>> place_json("?limit"), place_json("barn.xlsx Items F2")
    ({'parameter': 'limit'}, {'where': 'barn.xlsx Items F2'})
    """
    place, _, more = where.partition(", ")
    if place == ROOT or place.startswith(f"{ROOT}/"):
        place_fields = {"pointer": place}
    elif place.startswith(_PARAMETER):
        place_fields = {"parameter": place.removeprefix(_PARAMETER)}
    elif place.startswith(_HEADER):
        place_fields = {"header": place.removeprefix(_HEADER)}
    else:
        return {"where": where} if where else {}
    return place_fields | ({"where": more} if more else {})


@contextmanager
def faults_at(place: str, fields: Collection[str] = ()) -> Iterator[None]:
    """Raise what is raised inside with its faults placed in the body.

    Parameters
    ----------
    place : str
        A pointer, such as `#/rates`.
    fields : collection of str
        Names under it; a fault whose place is one of them gets that field's pointer.
    """
    try:
        yield
    except InputFaulty as error:
        error.faults = tuple(_moved(one, place, fields) for one in error.faults)
        raise


def _moved(fault: Fault, place: str, fields: Collection[str]) -> Fault:
    if fault.where.startswith(ROOT):
        return fault
    first, _, more = fault.where.partition(", ")
    if first in fields:
        where = pointer(first, of=place) + (f", {more}" if more else "")
    else:
        where = f"{place}, {fault.where}" if fault.where else place
    return Fault(where, fault.what, fault.remedy)
