"""Random small scopes: inputs and rates that fall on halves, thirds and half cents."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from hypothesis import strategies as st

from estimator.assemblies.assembly import Assembly, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.rates.resources import RateTable

tie_heavy_rates = st.one_of(
    st.integers(0, 60_000).map(lambda n: n * Decimal("0.005")),
    st.integers(1, 900).map(lambda n: (Decimal(n) / 3).quantize(Decimal("0.0001"))),
    st.sampled_from([Decimal("0.005"), Decimal("0.015"), Decimal("33.335"), Decimal("141.125")]),
)


def with_rates(tables: Tables, rates: Sequence[Decimal]) -> Tables:
    """Return tables whose resources cost the given rates, in the order of their codes."""
    rows = [replace(row, rate=rates[n % len(rates)]) for n, row in enumerate(tables.rates.rows())]
    return replace(tables, rates=RateTable(rows, tables.sets))


@st.composite
def measures(draw: st.DrawFn, one: AssemblyInput) -> str:
    """Draw a measure inside the range of an input, often on a half, a third or a hundredth."""
    least = Fraction(one.least or 0)
    most = min(Fraction(one.most or 1000), 10_000_000 / one.unit.factor)
    if draw(st.booleans()):
        most = min(most, least + 40)
    finest = [1] if one.unit.is_count else [1, 2, 3, 6, 8, 200, 1000]
    parts = draw(st.sampled_from([n for n in finest if ceil(least * n) <= floor(most * n)]))
    number = Fraction(draw(st.integers(ceil(least * parts), floor(most * parts))), parts)
    if one.unit.name == "fraction":
        return str(number)
    return f"${number}" if one.unit.name == "$" else f"{number} {one.unit.name}"


@st.composite
def items(draw: st.DrawFn, code: str, assembly: Assembly) -> dict[str, object]:
    """Draw an item: all inputs that must be given, and some of the others."""
    inputs = {
        one.name: draw(measures(one))
        for one in assembly.inputs
        if one.is_required or (not one.is_derived and draw(st.integers(0, 4)) == 0)
    }
    return {"code": code, "name": f"Work {code}", "assembly": assembly.code, "inputs": inputs}


@st.composite
def phases(
    draw: st.DrawFn, assemblies: Sequence[Assembly], most_items: int = 4
) -> dict[str, list[dict[str, object]]]:
    """Draw two phases of a few items.

    Codes are sampled, not assemblies: hypothesis hashes what it samples from, at every draw.
    """
    by_code = {one.code: one for one in assemblies}
    codes = st.sampled_from(sorted(by_code))
    return {
        phase: [
            draw(items(f"{number:03d}", by_code[draw(codes)]))
            for number in range(10, 10 * draw(st.integers(2, most_items + 1)), 10)
        ]
        for phase in ("20", "30")
    }
