"""The value of one input: a measure, several depths to be averaged, or spot depths."""

from __future__ import annotations

from fractions import Fraction

from estimator.assemblies.assembly import AssemblyInput
from estimator.digests import canonical_digest
from estimator.errors import GeometryFaulty, MeasureFaulty, fault, quoted
from estimator.quantity.depth_profile import end_depths
from estimator.quantity.measures import Measure, read_measure, refuse_bare_percent
from estimator.quantity.takeoff.spot_depths import mean_spot_depth, spot_profile
from estimator.quantity.units import UNREADABLE, Unit, unit
from estimator.scope.input_value import AS_LONG, UNTIL, InputValue
from estimator.scope.located import Listing, Located, Section, Text

SPOTS = "spots"
MOST_SPOTS = 10_000
LARGEST_BASE_VALUE = 10_000_000

_FEET_DIGITS = 6


def read_input(written: Located, wanted: AssemblyInput) -> InputValue:
    """Return the value of an input as it is written in a scope.

    Parameters
    ----------
    written : Text, Listing or Section
        One measure; two or four depths at ends or corners; `spots` of x, y and depth; `along`, a
        time that lasts as long as the work that the item runs along; or `until` with the code of a
        phase or item, whose end ends it. Not looked at where the unit of the assembly's own table
        could not be read.
    wanted : AssemblyInput
        What the assembly asks for: unit and range.

    Raises
    ------
    MeasureFaulty
        If it is not a measure of that kind, or lies outside the range that makes sense.
    GeometryFaulty
        If spot depths describe no surface.
    """
    if wanted.unit == UNREADABLE:
        return InputValue(Fraction(1), "")
    if isinstance(written, Text):
        word, _, until = written.value.strip().partition(" ")
        if written.value.strip().lower() == AS_LONG or (word.lower() == UNTIL and until):
            return _along(wanted, until.strip())
        entered = _measured(written.value, wanted.unit)
    else:
        _check_takes_depths(wanted)
        entered = _averaged(written, wanted) if isinstance(written, Listing) else _spots(written)
    _check_range(entered, wanted)
    return entered


def _along(wanted: AssemblyInput, until: str) -> InputValue:
    """Return a time that the dates will say; before that, one unit of it."""
    text = f"{UNTIL} {until}" if until else AS_LONG
    if wanted.unit.dimension != unit("day").dimension:
        what = f"{quoted(text)} is not a measure in {wanted.unit.name}"
        raise fault(MeasureFaulty, what, "only a time may last as long as other work")
    return InputValue(Fraction(wanted.unit.factor), text, is_along=True, until=until)


def _measured(text: str, wanted: Unit) -> InputValue:
    measure = read_measure(text, wanted)
    if wanted.is_count and wanted.name != "ls" and measure.value.denominator != 1:
        raise fault(MeasureFaulty, f"{quoted(text)} is not a whole number of {wanted.name}")
    return InputValue(_base(measure), " ".join(text.split()))


def _base(measure: Measure) -> Fraction:
    return measure.value * measure.unit.factor


def _check_takes_depths(wanted: AssemblyInput) -> None:
    if wanted.unit.dimension != unit("ft").dimension:
        raise fault(
            MeasureFaulty,
            f"takes one value in {wanted.unit.name}",
            "only lengths may be given by several depths",
        )


def _averaged(written: Listing, wanted: AssemblyInput) -> InputValue:
    texts = [part.value for part in written.parts if isinstance(part, Text)]
    if len(texts) != len(written.parts) or len(texts) not in (2, 4):
        raise fault(
            MeasureFaulty,
            f"lists {len(written.parts)} values",
            "give two end depths, four corner depths, or spots",
        )
    depths = [_base(read_measure(text, wanted.unit)) for text in texts]
    shown = ", ".join(texts[:-1]) + " and " + texts[-1]
    mean, floats = sum(depths, Fraction(0)) / len(depths), [float(one) for one in depths]
    profile = end_depths(floats) if min(floats) >= 0.0 and len(set(floats)) > 1 else None
    return InputValue(mean, f"average of {shown}", profile)


def _spots(written: Section) -> InputValue:
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
    profile = spot_profile(x_ft, y_ft, depth_ft) if surface.volume_cf else None
    digest = canonical_digest("spots 1", [list(row) for row in rows])
    mean = Fraction(round(float(surface.mean_depth_ft) * 10**_FEET_DIGITS), 10**_FEET_DIGITS)
    return InputValue(
        mean, f"mean {float(mean):.2f} ft of {len(rows)} spot depths", profile, digest
    )


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


def _check_range(entered: InputValue, wanted: AssemblyInput) -> None:
    low, high = wanted.float_range
    if low < entered.base_value < min(high, LARGEST_BASE_VALUE):
        return  # a float is on the side of its exact value, or on the limit itself
    least, most = wanted.base_range
    if most is not None and entered.value > most:
        factor = wanted.unit.factor
        refuse_bare_percent(entered.text, entered.value / factor, wanted.unit, most / factor)
        raise fault(MeasureFaulty, f"{quoted(entered.text)} is too large", _limits(wanted))
    if least is not None and entered.value < least:
        raise fault(MeasureFaulty, f"{quoted(entered.text)} is too small", _limits(wanted))
    if entered.value > LARGEST_BASE_VALUE:
        raise fault(MeasureFaulty, f"{quoted(entered.text)} is too large", "check the unit")


def _limits(wanted: AssemblyInput) -> str:
    name = "" if wanted.unit.name == "fraction" else f" {wanted.unit.name}"
    if wanted.least is None:
        return f"expected at most {wanted.most:f}{name}"
    if wanted.most is None:
        return f"expected at least {wanted.least:f}{name}"
    return f"expected {wanted.least:f} to {wanted.most:f}{name}; check the unit"
