"""States of the United States by name or code, as public holidays know them."""

from __future__ import annotations

from estimator.errors import CalendarFaulty, did_you_mean, fault, quoted


def state_code(name: str) -> str:
    """Return the code of a state of the United States by its name or code, in any case.

    Raises
    ------
    CalendarFaulty
        If there is no such state.

    Examples
    --------
    >>> state_code("Ohio"), state_code("oh")
    ('OH', 'OH')
    """
    from holidays import country_holidays

    states = country_holidays("US")
    aliases = states.subdivisions_aliases
    codes = {alias.lower(): code for alias, code in aliases.items()}
    codes |= {code.lower(): code for code in states.subdivisions}
    if name.lower() not in codes:
        known = [*aliases, *states.subdivisions]
        what = f"{quoted(name)} is not a state of the United States"
        raise fault(CalendarFaulty, what, did_you_mean(name, known, "write Ohio, or OH"))
    return codes[name.lower()]
