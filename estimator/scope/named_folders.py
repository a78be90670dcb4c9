"""The folders of rate tables that a scope names."""

from __future__ import annotations

import re
from typing import NamedTuple

from estimator.errors import Faults, quoted
from estimator.scope.located import Located, Section
from estimator.scope.located_reader import LocatedReader
from estimator.scope.scope_reader import SCOPE_KEYS

_FOLDER = re.compile(r"[0-9A-Za-z][0-9A-Za-z_-]{0,60}", re.ASCII)


class NamedFolders(NamedTuple):
    """The folders of rate tables that a scope names, each right beside it; None where it does not.

    Parameters
    ----------
    rates : str or None
        Tables of one's own, over the shipped ones.
    quotes : str or None
        Those of the project, over all others.
    """

    rates: str | None
    quotes: str | None


def named_folders(written: Located, faults: Faults) -> NamedFolders:
    """Return the names of the folders of rate tables that a scope asks for.

    A name that is not that of a folder right beside the scope is noted and counts as none.
    """
    section = LocatedReader(Faults()).section(written, "scope", SCOPE_KEYS)
    return NamedFolders(*(_folder(section, key, faults) for key in NamedFolders._fields))


def _folder(section: Section, key: str, faults: Faults) -> str | None:
    name = LocatedReader(Faults()).text(section, key, required=False)
    if name and not _FOLDER.fullmatch(name):
        faults.add(key, f"{quoted(name)} is not the plain name of a folder beside the scope")
        return None
    return name or None
