"""Forms for concrete: the area that the concrete touches, and the boards for it.

Formwork bears wet concrete: its design, bracing and shores follow ACI 347 and 29 CFR 1926.703.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions

_IN_PER_FT = 12.0


def wall_form_sf(
    length_ft: npt.ArrayLike, height_ft: npt.ArrayLike, faces: npt.ArrayLike = 2.0
) -> Numbers:
    """Return the contact area of forms along a wall or strip footing [sf].

    Parameters
    ----------
    length_ft, height_ft : float or array [ft]
        Of one face.
    faces : float or array
        2, or 1 where the other face is cast against earth or an old wall.

    Notes
    -----
    Openings are not taken out: they are boxed out on the form, and cost boards of their own.

    Examples
    --------
    >>> wall_form_sf(40, 1)
    80.0
    """
    length, height, sides = dimensions(length_ft=length_ft, height_ft=height_ft, faces=faces)
    return length * height * sides


def edge_form_sf(length_ft: npt.ArrayLike, thickness_in: npt.ArrayLike) -> Numbers:
    """Return the contact area of the form along a slab's edge [sf].

    Parameters
    ----------
    length_ft : float or array [ft]
        Of free edge and of construction joints.
    thickness_in : float or array [in]
        Of the slab at the edge, thickening included.

    Examples
    --------
    >>> edge_form_sf(165, 4)
    55.0
    """
    length, thickness = dimensions(length_ft=length_ft, thickness_in=thickness_in)
    return length * thickness / _IN_PER_FT


def pad_form_sf(
    length_ft: npt.ArrayLike, width_ft: npt.ArrayLike, height_ft: npt.ArrayLike
) -> Numbers:
    """Return the contact area of forms around one pad, pier or column [sf].

    Parameters
    ----------
    length_ft, width_ft, height_ft : float or array [ft]
        Of one pad.

    Notes
    -----
    2 (l + w) h. A round pier takes a tube, by its length.

    Examples
    --------
    >>> pad_form_sf(3, 3, 1)
    12.0
    """
    length, width, height = dimensions(length_ft=length_ft, width_ft=width_ft, height_ft=height_ft)
    return 2.0 * (length + width) * height


def beam_form_sf(
    length_ft: npt.ArrayLike, width_ft: npt.ArrayLike, depth_ft: npt.ArrayLike
) -> Numbers:
    """Return the contact area of forms under and beside a beam [sf].

    Parameters
    ----------
    length_ft : float or array [ft]
        Clear between supports.
    width_ft : float or array [ft]
        Of the soffit.
    depth_ft : float or array [ft]
        Below the slab it carries, or of the whole beam.

    Examples
    --------
    >>> beam_form_sf(12, 1, 1.5)
    48.0
    """
    length, width, depth = dimensions(length_ft=length_ft, width_ft=width_ft, depth_ft=depth_ft)
    return length * (width + 2.0 * depth)


def form_lumber_bf(
    contact_sf: npt.ArrayLike,
    bf_per_sf: npt.ArrayLike,
    uses: npt.ArrayLike = 1.0,
    loss_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the lumber to buy for forms that are used several times [bf].

    Parameters
    ----------
    contact_sf : float or array [sf]
        Of all pours together; zero or more.
    bf_per_sf : float or array [bf/sf]
        Sheathing, studs, wales and braces for a square foot of contact.
    uses : float or array
        How many times the forms are set; at least 1.
    loss_fraction : float or array
        Of the lumber, that each use after the first must replace.

    Raises
    ------
    GeometryFaulty
        If lumber or uses are not positive, uses are below one, or a share is not from 0 to 1.

    Notes
    -----
    bf = A b (1 + (n - 1) loss) / n: what is built once, and its repair for each further use.

    Examples
    --------
    >>> form_lumber_bf(800, 2.5, uses=4, loss_fraction=0.1)
    650.0
    """
    contact, lumber, times, loss = dimensions(
        contact_sf=contact_sf, bf_per_sf=bf_per_sf, uses=uses, loss_fraction=loss_fraction,
        may_be_zero=("contact_sf",), fractions=("loss_fraction",),
    )  # fmt: skip
    if np.any(np.asarray(times) < 1.0):
        raise fault(GeometryFaulty, "are below one", "forms are used once at least", "uses")
    return contact * lumber * (1.0 + (times - 1.0) * loss) / times
