"""Paint, sealers, curing compound and treatments: gallons by coverage, film and edge.

Old paint may hold lead: it is tested before it is sanded, scraped or burned (40 CFR 745 Subpart E,
29 CFR 1926.62).
"""

from __future__ import annotations

import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions

_SF_MIL_PER_GAL = 231.0 / 144.0 * 1000.0
_SF_PER_SY = 9.0


def coating_gal(
    area_sf: npt.ArrayLike,
    coverage_sf_per_gal: npt.ArrayLike,
    coats: npt.ArrayLike = 1.0,
    loss_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the coating for an area [gal].

    Parameters
    ----------
    area_sf : float or array [sf]
        Zero or more.
    coverage_sf_per_gal : float or array [sf/gal]
        Of one coat, on this surface: rough brick and old wood drink.
    coats : float or array
        How many coats.
    loss_fraction : float or array
        Added for what stays in pots, rollers and the wind.

    Notes
    -----
    G = A n (1 + H) / coverage: the loss is added to what is applied. For a share of what is bought
    that reaches the surface ("transfer efficiency" E) the loss is 1/E - 1.

    Examples
    --------
    >>> coating_gal(1250, 250, coats=2, loss_fraction=0.05)
    10.5
    """
    area, coverage, times, loss = dimensions(
        area_sf=area_sf, coverage_sf_per_gal=coverage_sf_per_gal, coats=coats,
        loss_fraction=loss_fraction, may_be_zero=("area_sf",), fractions=("loss_fraction",),
    )  # fmt: skip
    return area * times * (1.0 + loss) / coverage


def film_coverage_sf_per_gal(dry_mils: npt.ArrayLike, solids_fraction: npt.ArrayLike) -> Numbers:
    """Return the area that a gallon covers at a dry film thickness, before loss [sf/gal].

    Parameters
    ----------
    dry_mils : float or array [thousandths of an inch]
        Thickness of the dry film.
    solids_fraction : float or array
        By volume, from the can; above 0.

    Notes
    -----
    231 / 144 x 1000 s / t = 1604.17 s / t.

    Examples
    --------
    >>> round(film_coverage_sf_per_gal(5, 0.65), 1)
    208.5
    """
    mils, solids = dimensions(dry_mils=dry_mils, solids_fraction=solids_fraction)
    dimensions(solids_fraction=solids, fractions=("solids_fraction",))
    return _SF_MIL_PER_GAL * solids / mils


def edged_coating_gal(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    rate_gal_per_sy: npt.ArrayLike,
    loss_fraction: npt.ArrayLike = 0.0,
    edge_ft: npt.ArrayLike = 1.0,
) -> Numbers:
    """Return the coating for a strip that is sprayed beyond both of its edges [gal].

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Of the strip itself, without the overspray.
    rate_gal_per_sy : float or array [gal/sy]
        What the surface takes.
    loss_fraction : float or array
        Handling loss H, added.
    edge_ft : float or array [ft]
        Sprayed beyond each long edge; 1 ft in the manual.

    Raises
    ------
    GeometryFaulty
        If a dimension or the rate is not positive, the edge negative, or the share not from 0 to 1.

    Notes
    -----
    G = L (W + 2) R (1 + H) / 9 with an edge of 1 ft.

    Examples
    --------
    >>> round(edged_coating_gal(15_840, 23, 0.3, 0.05), 6)
    13860.0

    References
    ----------
    US Army FM 5-436, "Paving and Surfacing Operations", para. 6-1.
    """
    length, width, rate, loss, edge = dimensions(
        length_ft=length_ft, width_ft=width_ft, rate_gal_per_sy=rate_gal_per_sy,
        loss_fraction=loss_fraction, edge_ft=edge_ft, may_be_zero=("edge_ft",),
        fractions=("loss_fraction",),
    )  # fmt: skip
    return length * (width + 2.0 * edge) * rate * (1.0 + loss) / _SF_PER_SY
