"""Boards taken up from a floor: how many come up whole, what is trimmed off, what can be relaid.

Counts in boards and feet; in board feet with `timber.board_feet`. What is kept must be named before
the work starts, because a crew that wrecks works faster.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions


@dataclass(frozen=True)
class RecoveredBoards:
    """What became of the boards of a floor, in feet of board.

    Parameters
    ----------
    taken_lf : float or array [lf]
        In the floor as it lay.
    damaged_lf : float or array [lf]
        In boards that split or had rotted: debris.
    trimmed_lf : float or array [lf]
        Cut off the ends of the sound ones: debris.
    usable_lf : float or array [lf]
        Left to be relaid or sold.
    """

    taken_lf: Numbers
    damaged_lf: Numbers
    trimmed_lf: Numbers
    usable_lf: Numbers


def recovered_boards(
    boards: npt.ArrayLike,
    board_ft: npt.ArrayLike,
    damaged_fraction: npt.ArrayLike,
    trimmed_ft: npt.ArrayLike,
) -> RecoveredBoards:
    """Return what becomes of the boards of a floor that is taken up for reuse.

    Parameters
    ----------
    boards : float or array
        Zero or more.
    board_ft : float or array [ft]
        Length of a board.
    damaged_fraction : float or array
        Share of the boards that cannot be used.
    trimmed_ft : float or array [ft]
        Cut off each sound board, both ends together; zero or more.

    Raises
    ------
    GeometryFaulty
        If a number is negative or not finite, the share is not from 0 to 1, or more is trimmed off
        than a board is long.

    Notes
    -----
    usable = n (1 - damaged)(L - trim): short boards lose a larger share to the same trim, so that
    one "recovery" for boards of all lengths is right for none.

    Examples
    --------
    >>> recovered_boards(100, 12, 0.25, 1.0)
    RecoveredBoards(taken_lf=1200.0, damaged_lf=300.0, trimmed_lf=75.0, usable_lf=825.0)
    """
    number, length, damaged, trimmed = dimensions(
        boards=boards, board_ft=board_ft, damaged_fraction=damaged_fraction, trimmed_ft=trimmed_ft,
        may_be_zero=("boards", "trimmed_ft"), fractions=("damaged_fraction",),
    )  # fmt: skip
    if np.any(np.asarray(trimmed) > np.asarray(length)):
        raise fault(GeometryFaulty, "is more than a board is long", "check its unit", "trimmed_ft")
    sound = number * (1.0 - damaged)
    return RecoveredBoards(
        number * length, number * damaged * length, sound * trimmed, sound * (length - trimmed)
    )


def usable_board_lf(
    boards: npt.ArrayLike,
    board_ft: npt.ArrayLike,
    damaged_fraction: npt.ArrayLike,
    trimmed_ft: npt.ArrayLike,
) -> Numbers:
    """Return the feet of board that can be relaid: `recovered_boards`, its last figure [lf].

    Parameters
    ----------
    boards : float or array
        How many are taken up.
    board_ft : float or array [ft]
        Length of one.
    damaged_fraction : float or array
        Share of the boards that is lost.
    trimmed_ft : float or array [ft]
        Cut off each sound board.

    Raises
    ------
    GeometryFaulty
        As `recovered_boards` does.

    Examples
    --------
    >>> usable_board_lf(100, 12, 0.25, 1.0)
    825.0
    """
    return recovered_boards(boards, board_ft, damaged_fraction, trimmed_ft).usable_lf
