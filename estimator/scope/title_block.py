"""The title block: of which building an estimate is, for whom, by whom, and which revision."""

from __future__ import annotations

from dataclasses import astuple, dataclass

TITLE_KEYS = ("address", "prepared_for", "prepared_by", "revision")
_LABELS = ("Address", "Prepared for", "Prepared by", "Revision")


@dataclass(frozen=True)
class TitleBlock:
    """What stands under the name of the project; a text that is empty is not printed.

    Parameters
    ----------
    address : str
        Of the building.
    prepared_for, prepared_by : str
        Who ordered the estimate, and who made it.
    revision : str
        Which issue of the estimate it is, in the words of whoever made it.
    """

    address: str = ""
    prepared_for: str = ""
    prepared_by: str = ""
    revision: str = ""

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """Label and text of each line that is printed.

        Examples
        --------
        >>> TitleBlock(address="14 Harrow Lane", revision="B").lines
        (('Address', '14 Harrow Lane'), ('Revision', 'B'))
        """
        return tuple(line for line in zip(_LABELS, astuple(self), strict=True) if line[1])


NO_TITLE = TitleBlock()
