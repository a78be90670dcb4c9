"""Saw blades that old planks and their spikes wear out.

Nails, wires and pipes hide in and under old planks; utilities are shut off before the first cut (29
CFR 1926.850). How much there is to cut: `debris.floor_cut_ft`.
"""

from __future__ import annotations

import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions, whole_count


def blades_needed(cut_ft: npt.ArrayLike, ft_per_blade: npt.ArrayLike) -> Numbers:
    """Return how many saw blades a length of cut wears out [whole blades].

    Parameters
    ----------
    cut_ft : float or array [ft]
        Zero or more.
    ft_per_blade : float or array [ft/blade]
        From the crew's own record where there is one: nails decide.

    Examples
    --------
    >>> blades_needed(36, 30)
    2.0
    """
    cut, life = dimensions(cut_ft=cut_ft, ft_per_blade=ft_per_blade, may_be_zero=("cut_ft",))
    return whole_count(cut / life)


def worn_ft(
    cut_ft: npt.ArrayLike, spikes_hit: npt.ArrayLike, ft_lost_per_spike: npt.ArrayLike
) -> Numbers:
    """Return the length of clean cut that wears a blade like a cut through spikes [ft].

    Parameters
    ----------
    cut_ft : float or array [ft]
        Zero or more.
    spikes_hit : float or array
        In the whole cut; zero or more.
    ft_lost_per_spike : float or array [ft]
        Clean cut that one spike costs the blade; zero if it costs nothing.

    Notes
    -----
    Give the result to `blades_needed` with the life of a blade in clean wood.

    Examples
    --------
    >>> worn_ft(300, 25, 4)
    400.0
    """
    cut, spikes, lost = dimensions(
        cut_ft=cut_ft, spikes_hit=spikes_hit, ft_lost_per_spike=ft_lost_per_spike,
        may_be_zero=("cut_ft", "spikes_hit", "ft_lost_per_spike"),
    )  # fmt: skip
    return cut + spikes * lost
