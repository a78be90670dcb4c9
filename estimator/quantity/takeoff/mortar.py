"""Mortar in new brickwork, grout in block, and beam pockets that are filled up.

Mortar for repointing stands in `masonry`.
"""

from __future__ import annotations

import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions

_SQ_IN_PER_SF = 144.0
_CU_IN_PER_CF = 1728.0


def bed_and_head_mortar_cf(
    brick: npt.ArrayLike,
    length_in: npt.ArrayLike,
    width_in: npt.ArrayLike,
    height_in: npt.ArrayLike,
    joint_in: npt.ArrayLike,
) -> Numbers:
    """Return the mortar in full bed and head joints of a wall one brick wide, before waste [cf].

    Parameters
    ----------
    brick : float or array [brick]
        Zero or more.
    length_in, width_in, height_in : float or array [in]
        Of the brick: along the wall, through the wall, and high.
    joint_in : float or array [in]
        Thickness of the joints.

    Notes
    -----
    V = n w j (l + j + h) / 1728: under each brick a bed as long as brick and joint, beside it a
    head as high as the brick. Between two wythes comes a collar joint: `concrete.slab_cf` of the
    face and the joint's thickness. Waste of mortar is large; it is added by the assembly.

    Examples
    --------
    >>> round(bed_and_head_mortar_cf(1000, 7.625, 3.625, 2.25, 0.375), 1)
    8.1
    """
    number, length, width, height, joint = dimensions(
        brick=brick, length_in=length_in, width_in=width_in, height_in=height_in,
        joint_in=joint_in, may_be_zero=("brick",),
    )  # fmt: skip
    return number * width * joint * (length + joint + height) / _CU_IN_PER_CF


def cell_grout_cf(
    cells: npt.ArrayLike, cell_sq_in: npt.ArrayLike, height_ft: npt.ArrayLike
) -> Numbers:
    """Return the grout that fills upright cells of block, before waste [cf].

    Parameters
    ----------
    cells : float or array
        How many are filled; zero or more.
    cell_sq_in : float or array [sq in]
        Of one cell, seen from above: measure the block, makers differ.
    height_ft : float or array [ft]
        That the cells are filled to.

    Examples
    --------
    >>> cell_grout_cf(12, 30, 8)
    20.0
    """
    number, cell, height = dimensions(
        cells=cells, cell_sq_in=cell_sq_in, height_ft=height_ft, may_be_zero=("cells",)
    )
    return number * cell * height / _SQ_IN_PER_SF


def pocket_fill_cf(
    pockets: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    height_ft: npt.ArrayLike,
    depth_ft: npt.ArrayLike,
) -> Numbers:
    """Return the space of beam pockets that are filled up [cf].

    Parameters
    ----------
    pockets : float or array [pocket]
        Zero or more.
    width_ft, height_ft, depth_ft : float or array [ft]
        Of one pocket, after loose brick is taken out.

    Examples
    --------
    >>> pocket_fill_cf(12, 1, 1.5, 0.5)
    9.0
    """
    number, width, height, depth = dimensions(
        pockets=pockets, width_ft=width_ft, height_ft=height_ft, depth_ft=depth_ft,
        may_be_zero=("pockets",),
    )  # fmt: skip
    return number * width * height * depth
