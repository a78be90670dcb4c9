"""The value of one input: a measure, several depths to be averaged, or spot depths."""

from __future__ import annotations

from fractions import Fraction

from estimator.assemblies.assembly import AssemblyInput
from estimator.errors import GeometryFaulty, MeasureFaulty, fault, quoted
from estimator.quantity.measures import Measure, read_measure
from estimator.quantity.takeoff.spot_depths import mean_spot_depth
from estimator.quantity.units import Unit, unit
from estimator.scope.input_value import Given
from estimator.scope.located import Listing, Located, Section, Text

SPOTS = "spots"
MOST_SPOTS = 10_000
LARGEST_BASE_VALUE = 10_000_000

_FEET_DIGITS = 6


def given_input(written: Located, asked: AssemblyInput) -> Given:
    """Return the value of an input as it is written in a scope.

    Parameters
    ----------
    written : Text, Listing or Section
        One measure; two or four depths at ends or corners; or `spots` of x, y and depth.
    asked : AssemblyInput
        What the assembly asks for: unit and range.

    Raises
    ------
    MeasureFaulty
        If it is no measure of that kind, or lies outside the range that makes sense.
    GeometryFaulty
        If spot depths describe no surface.
    """
    if isinstance(written, Text):
        given = _measured(written.value, asked.unit)
    else:
        _check_takes_depths(asked)
        given = _averaged(written, asked) if isinstance(written, Listing) else _spots(written)
    _check_range(given, asked)
    return given


def _measured(text: str, wanted: Unit) -> Given:
    measure = read_measure(text, wanted)
    if wanted.is_count and wanted.name != "ls" and measure.value.denominator != 1:
        raise fault(MeasureFaulty, f"{quoted(text)} is not a whole number of {wanted.name}")
    return Given(_base(measure), " ".join(text.split()))


def _base(measure: Measure) -> Fraction:
    return measure.value * measure.unit.factor


def _check_takes_depths(asked: AssemblyInput) -> None:
    if asked.unit.dimension != unit("ft").dimension:
        raise fault(
            MeasureFaulty,
            f"takes one value in {asked.unit.name}",
            "only lengths may be given by several depths",
        )


def _averaged(written: Listing, asked: AssemblyInput) -> Given:
    texts = [part.value for part in written.parts if isinstance(part, Text)]
    if len(texts) != len(written.parts) or len(texts) not in (2, 4):
        raise fault(
            MeasureFaulty,
            f"lists {len(written.parts)} values",
            "give two end depths, four corner depths, or spots",
        )
    depths = [_base(read_measure(text, asked.unit)) for text in texts]
    shown = ", ".join(texts[:-1]) + " and " + texts[-1]
    return Given(sum(depths, Fraction(0)) / len(depths), f"average of {shown}")


def _spots(written: Section) -> Given:
    spots = written.entries.get(SPOTS)
    if set(written.entries) != {SPOTS} or not isinstance(spots, Listing):
        raise fault(
            MeasureFaulty, "is neither a measure nor spots", "write {spots: [[x, y, depth], ...]}"
        )
    if len(spots.parts) > MOST_SPOTS:
        raise fault(MeasureFaulty, f"has more than {MOST_SPOTS:,} spots")
    rows = [_spot(number, spot) for number, spot in enumerate(spots.parts, start=1)]
    x_ft, y_ft, depth_ft = (
        (list(column) for column in zip(*rows, strict=True)) if rows else ([],) * 3
    )
    surface = mean_spot_depth(x_ft, y_ft, depth_ft)
    mean = Fraction(round(float(surface.mean_depth_ft) * 10**_FEET_DIGITS), 10**_FEET_DIGITS)
    return Given(mean, f"mean {float(mean):.2f} ft of {len(rows)} spot depths")


def _spot(number: int, spot: Located) -> tuple[float, float, float]:
    texts = (
        [part.value for part in spot.parts if isinstance(part, Text)]
        if isinstance(spot, Listing)
        else []
    )
    if len(texts) != 3:
        raise fault(GeometryFaulty, f"spot {number} is not x, y and depth")
    x, y, depth = (read_measure(text, unit("ft")).base_value for text in texts)
    return x, y, depth


def _check_range(given: Given, asked: AssemblyInput) -> None:
    value = given.value / asked.unit.factor
    if asked.least is not None and value < Fraction(asked.least):
        raise fault(MeasureFaulty, f"{quoted(given.text)} is too small", _limits(asked))
    if asked.most is not None and value > Fraction(asked.most):
        raise fault(MeasureFaulty, f"{quoted(given.text)} is too large", _limits(asked))
    if given.value > LARGEST_BASE_VALUE:
        raise fault(MeasureFaulty, f"{quoted(given.text)} is too large", "check the unit")


def _limits(asked: AssemblyInput) -> str:
    name = "" if asked.unit.name == "fraction" else f" {asked.unit.name}"
    if asked.least is None:
        return f"expected at most {asked.most:f}{name}"
    if asked.most is None:
        return f"expected at least {asked.least:f}{name}"
    return f"expected {asked.least:f} to {asked.most:f}{name}; check the unit"
