"""Joints of a wall face, and mortar for repointing. How many brick or block: `brickwork`.

Old soft brick wants a soft lime mortar, raked and packed by hand: hard cement mortar and grinders
break its edges (NPS Preservation Brief 2). Dust from cut mortar is silica: 29 CFR 1926.1153.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions

_SQ_IN_PER_SF = 144.0


def joint_lf_per_sf(
    nominal_length_in: npt.ArrayLike,
    nominal_height_in: npt.ArrayLike,
    unit_height_in: npt.ArrayLike,
) -> Numbers:
    """Return the length of mortar joint in one square foot of wall face [lf/sf].

    Parameters
    ----------
    nominal_length_in, nominal_height_in : float or array [in]
        Of the unit with one joint.
    unit_height_in : float or array [in]
        Of the unit itself, which is the length of its head joint.

    Raises
    ------
    GeometryFaulty
        If a dimension is not positive, or the unit is higher than the unit with its joint.

    Notes
    -----
    One bed joint per course, 12 / h; one head joint per unit, 144 / (l h) x unit height / 12.

    Examples
    --------
    >>> round(joint_lf_per_sf(8, 8 / 3, 2.25), 3)  # modular brick: 4.5 bed and 1.266 head
    5.766
    """
    length, height, unit_height = dimensions(
        nominal_length_in=nominal_length_in, nominal_height_in=nominal_height_in,
        unit_height_in=unit_height_in,
    )  # fmt: skip
    if np.any(np.asarray(unit_height) > np.asarray(height)):
        raise fault(
            GeometryFaulty, "is more than the height with the joint", "swap the two",
            "unit_height_in",
        )  # fmt: skip
    return 12.0 / height + 12.0 * unit_height / (length * height)


def repointing_mortar_cf(
    joint_lf: npt.ArrayLike, joint_width_in: npt.ArrayLike, rake_depth_in: npt.ArrayLike
) -> Numbers:
    """Return the mortar that fills raked-out joints, before waste [cf].

    Parameters
    ----------
    joint_lf : float or array [lf]
        Length of joint to repoint, zero or more.
    joint_width_in, rake_depth_in : float or array [in]
        Raked out to sound mortar, commonly 2 to 2 1/2 times the width.

    Examples
    --------
    >>> round(repointing_mortar_cf(576.5625, 3 / 8, 3 / 4), 3)  # 100 sf of modular brick
    1.126
    """
    length, width, depth = dimensions(
        joint_lf=joint_lf, joint_width_in=joint_width_in, rake_depth_in=rake_depth_in,
        may_be_zero=("joint_lf",),
    )  # fmt: skip
    return length * width * depth / _SQ_IN_PER_SF
