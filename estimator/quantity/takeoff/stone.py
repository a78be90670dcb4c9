"""Swell and shrinkage, and the weight of a fill.

Stone is bought by the ton, as it lies loose on the truck with the water it holds, and is drawn by
the cubic foot in place. What a ton fills comes from the quarry or a weighed load.
"""

from __future__ import annotations

import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions, whole_count


def swell_fraction(bank_lb_per_cy: npt.ArrayLike, loose_lb_per_cy: npt.ArrayLike) -> Numbers:
    """Return by how much earth grows when it is dug, as a share of its bank volume.

    Parameters
    ----------
    bank_lb_per_cy, loose_lb_per_cy : float or array [lb/cy]
        Weight of a cubic yard in place, and dug.

    Notes
    -----
    bank / loose - 1. Below zero for what packs tighter when dumped, which hardly any earth does.

    Examples
    --------
    >>> round(swell_fraction(2800, 2295), 2)
    0.22
    """
    bank, loose = dimensions(bank_lb_per_cy=bank_lb_per_cy, loose_lb_per_cy=loose_lb_per_cy)
    return bank / loose - 1.0


def shrinkage_fraction(
    bank_lb_per_cy: npt.ArrayLike, compacted_lb_per_cy: npt.ArrayLike
) -> Numbers:
    """Return by how much earth shrinks when it is compacted, as a share of its bank volume.

    Parameters
    ----------
    bank_lb_per_cy, compacted_lb_per_cy : float or array [lb/cy]
        Weight of a cubic yard in place, and compacted.

    Notes
    -----
    1 - bank / compacted. Below zero for rock, which fills more than it left.

    Examples
    --------
    >>> round(shrinkage_fraction(2800, 3256), 2)
    0.14
    """
    bank, compacted = dimensions(
        bank_lb_per_cy=bank_lb_per_cy, compacted_lb_per_cy=compacted_lb_per_cy
    )
    return 1.0 - bank / compacted


def fill_lb(
    volume_cf: npt.ArrayLike,
    loose_lb_per_cf: npt.ArrayLike,
    settlement_fraction: npt.ArrayLike = 0.0,
    moisture_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the weight of stone that fills a volume in place [lb].

    Parameters
    ----------
    volume_cf : float or array [cf, in place]
        As drawn; may be zero.
    loose_lb_per_cf : float or array [lb per loose cf, dry]
        Weight before compaction.
    settlement_fraction : float or array
        Loose volume in excess of the volume in place: 0.10 if 1.10 cf loose fill 1 cf.
    moisture_fraction : float or array
        Weight of the water that is weighed with the load, by dry weight.

    Notes
    -----
    W = V (1 + s) gamma (1 + w): settlement takes more stone, moisture only weighs more.

    Examples
    --------
    >>> round(fill_lb(1031.25, 2600 / 27, settlement_fraction=0.10) / 2000, 1)  # tons
    54.6
    """
    volume, density, settlement, moisture = dimensions(
        volume_cf=volume_cf, loose_lb_per_cf=loose_lb_per_cf,
        settlement_fraction=settlement_fraction, moisture_fraction=moisture_fraction,
        may_be_zero=("volume_cf",), fractions=("settlement_fraction", "moisture_fraction"),
    )  # fmt: skip
    return volume * (1.0 + settlement) * density * (1.0 + moisture)


def lift_count(depth_ft: npt.ArrayLike, lift_ft: npt.ArrayLike) -> Numbers:
    """Return in how many lifts a fill is placed [whole lifts].

    Parameters
    ----------
    depth_ft : float or array [ft]
        Greatest depth, in place; may be zero.
    lift_ft : float or array [ft]
        Greatest thickness of a lift that the compactor reaches, or the fluid fill allows.

    Examples
    --------
    >>> lift_count(7.25, 0.5)
    15.0
    """
    depth, lift = dimensions(depth_ft=depth_ft, lift_ft=lift_ft, may_be_zero=("depth_ft",))
    return whole_count(depth / lift)
